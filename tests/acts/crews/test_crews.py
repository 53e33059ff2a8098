"""The firm's crews: which texts stand for them, one name each, and none is removed that is booked."""

import threading
from datetime import datetime
from typing import Any

import pytest

from portal.acts.crews.crews import add_crew, change_crew, name_crew, remove_crew
from portal.acts.refusals import CrewBooked, FieldRefused, Stale
from portal.acts.visiting.visits import book_visit, cancel_visit
from portal.store import tables
from portal.store.engine.database import close_database
from portal.store.rows.crews import crew_rows
from portal.store.rows.crews.crew_rows import Written
from tests.house import NOW, House

WEEK = {"mon": [["07:00", "12:00"]], "tue": [["07:00", "12:00"]]}


def added(house: House, name: str, **values: Any) -> tables.Crew:
    return add_crew(house.office, {"name": name, **values}, NOW)


def book(house: House, crew: str, project: int | None = None) -> tables.Visit:
    when = {"starts_at": datetime(2026, 12, 15, 9), "ends_at": datetime(2026, 12, 15, 10)}
    values = {"crew": crew, "purpose": "Measure", **when}
    return book_visit(house.office, project or house.project, values, NOW)


def test_a_crew_is_known_by_its_name_however_it_is_written(house: House) -> None:
    crew = added(house, "Delgado Plumbing", week=WEEK, days_off=["2026-12-14"], phone="218-555-0144")
    found = crew_rows.of_text(" delgado-plumbing ")
    assert found is not None and (found.id, found.name, found.phone) == (crew.id, "Delgado Plumbing", "218-555-0144")
    assert found.week == '{"mon": [["07:00", "12:00"]], "tue": [["07:00", "12:00"]]}'
    assert crew_rows.of_text("Somebody else") is None


@pytest.mark.parametrize("name", ["Plumber", "plumber ", "PLUMBER!"])
def test_a_doubled_name_is_refused_and_names_whom_it_stands_for(house: House, name: str) -> None:
    added(house, "Plumber")
    with pytest.raises(FieldRefused, match="already a crew called “Plumber”") as refusal:
        added(house, name)
    assert refusal.value.field == "name" and len(crew_rows.every()) == 1


def test_a_name_that_stands_for_another_crew_is_taken_too(house: House) -> None:
    other, crew = added(house, "Delgado", names=["Plumber"]), added(house, "Painters")
    with pytest.raises(FieldRefused, match="“Delgado”"):
        change_crew(house.office, crew.id, crew.version, {"name": "plumber"}, NOW)
    assert crew_rows.holder_of("plumber") == other.id


def test_under_a_new_name_it_is_known_by_the_old_one_too(house: House) -> None:
    crew = added(house, "Plumber")
    change_crew(house.office, crew.id, crew.version, {"name": "Delgado Plumbing"}, NOW)
    assert crew_rows.names_of(crew.id) == ["Delgado Plumbing", "Plumber"]
    with pytest.raises(Stale):
        change_crew(house.office, crew.id, crew.version, {"size": 3}, NOW)


def test_twins_become_one_and_no_house_is_written(house: House) -> None:
    crew, twin = added(house, "Plumber"), added(house, "Plumbers", names=["The plumbers"])
    before = [row.crew for row in tables.Phase.select().order_by(tables.Phase.id)]
    name_crew(house.office, crew.id, ["Plumbers", "Pipe people"], NOW)
    assert [one.id for one in crew_rows.every()] == [crew.id]
    assert crew_rows.names_of(crew.id) == ["Plumber", "Plumbers", "The plumbers", "Pipe people"]
    assert tables.Crew.get_or_none(tables.Crew.id == twin.id) is None
    assert [row.crew for row in tables.Phase.select().order_by(tables.Phase.id)] == before


def test_one_that_is_booked_is_refused_with_the_houses(house: House) -> None:
    crew = added(house, "Roofers", names=["Roof crew"])
    visit = book(house, "roof CREW", house.other_project)
    with pytest.raises(CrewBooked, match="Roofers still has work before it at Sorensen"):
        remove_crew(house.manager, crew.id, crew.version, NOW)
    cancel_visit(house.office, house.other_project, visit.id, visit.version, because="", now=NOW)
    remove_crew(house.manager, crew.id, crew.version, NOW)
    assert crew_rows.every() == [] and crew_rows.known() == {}
    assert tables.Visit.get_by_id(visit.id).crew == "roof CREW", "what was written stays"


@pytest.mark.parametrize(
    ("values", "field"),
    [({"week": {"monday": []}}, "week.monday"), ({"week": {"mon": [["9", "10"]]}}, "week.mon"),
     ({"days_off": ["2026-02-30"]}, "days_off"), ({"week": {"mon": []}}, "week")],
)  # fmt: skip
def test_hours_that_can_not_be_read_are_refused_by_their_field(house: House, values: Any, field: str) -> None:
    with pytest.raises(FieldRefused) as refusal:
        added(house, "Roofers", **values)
    assert refusal.value.field == field and crew_rows.every() == []


def test_texts_of_plans_are_counted_with_their_houses(house: House) -> None:
    for crew, project in (("Roofers", house.project), ("Roofers", house.other_project), ("roofer", house.project)):
        book(house, crew, project)
    texts = {one.text: one for one in crew_rows.written()}
    assert texts["Roofers"] == Written("Roofers", 2, 2) and texts["roofer"] == Written("roofer", 1, 1)
    added(house, "Roofers")
    assert "Roofers" not in {one.text for one in crew_rows.unknown(crew_rows.known_keys())}


def test_of_two_who_add_the_same_crew_at_once_one_is_refused(house: House) -> None:
    done: list[str] = []

    def add() -> None:
        try:
            done.append(added(house, "Roofers").name)
        except FieldRefused as refusal:
            done.append(refusal.field or "")
        finally:
            close_database()

    both = [threading.Thread(target=add) for _ in range(2)]
    for one in both:
        one.start()
    for one in both:
        one.join()
    assert sorted(done) == ["Roofers", "name"]
    assert len(crew_rows.every()) == 1


def test_houses_whose_work_ahead_names_it_are_published_anew(house: House) -> None:
    book(house, "Roofers", house.other_project)
    before = {row.id: row.changed for row in tables.Project.select()}
    crew = added(house, "Roofers")
    change_crew(house.office, crew.id, crew.version, {"days_off": ["2026-12-15"]}, NOW)
    after = {row.id: row.changed for row in tables.Project.select()}
    assert [one for one in after if after[one] != before[one]] == [house.other_project]
