"""A small sample of `bash tests/long load`: people read and answer while one thing after the other goes wrong."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_under_each_fault_in_turn_every_page_is_read_and_nothing_acknowledged_is_lost() -> None:
    size = ["--houses", "6", "--readers", "6", "--writers", "2", "--seconds", "9", "--disk", "100"]
    command = [sys.executable, "-m", "tests.load.run", *size, "--faults"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=240, check=False)
    assert done.returncode == 0, done.stdout + done.stderr[-2000:]
    assert "over: service killed" in done.stdout and "approvals acknowledged 0" not in done.stdout
