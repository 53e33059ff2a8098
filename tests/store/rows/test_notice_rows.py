"""A notice is tried when it is due, by one sender at a time, and settled once."""

import pytest

from portal.store import tables
from portal.store.engine.database import write
from portal.store.rows import notice_rows
from tests.house import NOW, House


def add(house: House, kind: str = "asked", at: int = NOW, **about: object) -> int:
    with write():
        notice_rows.add(house.project, house.homeowner.id, kind, dict(about), at)
    return int(tables.Notice.select().order_by(tables.Notice.id.desc()).get().id)


def test_a_new_notice_waits_and_names_whom_it_is_for(house: House) -> None:
    (made, (one,)) = add(house, decision=41), notice_rows.due(NOW, 10)
    assert (one.id, one.project_id, one.person_id, one.kind, one.about) == (
        made, house.project, house.homeowner.id, "asked", {"decision": 41},
    )  # fmt: skip
    assert (one.state, one.tries, one.trouble, one.settled_at) == ("waiting", 0, "", None)
    assert (one.name, one.email, one.phone) == ("Maren Okafor", "maren@example.org", "218-555-0161")
    assert (one.project, one.zone, one.salt, one.on_paper) == (
        "Okafor house", "America/Chicago", "salt of 101", False,
    )  # fmt: skip


def test_what_is_due_comes_by_when_and_no_more_than_asked_for(house: House) -> None:
    late, early, later = (add(house, at=NOW + second) for second in (5, 1, 9))
    assert [one.id for one in notice_rows.due(NOW + 5, 10)] == [early, late]
    assert [one.id for one in notice_rows.due(NOW + 9, 1)] == [early]
    assert later not in [one.id for one in notice_rows.due(NOW + 8, 10)] and notice_rows.due(NOW, 10) == []


def test_of_two_senders_one_has_it_until_then(house: House) -> None:
    made = add(house)
    assert notice_rows.claim(made, NOW + 600, NOW) and not notice_rows.claim(made, NOW + 600, NOW)
    assert notice_rows.due(NOW + 599, 10) == []
    (again,) = notice_rows.due(NOW + 600, 10)
    assert again.tries == 1


def test_a_try_that_failed_says_why_and_is_due_later(house: House) -> None:
    made = add(house)
    notice_rows.later(made, NOW + 300, "The server was down")
    assert notice_rows.due(NOW + 299, 10) == []
    assert notice_rows.due(NOW + 300, 10)[0].trouble == "The server was down"


def test_it_is_settled_once(house: House) -> None:
    made = add(house)
    assert notice_rows.settle(made, notice_rows.SENT, NOW + 7)
    assert not notice_rows.settle(made, notice_rows.DROPPED, NOW + 8)
    (one,) = notice_rows.in_state(notice_rows.SENT, 10)
    assert (one.state, one.settled_at) == ("sent", NOW + 7) and notice_rows.due(NOW + 900, 10) == []


def test_what_was_given_up_can_still_be_told_by_phone(house: House) -> None:
    made = add(house)
    assert notice_rows.settle(made, notice_rows.GIVEN_UP, NOW)
    assert notice_rows.settle(made, notice_rows.TOLD, NOW + 60)
    assert notice_rows.in_state(notice_rows.GIVEN_UP, 10) == []


def test_the_newest_of_a_state_come_first(house: House) -> None:
    made = [add(house) for _ in range(3)]
    assert [one.id for one in notice_rows.in_state("waiting", 2)] == [made[2], made[1]]


def test_a_mark_makes_one_notice_for_good(house: House) -> None:
    for _ in range(2):
        notice_rows.add_once(house.project, house.homeowner.id, "reminder", {"number": 2}, "2 of 101", NOW)
    notice_rows.add_once(house.project, house.co_owner.id, "reminder", {"number": 2}, "2 of 102", NOW)
    assert tables.Notice.select().count() == 2
    notice_rows.settle(tables.Notice.select().first().id, notice_rows.SENT, NOW)
    notice_rows.add_once(house.project, house.homeowner.id, "reminder", {"number": 2}, "2 of 101", NOW)
    assert tables.Notice.select().count() == 2


def test_a_notice_without_a_mark_may_be_made_again(house: House) -> None:
    assert add(house, decision=41) != add(house, decision=41)


def test_a_moved_visit_is_still_believed_to_be_when_it_was_told_last(house: House) -> None:
    add(house, "visit_moved", visit=62, before={"starts_at": 1})
    second = add(house, "visit_moved", visit=61, before={"starts_at": 2})
    assert notice_rows.still_believed(house.homeowner.id, 61) == {"starts_at": 2}
    assert notice_rows.still_believed(house.co_owner.id, 61) is None
    notice_rows.settle(second, notice_rows.SENT, NOW)
    assert notice_rows.still_believed(house.homeowner.id, 61) is None


def test_who_was_told_what_is_known_unless_it_was_dropped(house: House) -> None:
    made = add(house, decision=41, number=1)
    assert notice_rows.told(house.homeowner.id, "asked", {"number": 1, "decision": 41})
    assert not notice_rows.told(house.homeowner.id, "asked", {"number": 2, "decision": 41})
    assert not notice_rows.told(house.homeowner.id, "revised", {"number": 1, "decision": 41})
    assert not notice_rows.told(house.co_owner.id, "asked", {"number": 1, "decision": 41})
    notice_rows.settle(made, notice_rows.DROPPED, NOW)
    assert not notice_rows.told(house.homeowner.id, "asked", {"number": 1, "decision": 41})


def test_links_sent_after_calls_are_found_by_the_call(house: House) -> None:
    add(house, "link", call=17)
    add(house, "link")
    add(house, "asked", call=18)
    assert notice_rows.links_of_calls(house.project) == {17: ("Maren Okafor", "waiting", None)}
    assert notice_rows.links_of_calls(house.other_project) == {}


@pytest.mark.parametrize(("state", "changed"), [("waiting", True), ("given_up", True), ("sent", False)])
def test_what_nobody_was_told_yet_is_told_anew(house: House, state: str, changed: bool) -> None:
    made, other = add(house, "visit_moved", visit=61), add(house, "asked", visit=61)
    tables.Notice.update(state=state).execute()
    with write():
        notice_rows.rewrite(house.project, lambda about: about | {"visit": 62})
        notice_rows.rewrite(house.other_project, lambda about: about | {"visit": 63})
    assert tables.Notice.get_by_id(made).about == {"visit": 62 if changed else 61}
    assert tables.Notice.get_by_id(other).about == {"visit": 61}, "no notice about a visit"


def test_projects_wait_while_a_decision_does_and_they_are_open(house: House) -> None:
    assert notice_rows.projects_that_wait() == [house.project]
    tables.Project.update(closed_at=NOW).where(tables.Project.id == house.project).execute()
    assert notice_rows.projects_that_wait() == []


def test_the_link_in_a_letter_is_the_newest_that_opens(house: House) -> None:
    add(house)
    link = tables.Link.create(person=house.homeowner.id, salt="newer", digest="7" * 64, made_at=NOW)
    assert notice_rows.due(NOW, 1)[0].salt == "newer"
    tables.Link.update(revoked_at=NOW).where(tables.Link.id == link.id).execute()
    assert notice_rows.due(NOW, 1)[0].salt == "salt of 101"
    tables.Link.update(revoked_at=NOW).execute()
    assert notice_rows.due(NOW, 1)[0].salt is None


def test_whoever_went_back_to_paper_is_known(house: House) -> None:
    add(house)
    agreed = tables.Consent.create(person=house.homeowner.id, version="v", at=NOW, withdrawn_at=NOW)
    assert notice_rows.due(NOW, 1)[0].on_paper is True
    tables.Consent.create(person=house.homeowner.id, version="v", at=NOW + 1)
    assert agreed.id and notice_rows.due(NOW, 1)[0].on_paper is False
