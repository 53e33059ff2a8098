"""Writers take turns; one that is stuck in another process makes the others give up in time, with nothing changed."""

import fcntl
from pathlib import Path

import pytest

from portal.store.engine import database
from portal.store.engine.database import write
from portal.store.refusals import Busy
from portal.store.tables import Room
from tests.house import House


def test_a_process_that_never_gives_up_its_turn_is_waited_for_only_so_long(
    house: House, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database, "_TURN_SECONDS", 0.05)
    with (tmp_path / "portal.db.turn").open("w") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        with pytest.raises(Busy), write():
            Room.update(name="Never").execute()
    assert not Room.select().where(Room.name == "Never").exists()
    with write():
        Room.update(position=7).execute()
    assert {room.position for room in Room.select()} == {7}
