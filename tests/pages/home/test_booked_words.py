"""The booked day of a phase, and whether it can hold."""

from datetime import date

from portal.pages.home.booked_words import booked_words
from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at


def said(house: House, phase: str, today: date = date(2026, 12, 2)) -> str:
    snapshot = read_snapshot(house.project)
    return booked_words(snapshot, outlook_of(snapshot, schedule_of(snapshot, NOW)), house.phases[phase], today)


def book(house: House, phase: str, day: str) -> None:
    tables.Visit.create(
        project=house.project, phase=house.phases[phase], crew="Tile crew", purpose="Tile",
        starts_at=at(f"{day}T08:00"), ends_at=at(f"{day}T12:00"),
    )


def test_of_several_visits_the_next_is_named(house: House) -> None:
    book(house, "top", "2026-12-21")
    assert said(house, "top") == "booked for Thu Dec 3"
    assert said(house, "top", date(2026, 12, 3)) == "booked for Thu Dec 3"
    assert said(house, "top", date(2026, 12, 4)) == "booked for Mon Dec 21"


def test_what_is_booked_no_more_is_not_named(house: House) -> None:
    assert said(house, "top", date(2026, 12, 4)) == ""


def test_a_day_that_comes_too_early_is_said_to(house: House) -> None:
    tables.Visit.delete().execute()
    book(house, "drill", "2026-12-02")
    assert said(house, "drill").startswith("booked for Wed Dec 2, but it can’t start before ")
