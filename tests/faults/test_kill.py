"""kill -9 in the middle of it: what was acknowledged is in the record exactly once, the rest wholly or not at all.

Five hundred kills of a writer that approves, asks again and publishes; and a few of the real server, which takes
seconds to start. `bash tests/faults/run_kills` kills that one five hundred times, too.
"""

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def killing(module: str, folder: Path, kills: int) -> dict[str, int]:
    """Runs in a process of its own, because it forks; every check that fails there fails here, with its words."""
    command = [sys.executable, "-m", f"tests.faults.{module}", str(folder), str(kills)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=600, check=False)
    assert done.returncode == 0, done.stderr[-4000:]
    told: dict[str, int] = json.loads(done.stdout.splitlines()[-1])
    return told


def test_a_writer_killed_five_hundred_times_loses_and_doubles_nothing(tmp_path: Path) -> None:
    told = killing("kennel", tmp_path, 500)
    assert told["kills"] == 500
    assert told["acknowledged"] > 500
    assert told["kept_unacknowledged"] > 0, "no kill came between the commit and the answer: kill at other moments"


def test_the_server_killed_under_a_household_that_approves_loses_and_doubles_nothing(tmp_path: Path) -> None:
    told = killing("served_kills", tmp_path, 5)
    assert told["acknowledged"] > 0
