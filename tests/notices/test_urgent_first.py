"""The order of the outbox: urgent first, and nothing waits behind what can't go."""

import json
from typing import Any

import pytest

from portal.acts.decisions.asking import ask_decision
from portal.acts.telling import send_link
from portal.notices.notice_kinds import KINDS
from portal.notices.outbox import oldest_due, that_can_go
from portal.notices.to_staff.letters import STAFF_KINDS
from portal.notices.urgency import ORDER, place
from portal.store import tables
from portal.store.engine.database import database, write
from tests.house import NOW, House
from tests.notices.office import PostOffice, ask, move, states

HINDERED = 3_000
HOUR, DAY = 3600, 24 * 3600


def fill(house: House, **values: object) -> None:
    """3,000 notices to somebody without mail, each due long before the others."""
    with write():
        person = tables.Person.create(project=house.project, name="Ada Okafor", email="", role="designer").id
        about = {"decision": house.decisions[1], "number": 1, "revision": 1}
        row = {"project_id": house.project, "person_id": person, "kind": "asked", "about": json.dumps(about),
               "made_at": NOW - DAY, "state": "waiting", "due_at": NOW - DAY, "tries": 0, "trouble": ""} | values
        columns, places = ", ".join(row), ", ".join("?" * len(row))
        connection = database.obj.connection()
        connection.executemany(f"INSERT INTO notice ({columns}) VALUES ({places})", [tuple(row.values())] * HINDERED)


def test_an_urgent_letter_leaves_at_the_next_tick_behind_3000_that_can_not_go(
    house: House, office: PostOffice
) -> None:
    fill(house)
    move(house, "top", 8)
    assert [mail.to[0] for mail in office.send()] == ["maren@example.org", "jonas@example.org"]
    assert tables.Notice.select().where(tables.Notice.state == "waiting").count() == HINDERED
    assert oldest_due(NOW + HOUR) is None


def test_behind_3000_that_are_given_up_it_leaves_at_the_next_tick_too(house: House, office: PostOffice) -> None:
    fill(house, made_at=NOW - 8 * DAY, kind="link")
    move(house, "top", 8)
    assert len(office.send()) == 2
    given_up = tables.Notice.select().where(tables.Notice.state == "given_up").count()
    assert 0 < given_up < HINDERED, "some at a time, since each is looked at"


def test_the_most_urgent_goes_first_however_long_the_others_are_due(house: House, office: PostOffice) -> None:
    ask(house, approvers=str(house.homeowner.id))
    move(house, "paint", 29)  # from a day that is some way off to one that is farther
    send_link(house.office, house.project, house.homeowner.id, now=NOW)
    move(house, "top", 8)  # from tomorrow
    tables.Notice.update(due_at=NOW - DAY).where(tables.Notice.kind == "asked").execute()
    tables.Notice.delete().where(tables.Notice.person == house.co_owner.id).execute()
    subjects = [mail.message["Subject"].removeprefix("Okafor house") for mail in office.send()]
    assert subjects[0] == ": a visit is moved to Tue Dec 8"
    assert subjects[1] == "Your page of the Okafor house"
    assert "question 6" in subjects[2] and subjects[3].startswith(": a visit is moved to")


@pytest.mark.parametrize(
    ("first", "then"),
    [
        (("visit_cancelled", {"starts_at": NOW + HOUR}), ("reminder", {})),
        (("visit_moved", {"starts_at": NOW + 20 * DAY, "before": {"starts_at": NOW + HOUR}}), ("link", {})),
        (("visit_moved", {"starts_at": NOW + HOUR, "before": {"starts_at": NOW + 20 * DAY}}), ("reminder", {})),
        (("reminder", {}), ("asked", {})),
        (("asked", {}), ("visit_moved", {"starts_at": NOW + 9 * DAY, "before": {"starts_at": NOW + 8 * DAY}})),
        (("answered", {}), ("receipt", {})),
        (("visit_does_not_suit", {"starts_at": NOW + HOUR}), ("message", {})),
        (("message", {}), ("link", {})),
        (("message_answered", {}), ("visit_does_not_suit", {"starts_at": NOW + 9 * DAY})),
        (("visit_cancelled", {"starts_at": NOW + 9 * DAY}), ("timezone_changed", {})),
        (("receipt", {}), ("something new", {})),
    ],
)  # fmt: skip
def test_one_kind_stands_before_another(first: tuple[str, dict[str, Any]], then: tuple[str, dict[str, Any]]) -> None:
    assert place(*first, NOW) < place(*then, NOW)


def test_each_kind_has_its_place_and_each_place_its_reason() -> None:
    assert set().union(*(kinds for kinds, _, _ in ORDER)) == {*KINDS, *STAFF_KINDS}
    assert all(len(why) > 20 for _, _, why in ORDER)


def test_of_two_alike_the_one_that_is_due_longer_goes_first(house: House) -> None:
    ask(house)
    ask(house)
    numbers = {row.id: row.about["number"] for row in tables.Notice.select()}
    tables.Notice.update(due_at=NOW - 60).where(tables.Notice.id == max(numbers)).execute()
    found = that_can_go(NOW)
    assert [one.id for one in found] == [max(numbers), *sorted(numbers)[:-1]]
    assert oldest_due(NOW) == NOW - 60 and oldest_due(NOW - 61) is None


def test_whoever_gets_an_address_gets_what_waited_with_the_next_tick(house: House, office: PostOffice) -> None:
    tables.Person.update(email="").where(tables.Person.id == house.homeowner.id).execute()
    ask_decision(house.manager, house.project, {
        "question": "In or out?", "options": [{"title": "In"}, {"title": "Out"}], "approvers": str(house.homeowner.id),
    }, NOW)  # fmt: skip
    assert office.send() == []
    tables.Person.update(email="maren@example.org").where(tables.Person.id == house.homeowner.id).execute()
    assert len(office.send(later=300)) == 1
    assert states() == [("asked", "sent")]
