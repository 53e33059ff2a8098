"""The history is written with the fact: if it can't be written, the fact isn't."""

import pytest

from portal.acts.actor import OPERATOR, Actor, allow, known_values
from portal.acts.entries import keep
from portal.acts.refusals import NotFound, NotYours
from portal.acts.visiting.visits import cancel_visit
from portal.store.engine.database import touch, write
from portal.store.rows import record_rows
from portal.store.tables import Project, Visit
from tests.acts.kept import entries, notices
from tests.house import NOW, House


def test_an_entry_says_who_did_it_when_and_follows_the_one_before(house: House) -> None:
    with write():
        touch(house.project)
        first = keep(house.manager, house.project, "answered", {"decision": 1}, NOW)
        second = keep(house.homeowner, house.project, "answered", {"decision": 2}, NOW + 1)
    told = entries(house.project)
    assert [entry["sequence"] for entry in told] == [1, 2] == [first.sequence, second.sequence]
    assert [entry["at"] for entry in told] == ["2026-12-02T13:30:00Z", "2026-12-02T13:30:01Z"]
    assert told[0]["actor"] == {
        "kind": "staff", "id": house.manager.id, "name": house.manager.name, "role": "manager"
    }  # fmt: skip
    assert (told[1]["previous"], told[1]["body"]) == (first.hash, {"decision": 2})


def test_where_the_record_can_not_be_written_the_fact_is_not_either(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*args: object) -> None:
        raise OSError("no space left on device")

    visit, before = Visit.get_by_id(house.visits["paint"]), Project.get_by_id(house.project).changed
    monkeypatch.setattr(record_rows, "add", full)
    with pytest.raises(Exception, match="can't be saved|space|full|disk"):
        cancel_visit(house.office, house.project, visit.id, visit.version, because="Ill", now=NOW)
    assert Visit.get_by_id(visit.id).cancelled_at is None
    assert (Project.get_by_id(house.project).changed, notices(house.project)) == (before, [])


def test_an_actor_is_named_for_good(house: House) -> None:
    assert house.manager.key == f"staff:{house.manager.id}"
    assert house.homeowner.key == f"person:{house.homeowner.id}"
    assert OPERATOR.key == "operator:0"
    assert Actor("designer", 7, "Pia Lindqvist", house.project).key == "person:7"
    assert house.office.is_staff and not house.co_owner.is_staff and not OPERATOR.is_staff


def test_staff_see_every_house_and_a_household_its_own(house: House) -> None:
    assert house.manager.may_see(house.project) and house.manager.may_see(house.other_project)
    assert house.homeowner.may_see(house.project) and not house.homeowner.may_see(house.other_project)


def test_a_stranger_learns_less_than_who_may_not(house: House) -> None:
    with pytest.raises(NotFound, match="project"):
        allow(house.other_homeowner, "approve", house.project)
    with pytest.raises(NotYours, match="This is for the homeowner to do"):
        allow(house.manager, "approve", house.project)
    with pytest.raises(NotYours, match="for the manager or the office to do"):
        allow(house.homeowner, "add_project")
    allow(house.homeowner, "approve", house.project)


def test_a_change_leaves_the_rest_alone() -> None:
    sent = {"name": None, "crew": "", "state": "done"}
    assert known_values(sent, "name", "crew", "note") == {"name": None, "crew": ""}


def test_an_act_on_a_project_that_there_is_not_is_not_found(house: House) -> None:
    with pytest.raises(NotFound, match="project"):
        cancel_visit(house.office, 10**6, house.visits["paint"], 1, because="Ill", now=NOW)
