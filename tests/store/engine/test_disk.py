"""Locks that don't hang for good, and names in a folder that are on the disk."""

import fcntl
import os
from pathlib import Path

import pytest

from portal.store.engine.disk import lock, sync_folder
from portal.store.refusals import Busy


def test_a_lock_that_another_holds_is_waited_for_and_then_given_up(tmp_path: Path) -> None:
    mine, theirs = (os.open(tmp_path / "turn", os.O_RDWR | os.O_CREAT) for _ in range(2))
    lock(theirs, 0.1, 0.01)
    with pytest.raises(Busy):
        lock(mine, 0.05, 0.01)
    fcntl.flock(theirs, fcntl.LOCK_UN)
    lock(mine, 0.05, 0.01)
    for handle in (mine, theirs):
        os.close(handle)


def test_a_folder_is_synced_and_left_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("a")
    sync_folder(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["a"]
    with pytest.raises(FileNotFoundError):
        sync_folder(tmp_path / "none")
