"""A notice is tried when it is due, by one sender at a time, and settled once."""

import pytest

from portal.store import tables
from portal.store.engine.database import touch, write
from portal.store.rows import notice_rows
from tests.house import NOW, House


def add(house: House, kind: str = "asked", at: int = NOW, **about: object) -> int:
    with write():
        notice_rows.add(house.project, house.homeowner.id, kind, dict(about), at)
    return int(tables.Notice.select().order_by(tables.Notice.id.desc()).get().id)


def test_a_new_notice_waits_and_names_whom_it_is_for(house: House) -> None:
    (made, (one,)) = add(house, decision=41), notice_rows.due(NOW)
    assert (one.id, one.project_id, one.person_id, one.kind, one.about) == (
        made, house.project, house.homeowner.id, "asked", {"decision": 41},
    )  # fmt: skip
    assert (one.state, one.tries, one.trouble, one.settled_at) == ("waiting", 0, "", None)
    assert (one.name, one.email, one.phone) == ("Maren Okafor", "maren@example.org", "218-555-0161")
    assert (one.project, one.zone, one.salt, one.on_paper) == (
        "Okafor house", "America/Chicago", "salt of 101", False,
    )  # fmt: skip


def test_what_is_due_comes_by_when(house: House) -> None:
    late, early, later = (add(house, at=NOW + second) for second in (5, 1, 9))
    assert [one.id for one in notice_rows.due(NOW + 5)] == [early, late]
    assert [one.id for one in notice_rows.due(NOW + 9)] == [early, late, later]
    assert later not in [one.id for one in notice_rows.due(NOW + 8)] and notice_rows.due(NOW) == []


def test_of_two_senders_one_has_it_until_then(house: House) -> None:
    made = add(house)
    assert notice_rows.claim(made, NOW + 600, NOW) and not notice_rows.claim(made, NOW + 600, NOW)
    assert notice_rows.due(NOW + 599) == []
    (again,) = notice_rows.due(NOW + 600)
    assert again.tries == 1


def test_a_try_that_failed_says_why_and_is_due_later(house: House) -> None:
    made = add(house)
    notice_rows.later(made, NOW + 300, "The server was down")
    assert notice_rows.due(NOW + 299) == []
    assert notice_rows.due(NOW + 300)[0].trouble == "The server was down"


def test_it_is_settled_once(house: House) -> None:
    made = add(house)
    assert notice_rows.settle(made, notice_rows.SENT, NOW + 7)
    assert not notice_rows.settle(made, notice_rows.DROPPED, NOW + 8)
    (one,) = notice_rows.in_state(notice_rows.SENT, 10)
    assert (one.state, one.settled_at) == ("sent", NOW + 7) and notice_rows.due(NOW + 900) == []


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
    assert notice_rows.to_remind(NOW) == [house.project]
    tables.Project.update(closed_at=NOW).where(tables.Project.id == house.project).execute()
    assert notice_rows.to_remind(NOW) == []


def test_the_link_in_a_letter_is_the_newest_that_opens(house: House) -> None:
    add(house)
    link = tables.Link.create(person=house.homeowner.id, salt="newer", digest="7" * 64, made_at=NOW)
    assert notice_rows.due(NOW)[0].salt == "newer"
    tables.Link.update(revoked_at=NOW).where(tables.Link.id == link.id).execute()
    assert notice_rows.due(NOW)[0].salt == "salt of 101"
    tables.Link.update(revoked_at=NOW).execute()
    assert notice_rows.due(NOW)[0].salt is None


def test_whoever_went_back_to_paper_is_known(house: House) -> None:
    add(house)
    agreed = tables.Consent.create(person=house.homeowner.id, version="v", at=NOW, withdrawn_at=NOW)
    assert notice_rows.due(NOW)[0].on_paper is True
    tables.Consent.create(person=house.homeowner.id, version="v", at=NOW + 1)
    assert agreed.id and notice_rows.due(NOW)[0].on_paper is False


def test_of_two_that_are_due_at_once_the_one_that_was_made_first_comes_first(house: House) -> None:
    made = [add(house) for _ in range(3)]
    tables.Notice.update(trouble="The server was down").where(tables.Notice.id == made[0]).execute()
    assert [one.id for one in notice_rows.due(NOW)] == made
    assert [one.id for one in notice_rows.in_state("waiting", 10)] == made[::-1]


def test_a_notice_that_is_not_due_or_is_settled_is_nobodys_to_send(house: House) -> None:
    waits, sent = add(house, at=NOW + 60), add(house)
    notice_rows.settle(sent, notice_rows.SENT, NOW)
    for made in (waits, sent):
        assert not notice_rows.claim(made, NOW + 600, NOW)
        assert tables.Notice.get_by_id(made).tries == 0
    assert notice_rows.claim(waits, NOW + 600, NOW + 60), "it is due at that very second"
    assert not notice_rows.claim(sent + 100, NOW + 600, NOW)


def test_what_was_settled_meanwhile_is_not_put_off(house: House) -> None:
    made = add(house)
    notice_rows.settle(made, notice_rows.TOLD, NOW)
    notice_rows.later(made, NOW + 300, "The server was down")
    found = tables.Notice.get_by_id(made)
    assert (found.state, found.due_at, found.trouble, found.settled_at) == ("told", NOW, "", NOW)


def test_putting_one_off_or_settling_it_leaves_the_others(house: House) -> None:
    first, second = add(house), add(house)
    notice_rows.later(first, NOW + 300, "The server was down")
    notice_rows.claim(first, NOW + 900, NOW + 300)
    notice_rows.settle(first, notice_rows.GIVEN_UP, NOW + 400)
    other = tables.Notice.get_by_id(second)
    assert (other.state, other.due_at, other.trouble, other.tries, other.settled_at) == ("waiting", NOW, "", 0, None)
    given_up = tables.Notice.get_by_id(first)
    assert (given_up.tries, given_up.trouble, given_up.due_at) == (1, "The server was down", NOW + 900)


@pytest.mark.parametrize("state", [notice_rows.SENT, notice_rows.TOLD, notice_rows.DROPPED])
def test_what_is_settled_for_good_stays_so(house: House, state: str) -> None:
    made = add(house)
    notice_rows.settle(made, state, NOW)
    for anew in (notice_rows.TOLD, notice_rows.GIVEN_UP, notice_rows.SENT):
        assert not notice_rows.settle(made, anew, NOW + 60)
    assert (tables.Notice.get_by_id(made).state, tables.Notice.get_by_id(made).settled_at) == (state, NOW)


def test_a_person_still_believes_what_they_were_told_before_the_first_of_two_moves(house: House) -> None:
    top, paint = house.visits["top"], house.visits["paint"]
    add(house, "visit_moved", visit=top, before={"starts_at": NOW + 1})
    add(house, "visit_moved", visit=top, before={"starts_at": NOW + 2})
    add(house, "visit_cancelled", visit=paint, before={"starts_at": NOW + 3})
    assert notice_rows.still_believed(house.homeowner.id, top) == {"starts_at": NOW + 1}
    assert notice_rows.still_believed(house.homeowner.id, paint) is None, "it was not moved"
    tables.Notice.update(state="given_up").where(tables.Notice.kind == "visit_moved").execute()
    assert notice_rows.still_believed(house.homeowner.id, top) is None


@pytest.mark.parametrize("state", [notice_rows.SENT, notice_rows.TOLD, notice_rows.GIVEN_UP])
def test_whatever_was_not_dropped_counts_as_told(house: House, state: str) -> None:
    about = {"decision": house.decisions[1]}
    notice_rows.settle(add(house, **about), state, NOW)
    assert notice_rows.told(house.homeowner.id, "asked", about)
    assert not notice_rows.told(house.homeowner.id, "asked", about | {"number": 1}), "the whole of it"


def test_of_two_links_that_were_sent_after_one_call_the_newer_counts(house: House) -> None:
    call = tables.Call.create(project=house.project, at=NOW, caller="Maren Okafor", asked="Which link?").id
    first, second = add(house, "link", call=call), add(house, "link", call=call)
    notice_rows.settle(second, notice_rows.SENT, NOW + 9)
    tables.Notice.update(tries=1).where(tables.Notice.id == first).execute()
    sent = notice_rows.LinkSent(name="Maren Okafor", state="sent", settled_at=NOW + 9)
    assert notice_rows.links_of_calls(house.project) == {call: sent}


def test_a_cancelled_visit_that_nobody_was_told_of_is_told_anew_too(house: House) -> None:
    kinds = {kind: add(house, kind, starts_at=NOW) for kind in ("visit_cancelled", "visit_moved", "visit_booked")}
    with write():
        notice_rows.rewrite(house.project, lambda about: {"starts_at": about["starts_at"] + 3600})
    found = {kind: tables.Notice.get_by_id(made).about["starts_at"] - NOW for kind, made in kinds.items()}
    assert found == {"visit_cancelled": 3600, "visit_moved": 3600, "visit_booked": 0}


def test_each_project_waits_once_and_in_order_and_only_for_the_household(house: House) -> None:
    other = tables.Decision.create(project=house.other_project, number=1)
    tables.Project.update(phone="").where(tables.Project.id == house.project).execute()
    assert notice_rows.to_remind(NOW) == [house.project, house.other_project]
    tables.Decision.update(state="asked_back").where(tables.Decision.id == other.id).execute()
    assert notice_rows.to_remind(NOW) == [house.project], "there, they wait for us"


def test_a_project_is_looked_at_again_after_a_change_and_when_the_clock_may_bring_a_reminder(house: House) -> None:
    changed = tables.Project.get_by_id(house.project).changed
    notice_rows.looked_at(house.project, changed, NOW + 3600)
    assert notice_rows.to_remind(NOW + 3599) == [] and notice_rows.to_remind(NOW + 3600) == [house.project]
    assert notice_rows.to_remind(NOW - 3 * 24 * 3600) == [house.project], "a clock that was days ahead"
    with write():
        touch(house.project)
    assert notice_rows.to_remind(NOW) == [house.project]
    notice_rows.looked_at(house.project, changed + 1, NOW + 3600)
    assert notice_rows.to_remind(NOW) == []


def test_a_notice_says_when_it_was_made_and_what_it_is_about_to_the_letter(house: House) -> None:
    about = {"visit": house.visits["top"], "before": {"starts_at": NOW, "purpose": "The “stone” top, 50 %"}, "x": None}
    add(house, "visit_moved", NOW + 5, **about)
    (one,) = notice_rows.due(NOW + 5)
    assert (one.about, one.made_at, one.due_at) == (about, NOW + 5, NOW + 5)
    assert one == notice_rows.in_state("waiting", 1)[0]


def test_a_person_without_a_link_is_told_all_the_same(house: House) -> None:
    with write():
        pia = tables.Person.create(project=house.project, name="Pia Lindqvist", email="pia@example.org")
        notice_rows.add(house.project, pia.id, "asked", {}, NOW)
    (one,) = notice_rows.due(NOW)
    assert (one.person_id, one.salt, one.on_paper, one.email) == (pia.id, None, False, "pia@example.org")


def test_a_mark_is_kept_with_the_notice_that_has_it(house: House) -> None:
    notice_rows.add_once(house.project, house.co_owner.id, "reminder", {"number": 2}, "2, Jonas", NOW + 7)
    kept = tables.Notice.get(tables.Notice.mark == "2, Jonas")
    assert (kept.person_id, kept.kind, kept.about, kept.made_at, kept.due_at, kept.state, kept.tries) == (
        house.co_owner.id, "reminder", {"number": 2}, NOW + 7, NOW + 7, "waiting", 0,
    )  # fmt: skip


def test_who_was_sent_the_receipt_of_an_entry(house: House) -> None:
    first, second, again = (add(house, "receipt", entry=entry) for entry in (9, 8, 9))
    add(house, "asked", entry=9)
    other = add(house, "other_owner", entry=8)
    assert [one.id for one in notice_rows.about_entry(house.project, 9)] == [first, again]
    assert [one.id for one in notice_rows.about_entry(house.project, 8)] == [second, other]
    assert notice_rows.about_entry(house.other_project, 9) == []
