"""So many at a time over all processes, few waiting, and whoever dies leaves."""

import subprocess
import sys
import threading
from pathlib import Path

import pytest

from portal.store.engine.slots import Slots
from portal.store.refusals import Busy, CannotWrite

_HOLD = (
    "import sys; from pathlib import Path; from portal.store.engine.slots import Slots\n"
    "with Slots('s', many=2, waiting=0, seconds=5).taken(Path(sys.argv[1])):\n"
    "    print('in', flush=True); sys.stdin.read()"
)


def holding(folder: Path) -> "subprocess.Popen[str]":
    other = subprocess.Popen([sys.executable, "-c", _HOLD, str(folder)], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                             text=True)  # fmt: skip
    assert other.stdout is not None and other.stdout.readline() == "in\n"
    return other


def test_slots_are_shared_with_other_processes_and_free_when_one_dies(tmp_path: Path) -> None:
    slots = Slots("s", many=2, waiting=1, seconds=0.05)
    with holding(tmp_path) as other, slots.taken(tmp_path):
        with pytest.raises(Busy), slots.taken(tmp_path):
            pass
        other.kill()
        other.wait()
        with slots.taken(tmp_path):
            pass


def test_a_slot_is_free_again_whatever_happened_in_it(tmp_path: Path) -> None:
    slots = Slots("s", many=1, waiting=0, seconds=0.05)
    for _ in range(3):
        with pytest.raises(ZeroDivisionError), slots.taken(tmp_path):
            raise ZeroDivisionError
    with slots.taken(tmp_path), pytest.raises(Busy), slots.taken(tmp_path):
        pass


def test_whoever_waits_gets_in_when_one_leaves(tmp_path: Path) -> None:
    slots, got_in = Slots("s", many=1, waiting=1, seconds=5), threading.Event()

    def wait() -> None:
        with slots.taken(tmp_path):
            got_in.set()

    with slots.taken(tmp_path):
        thread = threading.Thread(target=wait)
        thread.start()
        assert not got_in.wait(0.05)
    thread.join(5)
    assert got_in.is_set()


def test_no_longer_than_was_said(tmp_path: Path) -> None:
    slots = Slots("s", many=1, waiting=1, seconds=0.05)
    with slots.taken(None), pytest.raises(Busy), slots.taken(None):
        pass


def test_a_folder_that_can_not_be_written_is_said(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite), Slots("s", many=1, waiting=0, seconds=1).taken(tmp_path / "none"):
        pass
