"""Who must be told of what; and a link goes only to whom it can reach."""

import pytest

from portal.acts.household.links import revoke_link
from portal.acts.refusals import FieldRefused, NotFound
from portal.acts.telling import send_link, tell_by_phone, tell_clock_kept, who_answers
from portal.store.engine.database import write
from portal.store.rows import notice_rows
from portal.store.tables import Notice, Person
from tests.acts.kept import notices
from tests.house import NOW, House


def sent(house: House) -> Notice:
    send_link(house.office, house.project, house.co_owner.id, now=NOW)
    found: Notice = Notice.get(Notice.kind == "link")
    return found


def test_a_link_is_sent_to_whom_it_belongs(house: House) -> None:
    notice = sent(house)
    assert (notice.person_id, notice.about, notice.state, notice.made_at, notice.due_at) == (
        house.co_owner.id, {}, "waiting", NOW, NOW
    )  # fmt: skip


def test_without_an_address_or_a_link_there_is_nothing_to_send(house: House) -> None:
    Person.update(email="").where(Person.id == house.homeowner.id).execute()
    with pytest.raises(FieldRefused, match=f"{house.homeowner.name} has no e-mail address") as refused:
        send_link(house.office, house.project, house.homeowner.id, now=NOW)
    assert refused.value.field == "person"
    revoke_link(house.office, house.project, house.co_owner.id, now=NOW)
    with pytest.raises(FieldRefused, match=f"{house.co_owner.name} has no link that opens"):
        send_link(house.office, house.project, house.co_owner.id, now=NOW)
    with pytest.raises(FieldRefused, match="There is no person"):
        send_link(house.office, house.project, house.other_homeowner.id, now=NOW)
    assert notices(house.project) == []


def test_who_was_told_by_phone_gets_no_letter(house: House) -> None:
    notice = sent(house)
    tell_by_phone(house.office, house.project, notice.id, now=NOW + 60)
    told = Notice.get_by_id(notice.id)
    assert (told.state, told.settled_at) == (notice_rows.TOLD, NOW + 60)
    assert notice_rows.due(NOW + 120) == []


def test_what_is_settled_stays_as_it_was_settled(house: House) -> None:
    notice = sent(house)
    tell_by_phone(house.office, house.project, notice.id, now=NOW + 60)
    tell_by_phone(house.office, house.project, notice.id, now=NOW + 90)
    assert Notice.get_by_id(notice.id).settled_at == NOW + 60


def test_the_notice_of_another_house_is_not_found(house: House) -> None:
    notice = sent(house)
    for project, number in ((house.other_project, notice.id), (house.project, notice.id + 1)):
        with pytest.raises(NotFound, match="notice"):
            tell_by_phone(house.office, project, number, now=NOW)
    assert Notice.get_by_id(notice.id).state == "waiting"


def test_whose_answer_a_decision_wants(house: House) -> None:
    """Not the designer's, not an onlooker's, and not the neighbour's."""
    both = [house.homeowner.id, house.co_owner.id]
    Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    assert who_answers(house.project, "any") == both == who_answers(house.project, "all")
    assert who_answers(house.project, str(house.co_owner.id)) == [house.co_owner.id]
    assert who_answers(house.project, str(house.other_homeowner.id)) == []
    Person.update(may_approve=False).where(Person.id == house.homeowner.id).execute()
    assert who_answers(house.project, "any") == [house.co_owner.id]
    assert who_answers(house.project, str(house.homeowner.id)) == []


def test_the_household_is_told_that_the_clock_was_put_right_and_the_designer_is_not(house: House) -> None:
    Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    with write():
        tell_clock_kept(house.project, NOW)
    assert [(one.person, one.kind, one.about) for one in notices(house.project)] == [
        (house.homeowner.id, "timezone_changed", {}), (house.co_owner.id, "timezone_changed", {})
    ]  # fmt: skip
