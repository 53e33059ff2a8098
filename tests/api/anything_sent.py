"""The API is sent all that its description allows, and what it does not: `python -m tests.api.anything_sent [CASES]`.

schemathesis makes the cases out of the description, as each role, with every check it has, with sequences of requests
that follow from each other. What it finds is printed and ends with status 1, but for what no description can say:

- `positive_data_acceptance`: names that are taken, ids of nobody and dates that contradict each other fit the schema.
- a missing If-Match is refused with 428 (RFC 6585), which the tool does not expect.
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.browser.demo import running_demo

CONFIG = """[checks]
missing_required_header.expected-statuses = [400, 401, 403, 406, 415, 422, 428]
positive_data_acceptance.enabled = false
"""
ROLES = ("manager", "office", "homeowner", "nobody")
_OPERATIONS = 129


def send(cases: int) -> bool:
    """About so many cases as each role; whether nothing was found."""
    each = max(1, cases // (_OPERATIONS * 2))
    with tempfile.TemporaryDirectory() as place, running_demo(Path(place) / "data") as said:
        (Path(place) / "schemathesis.toml").write_text(CONFIG)
        found = [_as(role, said, Path(place), each) for role in ROLES]  # each is tried, whatever the first one finds
    return all(found)


def _as(role: str, said: dict, place: Path, each: int) -> bool:  # type: ignore[type-arg]
    bearer = {"manager": said["manager_token"], "office": said["office_token"], "nobody": "",
              "homeowner": said["pages"][0].rstrip("/").rpartition("/")[2]}[role]
    command = [
        Path(sys.executable).with_name("schemathesis"), "run", f"{said['base']}/api/v1/openapi.json", "-u",
        said["base"], "-n", str(each), "--continue-on-failure", "--no-shrink", "--suppress-health-check", "all",
        "--request-timeout", "60", "--generation-database", "none", "--warnings", "off", "--no-color",
        *(["-H", f"Authorization: Bearer {bearer}"] if bearer else []),
    ]
    done = subprocess.run(command, cwd=place, capture_output=True, text=True, check=False)
    many = re.search(r"(\d+) generated", done.stdout)
    print(f"{role}: {many[1] if many else 'no'} cases, {'found:' if done.returncode else 'nothing found'}", flush=True)
    if done.returncode:
        print(done.stdout[-6000:], done.stderr[-2000:])
    return done.returncode == 0


if __name__ == "__main__":
    sys.exit(0 if send(int(sys.argv[1]) if len(sys.argv) > 1 else 5000) else 1)
