"""A crew that is booked elsewhere can't come; what is cancelled, over, or of another crew is in nobody's way."""

from typing import Any

import pytest

from portal.planning.conflicts.unkept_visits import CREW_TWICE, Conflict
from portal.store import tables
from portal.store.reading.clashes import conflicts_in
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at

# The stone crew is booked in the house from 9 am to 2 pm.
TOP = ("2026-12-03T09:00", "2026-12-03T14:00")


def elsewhere(house: House, starts: str, ends: str, **values: Any) -> int:
    known = {"project": house.other_project, "crew": "Stone crew", "purpose": "Template", "phase": None}
    row = tables.Visit.create(**known | values, starts_at=at(starts), ends_at=at(ends))
    return int(row.id)


def clashes(house: House, now: int = NOW, project: int | None = None) -> list[Conflict]:
    project = project or house.project
    found = conflicts_in(schedule_of(read_snapshot(project), now), project)
    return [one for one in found if one.kind == CREW_TWICE]


def test_nobody_is_booked_twice_in_the_house_alone(house: House) -> None:
    assert clashes(house) == []


def test_a_crew_that_is_elsewhere_at_that_time_is_told_in_both_projects(house: House) -> None:
    other = elsewhere(house, "2026-12-03T13:59", "2026-12-03T16:00")
    (here,), (there,) = clashes(house), clashes(house, project=house.other_project)
    assert (here.visit, here.other) == (house.visits["top"], other)
    assert (there.visit, there.other) == (other, house.visits["top"])
    assert here.reason.elsewhere and here.reason.name == "Stone crew"
    assert here.reason.other_when == here.reason.when.replace(hour=13, minute=59), "the other's start, at the house"


@pytest.mark.parametrize(
    ("starts", "ends", "values"),
    [
        (*TOP, {"cancelled_at": NOW - 60}), (*TOP, {"crew": "Glaziers"}),
        ("2026-12-03T14:00", "2026-12-03T16:00", {}), ("2026-12-03T08:00", "2026-12-03T09:00", {}),
    ],
    ids=["cancelled", "another crew", "right after", "right before"],
)
def test_what_is_in_nobodys_way_is_no_conflict(house: House, starts: str, ends: str, values: dict[str, Any]) -> None:
    elsewhere(house, starts, ends, **values)
    assert clashes(house) == []


def test_a_visit_that_is_over_is_in_nobodys_way_from_the_second_on(house: House) -> None:
    elsewhere(house, "2026-12-03T08:00", "2026-12-03T10:00")
    assert len(clashes(house, at("2026-12-03T09:59"))) == 1
    assert clashes(house, at("2026-12-03T10:00")) == []


def test_of_two_elsewhere_the_earlier_one_comes_first_and_of_the_same_time_the_older(house: House) -> None:
    late, twin, early = (
        elsewhere(house, f"2026-12-03T{hour}", "2026-12-03T13:00") for hour in ("11:00", "11:00", "10:00")
    )
    assert [one.other for one in clashes(house)] == [early, late, twin]


def test_the_first_time_that_works_is_free_elsewhere_too(house: House) -> None:
    """The crew is away the whole of Thursday and Friday morning; its own next visit here is on Friday at 1 pm."""
    elsewhere(house, "2026-12-03T08:00", "2026-12-03T16:30")
    before = clashes(house)[0].first_that_works
    elsewhere(house, "2026-12-04T08:00", "2026-12-04T13:00", phase=None)
    after = clashes(house)[0].first_that_works
    assert before == at("2026-12-04T08:00") // 60
    assert after == at("2026-12-07T08:00") // 60


def test_what_it_follows_may_be_booked_too_late_for_it(house: House) -> None:
    """The top is set on Thursday and drilled on Friday; set on the Thursday after, it is not there to be drilled."""

    def why_no_drilling() -> list[tuple[str, str]]:
        found = conflicts_in(schedule_of(read_snapshot(house.project), NOW), house.project)
        return [(one.kind, one.reason.name) for one in found if one.visit == house.visits["drill"]]

    assert why_no_drilling() == []
    tables.Visit.update(starts_at=at("2026-12-10T09:00"), ends_at=at("2026-12-10T14:00")).where(
        tables.Visit.id == house.visits["top"]
    ).execute()
    assert why_no_drilling() == [("too_early", "Set the stone top")]
