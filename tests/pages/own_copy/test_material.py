"""As of when a copy is: with the last change that has a time, or since the day began."""

import dataclasses
import json
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from portal.pages.own_copy.material import Material
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, ZONE, House, at


@pytest.fixture
def snapshot(house: House) -> Snapshot:
    return dataclasses.replace(read_snapshot(house.project), updates=())


def material(snapshot: Snapshot, *changes: str, now: int = NOW) -> Material:
    """With an entry of the record at each of these times by the clock at the house."""
    times = [datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(ZONE)).isoformat() for text in changes]
    entries = [(n, "0" * 64, json.dumps({"at": text}).encode()) for n, text in enumerate(times, 1)]
    return Material(snapshot, entries, [], [], {}, b"", now)


def test_a_day_without_a_change_begins_at_midnight_at_the_house(snapshot: Snapshot) -> None:
    quiet = material(snapshot, "2026-12-01T09:00")
    assert quiet.as_of == at("2026-12-02T00:00") and quiet.as_of_words == "Wednesday, December 2, 2026"
    assert material(snapshot).as_of == at("2026-12-02T00:00")
    assert quiet.zone == ZONE


def test_the_last_change_of_the_day_is_named_with_its_time(snapshot: Snapshot) -> None:
    changed = material(snapshot, "2026-12-02T07:20", "2026-12-02T06:00")
    assert changed.as_of == at("2026-12-02T07:20")
    assert changed.as_of_words.replace("\u00a0", " ") == "Wednesday, December 2, 2026, 7:20 am"


def test_an_update_is_a_change_too(house: House) -> None:
    told = read_snapshot(house.project)
    newest = max(update.at for update in told.updates)
    day = datetime.fromtimestamp(newest, ZoneInfo(ZONE)).replace(hour=23, minute=0)
    assert material(told, now=int(day.timestamp())).as_of == newest


def test_a_change_of_a_clock_that_runs_ahead_is_not_in_the_future(snapshot: Snapshot) -> None:
    assert material(snapshot, "2026-12-02T09:00").as_of == NOW
    midnight = at("2026-12-02T00:00")
    assert material(snapshot, "2026-12-02T09:00", now=midnight).as_of == midnight


def test_two_copies_on_one_day_are_as_of_the_same_moment(snapshot: Snapshot) -> None:
    hours = [material(snapshot, "2026-12-02T07:20", now=NOW + n * 3600).as_of for n in range(16)]
    assert set(hours) == {at("2026-12-02T07:20")}
    assert material(snapshot, "2026-12-02T07:20", now=NOW + 17 * 3600).as_of == at("2026-12-03T00:00")
