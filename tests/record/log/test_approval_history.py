"""When a decision is approved; and whether an earlier revision was, by what the record tells of its time."""

from typing import Any

import pytest

from portal.record.log.approval_history import is_enough, was_approved

MAREN, JONAS, ADA = 7, 8, 9
OFFICE = 2


def told(kind: str, actor: int, **body: Any) -> dict[str, Any]:
    return {"kind": kind, "actor": {"id": actor}, "body": body}


def asked(revision: int = 1, decision: int = 4, **more: Any) -> dict[str, Any]:
    return told("asked" if revision == 1 else "revised", OFFICE, decision=decision, revision=revision, **more)


def yes(person: int, decision: int = 4, revision: int = 1, option: str = "a") -> dict[str, Any]:
    return told("approved", person, decision=decision, revision=revision, option=option)


def on_paper(person: int, kind: str = "approved") -> dict[str, Any]:
    return told(kind, OFFICE, decision=4, revision=1, on_paper=True, person=person, option="a")


def no(person: int) -> dict[str, Any]:
    return told("withdrawn", person, decision=4, revision=1)


def approvers(before: str, after: str, decision: int = 4) -> dict[str, Any]:
    return told("approvers_changed", OFFICE, decision=decision, before=before, approvers=after)


def household(did: str, person: int, may: bool = True, role: str = "homeowner", **more: Any) -> dict[str, Any]:
    return told("household_changed", OFFICE, did=did, person=person, may_approve=may, role=role, name="X", **more)


def changed(person: int, may: bool, before: bool, role: str = "homeowner", was: str = "homeowner") -> dict[str, Any]:
    return household("changed", person, may, role, before={"may_approve": before, "role": was, "name": "X"})


def was(*entries: dict[str, Any], now: str = "all", may: tuple[int, ...] = (MAREN, JONAS), revision: int = 1) -> bool:
    return was_approved(4, revision, entries, now, may)


@pytest.mark.parametrize(("who", "given", "may", "enough"), [
    ("any", [], [MAREN], False), ("any", [MAREN], [MAREN, JONAS], True), ("any", [ADA], [], True),
    ("all", [], [], False), ("all", [MAREN], [MAREN, JONAS], False), ("all", [MAREN, JONAS], [MAREN, JONAS], True),
    ("all", [MAREN, ADA], [MAREN], True), ("all", [ADA], [], True),
    ("7", [], [MAREN], False), ("7", [MAREN], [], True), ("7", [JONAS], [MAREN, JONAS], False),
    ("77", [MAREN], [], False),
])
def test_what_is_enough(who: str, given: list[int], may: list[int], enough: bool) -> None:
    assert is_enough(who, dict.fromkeys(given, "a"), may) is enough


@pytest.mark.parametrize("who", ["any", "all", "7", "8"])
def test_while_they_differ_nothing_is_approved_whoever_has_to(who: str) -> None:
    assert not is_enough(who, {MAREN: "a", JONAS: "b"}, [MAREN, JONAS])
    assert is_enough(who, {MAREN: "b", JONAS: "b"}, [MAREN, JONAS])


def test_those_who_differed_have_approved_once_one_of_them_chose_anew() -> None:
    differ = asked(), yes(MAREN), yes(JONAS, option="b")
    assert not was(*differ, asked(2))
    assert not was(*differ, no(JONAS), asked(2))
    assert was(*differ, no(JONAS), yes(JONAS), asked(2))


def test_one_of_two_is_not_enough_both_are_and_nobody_is_not() -> None:
    assert not was(asked(), yes(MAREN), asked(2))
    assert was(asked(), yes(MAREN), yes(JONAS), asked(2))
    assert not was(asked(), asked(2))
    assert was(asked(), yes(MAREN), asked(2), now="any")
    assert not was(asked(), yes(MAREN), asked(2), now=str(JONAS))


def test_only_answers_to_this_revision_count() -> None:
    record = asked(), yes(MAREN), asked(2), yes(JONAS, revision=2), yes(MAREN, revision=2), asked(3), yes(JONAS)
    assert [was(*record, revision=revision) for revision in (1, 2, 3)] == [False, True, False]


def test_answers_to_another_decision_and_what_settles_nothing_are_passed_over() -> None:
    other = asked(decision=5), yes(JONAS, decision=5), asked(2, decision=5)
    assert not was(*other, asked(), *other, yes(MAREN), *other, asked(2), *other)
    question = told("asked_back", JONAS, decision=4, revision=1, text="Why?")
    started = told("started", OFFICE, phase=1)
    assert was(asked(), yes(MAREN), started, yes(JONAS), household("added", ADA), question, asked(2), now="all",
               may=(MAREN, JONAS, ADA))


def test_the_newest_revision_is_told_as_it_is_now() -> None:
    assert was(asked(), yes(MAREN), yes(JONAS))
    assert not was(asked(), yes(MAREN), yes(JONAS), no(JONAS))


def test_what_was_taken_back_no_longer_counts_and_what_was_given_again_does() -> None:
    assert not was(asked(), yes(MAREN), yes(JONAS), no(MAREN), asked(2))
    assert was(asked(), yes(MAREN), no(MAREN), yes(JONAS), yes(MAREN), asked(2))
    assert not was(asked(), yes(MAREN), no(MAREN), asked(2), now="any")


def test_a_signature_on_paper_counts_for_whoever_signed() -> None:
    assert was(asked(), on_paper(MAREN), on_paper(JONAS), asked(2))
    assert not was(asked(), on_paper(MAREN), on_paper(JONAS), on_paper(JONAS, "withdrawn"), asked(2))
    assert was(asked(), on_paper(MAREN), yes(JONAS), asked(2))
    assert not was(asked(), on_paper(MAREN), on_paper(MAREN), asked(2)), "not for whoever entered it"


def test_who_had_to_approve_is_what_was_told_when_it_was_asked() -> None:
    assert was(asked(approvers="any"), yes(MAREN), asked(2, approvers="all"))
    assert not was(asked(approvers="all"), yes(MAREN), asked(2, approvers="any"), now="any")
    assert not was(asked(approvers=str(JONAS)), yes(MAREN), asked(2), now="any")


def test_a_change_of_approvers_counts_from_then_on() -> None:
    assert was(asked(approvers="all"), yes(MAREN), approvers("all", "any"), asked(2))
    assert not was(asked(approvers="any"), yes(MAREN), approvers("any", "all"), asked(2))
    assert not was(asked(approvers="all"), yes(MAREN), asked(2), approvers("all", "any"), now="any")
    assert not was(asked(approvers="all"), yes(MAREN), approvers("all", "any", decision=5), asked(2))


def test_where_an_old_entry_does_not_tell_who_had_to_approve_the_next_change_does() -> None:
    assert not was(asked(), yes(MAREN), asked(2), approvers("all", "any"), now="any")
    assert was(asked(), yes(MAREN), asked(2), approvers("any", "all"), approvers("all", "7"), now="7")
    assert not was(asked(), yes(MAREN), asked(2), approvers("any", "all", decision=5), now="all")
    assert was(yes(MAREN), asked(2), now="any"), "even where the first question itself has no entry"


def test_the_household_of_then_is_found_by_going_back_from_that_of_now() -> None:
    both = asked(approvers="all"), yes(MAREN), yes(JONAS), asked(2)
    one = asked(approvers="all"), yes(MAREN), asked(2)
    assert was(*both, household("added", ADA), may=(MAREN, JONAS, ADA))
    assert not was(*one, household("removed", JONAS), may=(MAREN,))
    assert not was(*one, changed(JONAS, may=False, before=True), may=(MAREN,))
    assert was(*one, changed(JONAS, may=True, before=False))
    assert was(*one, changed(JONAS, may=True, before=True, was="designer"))
    assert not was(*one, changed(JONAS, may=True, before=True, role="designer"), may=(MAREN,))
    assert was(*one, household("removed", JONAS, may=False), may=(MAREN,))
    assert was(*one, household("removed", JONAS, role="designer"), may=(MAREN,))
    assert was(*one, household("added", JONAS), changed(JONAS, may=False, before=True), may=(MAREN,))


def test_the_household_may_change_while_a_revision_is_asked() -> None:
    assert not was(asked(), household("added", ADA), yes(MAREN), yes(JONAS), asked(2), may=(MAREN, JONAS, ADA))
    assert not was(asked(), household("added", ADA), yes(MAREN), yes(JONAS), asked(2), household("removed", ADA))
    assert was(asked(), household("added", ADA, may=False), yes(MAREN), yes(JONAS), asked(2))
    assert was(asked(), household("added", ADA, role="designer"), yes(MAREN), yes(JONAS), asked(2))
    assert not was(asked(), changed(ADA, may=True, before=False), yes(MAREN), yes(JONAS), asked(2),
                   may=(MAREN, JONAS, ADA))


def test_what_is_approved_stays_so_whoever_comes_until_somebody_answers_again() -> None:
    approved = asked(), yes(MAREN), yes(JONAS), household("added", ADA)
    assert was(*approved, asked(2), may=(MAREN, JONAS, ADA))
    assert not was(*approved, no(JONAS), yes(JONAS), asked(2), may=(MAREN, JONAS, ADA))


def test_what_waited_for_somebody_who_left_waits_no_longer_where_all_are_asked() -> None:
    waiting = asked(approvers="all"), yes(MAREN), household("removed", JONAS), asked(2)
    assert was(*waiting, may=(MAREN,))
    assert was(asked(), yes(MAREN), changed(JONAS, may=False, before=True), asked(2), may=(MAREN,))
    assert not was(asked(approvers=str(ADA)), yes(MAREN), household("removed", JONAS), asked(2), may=(MAREN,))
    assert not was(asked(), household("removed", JONAS), asked(2), may=(MAREN,)), "nobody said yes"
