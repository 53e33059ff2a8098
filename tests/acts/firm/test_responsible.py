"""Who runs a house: named, handed over, told."""

import pytest

from portal.acts.actor import Actor
from portal.acts.firm.projects import add_project
from portal.acts.firm.responsible import hand_over_house
from portal.acts.household.messages import send_message
from portal.acts.refusals import FieldRefused, Stale
from portal.notices.to_staff.letters import STAFF_KINDS, StaffReader
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Project, Staff, StaffNotice
from tests.acts.firm.test_projects import PORCH
from tests.acts.kept import entries, newest
from tests.house import NOW, House


@pytest.fixture
def second(house: House) -> Actor:
    row = Staff.create(name="Sam Park", email="sam@brackwater.example.com", role="manager", password_hash="none")
    return Actor("manager", row.id, row.name)


def version(house: House) -> int:
    found: int = Project.get_by_id(house.project).version
    return found


def hand_over(house: House, to: int | None, seen: int | None = None) -> Project:
    return hand_over_house(house.manager, house.project, version(house) if seen is None else seen, to, now=NOW)


def told(house: House) -> list[int]:
    """Who is told of a message of the household."""
    StaffNotice.delete().execute()
    send_message(house.homeowner, house.project, text="The tap drips", room=None, photo=None, now=NOW)
    return [one.staff_id for one in StaffNotice.select().order_by(StaffNotice.staff)]


def test_a_manager_who_sets_a_house_up_runs_it_and_the_office_names_nobody(house: House) -> None:
    assert add_project(house.manager, dict(PORCH), NOW).responsible_id == house.manager.id
    assert add_project(house.office, dict(PORCH), NOW).responsible_id is None


def test_handed_over_it_is_on_the_record_and_told_to_who_gets_it(house: House, second: Actor) -> None:
    hand_over(house, second.id)
    kind, body = newest(house.project)["kind"], newest(house.project)["body"]
    assert (kind, body["staff"], body["name"]) == ("responsible_changed", second.id, second.name)
    notice = StaffNotice.get()
    assert (notice.staff_id, notice.kind) == (second.id, "house_handed_over")
    reader = StaffReader(second.id, second.name, read_snapshot(house.project), NOW, "http://localhost/desk/projects/7/")
    letter = STAFF_KINDS[notice.kind](reader, notice.about)
    assert letter is not None and letter.subject == "Okafor house is yours to run from now on"
    hand_over(house, house.manager.id)
    later = StaffReader(second.id, second.name, read_snapshot(house.project), NOW, reader.desk)
    assert STAFF_KINDS[notice.kind](later, notice.about) is None
    assert StaffNotice.select().count() == 1, "whoever takes it over needs no letter"


def test_who_runs_it_is_told_alone_and_all_are_while_nobody_does(house: House, second: Actor) -> None:
    assert told(house) == [house.manager.id, second.id]
    hand_over(house, second.id)
    assert told(house) == [second.id]
    Staff.update(active=False).where(Staff.id == second.id).execute()
    assert told(house) == [house.manager.id], "whoever has left is told nothing"
    hand_over(house, None)
    assert newest(house.project)["body"]["before"] == second.name


def test_pressed_twice_it_is_one_hand_over_and_an_older_page_is_refused(house: House, second: Actor) -> None:
    seen = version(house)
    hand_over(house, second.id, seen)
    hand_over(house, second.id, seen)
    assert len(entries(house.project)) == 1
    with pytest.raises(Stale):
        hand_over(house, house.manager.id, seen)


def test_only_a_manager_who_works_here_runs_a_house(house: House, second: Actor) -> None:
    with pytest.raises(FieldRefused, match="A manager runs a house"):
        hand_over(house, house.office.id)
    Staff.update(active=False).where(Staff.id == second.id).execute()
    for one in (second.id, 999):
        with pytest.raises(FieldRefused, match="do not work here any more"):
            hand_over(house, one)
