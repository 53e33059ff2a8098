"""Setting up: projects with a calendar that can be counted, the firm, rooms, the household."""

from datetime import date
from typing import Any

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_decision
from portal.acts.firm.projects import (
    add_person,
    add_project,
    add_room,
    change_firm,
    change_person,
    change_project,
    change_room,
    remove_person,
    remove_room,
)
from portal.acts.refusals import FieldRefused, NotFound, NotYours, Stale
from portal.store.tables import Decision, Firm, Person, Project, Room
from tests.acts.kept import entries, newest
from tests.house import NOW, House
from tests.household import CALENDAR

PORCH = {
    "name": "Lindqvist porch", "address": "5 Alder Row, Pell Harbor, Minnesota", "timezone": "America/Chicago",
    "calendar": CALENDAR, "starts_on": date(2027, 1, 11),
}  # fmt: skip


def changes() -> dict[int, int]:
    """How often each project was touched."""
    return {row.id: row.changed for row in Project.select()}


def change(house: House, seen: int | None = None, **values: Any) -> Project:
    version = seen if seen is not None else Project.get_by_id(house.project).version
    return change_project(house.office, house.project, version, values, NOW)


def test_a_project_begins_with_an_empty_record(house: House) -> None:
    made = add_project(house.office, dict(PORCH), NOW)
    assert (made.name, made.starts_on, made.timezone) == ("Lindqvist porch", date(2027, 1, 11), "America/Chicago")
    assert (entries(made.id), changes()[made.id]) == ([], 1)


def test_what_the_contract_says_is_in_the_record_from_the_beginning(house: House) -> None:
    made = add_project(house.office, PORCH | {"contract_cents": 0}, NOW)
    assert [(one["kind"], one["body"]) for one in entries(made.id)] == [("contract_changed", {"cents": 0})]
    assert newest(made.id)["actor"]["name"] == house.office.name


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"timezone": "America/Pell_Harbor"}, "timezone"),
        ({"calendar": CALENDAR | {"week": {"mon": [["16:00", "08:00"]]}}}, "calendar.week.mon"),
        ({"calendar": CALENDAR | {"week": {}}}, "calendar.week"),
    ],
)
def test_a_calendar_that_can_not_be_counted_is_refused_by_its_field(
    house: House, wrong: dict[str, Any], field: str
) -> None:
    before = Project.select().count()
    with pytest.raises(FieldRefused) as refused:
        add_project(house.office, PORCH | wrong, NOW)
    assert refused.value.field is not None and refused.value.field.startswith(field)
    assert Project.select().count() == before
    with pytest.raises(FieldRefused) as refused:
        change(house, **wrong)
    assert refused.value.field is not None and refused.value.field.startswith(field)


def test_only_what_was_sent_of_a_project_changes(house: House) -> None:
    before = Project.get_by_id(house.project)
    changed = change(house, office_hours="Mornings", promised_on=None)
    assert (changed.office_hours, changed.promised_on, changed.name) == ("Mornings", None, before.name)
    assert (changed.version, newest(house.project)["kind"]) == (before.version + 1, "project_changed")


def test_another_price_is_told_with_the_one_before(house: House) -> None:
    before = Project.get_by_id(house.project).contract_cents
    change(house, contract_cents=5_000_000)
    assert newest(house.project)["kind"] == "contract_changed"
    assert newest(house.project)["body"] == {"cents": 5_000_000, "before": before}
    change(house, contract_cents=5_000_000)
    assert len(entries(house.project)) == 1
    change(house, contract_cents=None)
    assert newest(house.project)["body"] == {"cents": None, "before": 5_000_000}


def test_who_has_seen_an_older_project_changes_nothing(house: House) -> None:
    seen = Project.get_by_id(house.project).version
    change(house, office_hours="Mornings")
    with pytest.raises(Stale):
        change(house, seen=seen, contract_cents=1)
    assert entries(house.project) == []


def test_the_firm_stands_on_every_page_so_every_project_is_touched(house: House) -> None:
    before, firm = changes(), Firm.get()
    changed = change_firm(house.manager, firm.version, {"phone": "218-555-0149"}, NOW)
    assert (changed.id, changed.phone, changed.name) == (firm.id, "218-555-0149", firm.name)
    assert changes() == {project: times + 1 for project, times in before.items()}
    with pytest.raises(Stale):
        change_firm(house.manager, firm.version, {"phone": "218-555-0150"}, NOW)


def test_a_firm_that_was_never_written_down_is_made(house: House) -> None:
    Firm.delete().execute()
    values = {"name": "Brackwater", "phone": "218-555-0142", "office_hours": "Mornings", "registrations": []}
    assert change_firm(house.manager, 0, values, NOW).version > 0
    assert Firm.select().count() == 1


def test_only_the_manager_changes_the_firm(house: House) -> None:
    with pytest.raises(NotYours, match="for the manager"):
        change_firm(house.office, Firm.get().version, {"phone": "218-555-0149"}, NOW)


def test_rooms_stand_in_the_order_in_which_they_were_added(house: House) -> None:
    assert add_room(house.office, house.project, {"name": "Porch"}, now=NOW).position == len(house.rooms)
    assert add_room(house.office, house.project, {"name": "Attic"}, now=NOW).position == len(house.rooms) + 1
    assert add_room(house.office, house.project, {"name": "Cellar", "position": 0}, now=NOW).position == 0
    assert add_room(house.office, house.other_project, {"name": "Porch"}, now=NOW).position == 0


def test_two_rooms_of_a_house_have_two_names(house: House) -> None:
    with pytest.raises(FieldRefused, match="already a room called “Kitchen”") as refused:
        add_room(house.office, house.project, {"name": "Kitchen"}, now=NOW)
    assert refused.value.field == "name"
    bath = Room.get_by_id(house.rooms["bath"])
    with pytest.raises(FieldRefused, match="already a room"):
        change_room(house.office, house.project, bath.id, bath.version, {"name": "Kitchen"}, now=NOW)
    assert add_room(house.office, house.other_project, {"name": "Kitchen"}, now=NOW).name == "Kitchen"


def test_a_room_is_changed_and_removed_by_who_has_seen_it_as_it_is(house: House) -> None:
    porch = add_room(house.office, house.project, {"name": "Porch"}, now=NOW)
    changed = change_room(house.office, house.project, porch.id, porch.version, {"name": "Veranda"}, now=NOW)
    assert (changed.name, changed.position) == ("Veranda", porch.position)
    for does in (
        lambda: change_room(house.office, house.project, porch.id, porch.version, {"name": "Deck"}, now=NOW),
        lambda: remove_room(house.office, house.project, porch.id, porch.version, now=NOW),
    ):
        with pytest.raises(Stale):
            does()
    remove_room(house.office, house.project, porch.id, changed.version, now=NOW)
    assert Room.get_or_none(Room.name == "Veranda") is None


def test_a_room_in_which_there_is_work_stays(house: House) -> None:
    bath = Room.get_by_id(house.rooms["bath"])
    with pytest.raises(FieldRefused, match="There is still work") as refused:
        remove_room(house.office, house.project, bath.id, bath.version, now=NOW)
    assert refused.value.field == "id"


def person(house: House, **values: Any) -> Person:
    return add_person(house.office, house.project, {"name": "Asta Okafor"} | values, NOW)


def test_who_comes_changes_and_goes_is_told_by_whom(house: House) -> None:
    asta = person(house, phone="218-555-0177", email="asta@example.org")
    told = {"name": "Asta Okafor", "role": "homeowner", "may_approve": True}
    assert newest(house.project)["body"] == {"did": "added", "person": asta.id} | told
    assert newest(house.project)["actor"]["id"] == house.office.id
    changed = change_person(house.office, house.project, asta.id, asta.version, {"role": "designer"}, NOW)
    assert newest(house.project)["body"] == {"did": "changed", "person": asta.id, "before": told} | told | {
        "role": "designer"
    }
    remove_person(house.office, house.project, asta.id, changed.version, NOW)
    assert newest(house.project)["body"] == {"did": "removed", "person": asta.id} | told | {"role": "designer"}
    assert Person.get_or_none(Person.name == "Asta Okafor") is None


def test_who_has_seen_an_older_person_changes_and_removes_nobody(house: House) -> None:
    asta = person(house)
    change_person(house.office, house.project, asta.id, asta.version, {"phone": "218-555-0177"}, NOW)
    before = entries(house.project)
    with pytest.raises(Stale):
        change_person(house.office, house.project, asta.id, asta.version, {"name": "Asta O."}, NOW)
    with pytest.raises(Stale):
        remove_person(house.office, house.project, asta.id, asta.version, NOW)
    assert entries(house.project) == before


def test_who_approved_or_asked_stays_on_the_list(house: House) -> None:
    maren = Person.get_by_id(house.homeowner.id)
    with pytest.raises(FieldRefused, match="so their name stays") as refused:
        remove_person(house.office, house.project, maren.id, maren.version, NOW)
    assert refused.value.field == "id"
    assert entries(house.project) == []


def test_who_goes_leaves_no_decision_that_only_they_could_approve(house: House) -> None:
    asta = person(house)
    question = {"question": "Which lamp?", "options": [{"title": "This one"}], "approvers": str(asta.id)}
    ask_decision(house.manager, house.project, question, NOW)
    with pytest.raises(FieldRefused, match="is for this person to approve") as refused:
        remove_person(house.office, house.project, asta.id, asta.version, NOW)
    assert refused.value.field == "may_approve"
    assert Person.get_by_id(asta.id).name == "Asta Okafor"


def test_who_was_waited_for_alone_and_goes_completes_an_approval(house: House) -> None:
    asta = person(house)
    one = Decision.get_by_id(house.decisions[1])
    Decision.update(approvers="all").where(Decision.id == one.id).execute()
    for owner in (house.homeowner, house.co_owner):
        approve(owner, house.project, one.id, revision=1, option="a", name=owner.name, now=NOW)
    assert Decision.get_by_id(one.id).state == "asked"
    change_person(house.office, house.project, asta.id, asta.version, {"may_approve": False}, NOW)
    assert Decision.get_by_id(one.id).state == "approved"


def test_people_and_rooms_of_another_house_are_not_found(house: House) -> None:
    ida = Person.get_by_id(house.other_homeowner.id)
    bath = Room.get_by_id(house.rooms["bath"])
    for does in (
        lambda: change_person(house.office, house.project, ida.id, ida.version, {"name": "X"}, NOW),
        lambda: remove_person(house.office, house.project, ida.id, ida.version, NOW),
        lambda: change_room(house.office, house.other_project, bath.id, bath.version, {"name": "X"}, now=NOW),
        lambda: remove_room(house.office, house.other_project, bath.id, bath.version, now=NOW),
    ):
        with pytest.raises(NotFound):
            does()
