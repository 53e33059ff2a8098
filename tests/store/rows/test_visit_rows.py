"""All visits of a project as they were booked; and the cancelled ones, which calendars must be told of."""

from portal.store import tables
from portal.store.rows import visit_rows
from tests.house import NOW, House


def test_all_visits_come_as_they_were_booked_past_and_cancelled_ones_too(house: House) -> None:
    early = tables.Visit.create(project=house.project, crew="Glazier", purpose="Measure", starts_at=60, ends_at=120)
    tables.Visit.update(cancelled_at=NOW).where(tables.Visit.id == house.visits["top"]).execute()
    assert [visit.id for visit in visit_rows.of_project(house.project)] == [*house.visits.values(), early.id]
    assert visit_rows.of_project(house.other_project) == []


def test_of_two_that_were_to_start_at_once_the_first_booked_comes_first(house: House) -> None:
    values = {"project": house.project, "crew": "Glazier", "purpose": "Measure", "cancelled_at": NOW}
    made = [tables.Visit.create(starts_at=NOW, ends_at=NOW + 60, **values).id for _ in range(3)]
    tables.Visit.update(version=4).where(tables.Visit.id == made[0]).execute()
    assert [one.id for one in visit_rows.cancelled(house.project)] == made


def test_cancelled_visits_are_those_that_calendars_must_be_told_of(house: House) -> None:
    assert visit_rows.cancelled(house.project) == []
    paint, top = house.visits["paint"], house.visits["top"]
    cancelled = {"cancelled_at": NOW, "changed_at": NOW + 3, "version": 2}
    tables.Visit.update(cancelled).where(tables.Visit.id << [paint, top]).execute()
    found = visit_rows.cancelled(house.project)
    assert [one.id for one in found] == [top, paint], "by when they were to start"
    assert (found[0].crew, found[0].phase_id, found[0].version, found[0].changed_at) == (
        "Stone crew", house.phases["top"], 2, NOW + 3,
    )  # fmt: skip
    assert visit_rows.cancelled(house.other_project) == []
