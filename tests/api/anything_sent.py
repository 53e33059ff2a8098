"""The API is sent all that its description allows, and what it does not: `python -m tests.api.anything_sent [CASES]
[ROLE ...]`.

schemathesis makes the cases out of the description, as each role, with every check it has, with sequences of requests
that follow from each other; each role gets a demo of its own, so that none finds what another one took away. The
demo's household has no designer and nobody who only looks on: the office takes them in. What is found is printed and
ends with status 1, but for what no description can say:

- `positive_data_acceptance`: names that are taken, ids of nobody and dates that contradict each other fit the schema.
- a missing If-Match is refused with 428 (RFC 6585), which the tool does not expect.
"""

import json
import re
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

from tests.browser.demo import running_demo

CONFIG = """[checks]
missing_required_header.expected-statuses = [400, 401, 403, 406, 415, 422, 428]
positive_data_acceptance.enabled = false
"""
INVITED: dict[str, dict[str, Any]] = {
    "designer": {"name": "Ines Calder", "role": "designer"},
    "onlooker": {"name": "Tobias Okafor", "role": "homeowner", "may_approve": False},
}
ROLES = ("nobody", "onlooker", "designer", "homeowner", "office", "manager")


def send(cases: int, roles: tuple[str, ...] = ROLES) -> bool:
    """About so many cases as each role; whether nothing was found."""
    found = [_sent(role, cases) for role in roles]  # each is tried, whatever the first one finds
    return all(found)


def _sent(role: str, cases: int) -> bool:
    with tempfile.TemporaryDirectory() as place, running_demo(Path(place) / "data") as said:
        (Path(place) / "schemathesis.toml").write_text(CONFIG)
        return _as(role, _bearer(role, said), said["base"], Path(place), cases)


def _bearer(role: str, said: dict[str, Any]) -> str:
    if role in INVITED:
        people = f"{said['base']}/api/v1/projects/{said['project']}/people"
        person = _post(people, said["office_token"], INVITED[role])
        return _of_link(_post(f"{people}/{person['id']}/link", said["office_token"], None)["link"])
    return {"manager": said["manager_token"], "office": said["office_token"], "nobody": "",
            "homeowner": _of_link(said["pages"][0])}[role]  # fmt: skip


def _post(address: str, token: str, values: dict[str, Any] | None) -> dict[str, Any]:
    body = b"" if values is None else json.dumps(values).encode()
    heads = {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
    with urlopen(Request(address, body, heads), timeout=20) as answer:
        made: dict[str, Any] = json.load(answer)
    return made


def _of_link(address: str) -> str:
    return address.rstrip("/").rpartition("/")[2]


def _operations(description: str) -> int:
    with urlopen(description, timeout=20) as answer:
        paths = json.load(answer)["paths"]
    return sum(method in one for one in paths.values() for method in ("get", "post", "put", "patch", "delete"))


def _as(role: str, bearer: str, base: str, place: Path, cases: int) -> bool:
    description = f"{base}/api/v1/openapi.json"
    each = max(1, cases // (_operations(description) * 2))
    command = [
        Path(sys.executable).with_name("schemathesis"), "run", description, "-u",
        base, "-n", str(each), "--continue-on-failure", "--no-shrink", "--suppress-health-check", "all",
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
    sent_cases, *sent_roles = sys.argv[1:] or ["5000"]
    sys.exit(0 if send(int(sent_cases), tuple(sent_roles) or ROLES) else 1)
