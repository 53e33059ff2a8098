"""`portal demo`, started as anyone would start it, with its first line read."""

import json
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.deploy.site import free_port

SECONDS_TO_START = 180


@contextmanager
def running_demo(
    data: Path, command: list[str] | None = None, folder: Path | None = None, port: int = 0
) -> Iterator[dict[str, Any]]:
    """Yields the JSON of `portal demo --json`: base, project, pages, desk, manager_token, office_token, the sign-in.
    `command` is another `portal` than ours, `folder` where it is started."""
    log = data.parent / "demo.log"
    portal = command or [str(Path(sys.executable).parent / "portal")]
    with log.open("w") as errors:
        process = subprocess.Popen(
            [*portal, "demo", "--json", "--port", str(port or free_port()), "--data", str(data)],
            cwd=folder, stdout=subprocess.PIPE, stderr=errors, text=True,
        )  # fmt: skip
    try:
        yield _first_line(process, log)
    finally:
        process.terminate()
        try:
            process.communicate(timeout=20)
        except subprocess.TimeoutExpired:
            process.kill()
            process.communicate()


def _first_line(process: subprocess.Popen[str], log: Path) -> dict[str, Any]:
    assert process.stdout
    overdue = threading.Timer(SECONDS_TO_START, process.kill)
    overdue.start()
    line = process.stdout.readline()
    overdue.cancel()
    assert line, f"portal demo said nothing within {SECONDS_TO_START} seconds, or stopped:\n{log.read_text()}"
    said: dict[str, Any] = json.loads(line)
    return said
