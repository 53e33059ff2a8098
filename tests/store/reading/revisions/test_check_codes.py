"""A check code finds its revision with everything that the crew has to know of it, each value in its place."""

import pytest

from portal.acts.decisions.answers import approve, withdraw
from portal.acts.decisions.asking import ask_again, ask_decision
from portal.store import tables
from portal.store.reading.revisions.check_codes import CheckedRevision, revisions_with
from portal.store.rows import decision_rows
from tests.house import NOW, ZONE, House, at
from tests.store.reading.one_of_each import one_of_each

OPTIONS = [{"title": "This one", "key": "p"}, {"title": "That one", "key": "q"}]


@pytest.fixture
def decision(house: House) -> int:
    question = {"question": "Which lamp?", "options": OPTIONS, "approvers": "all"}
    return int(ask_decision(house.manager, house.project, question, NOW).id)


def found(decision: int, revision: int = 1) -> CheckedRevision:
    code = decision_rows.revision(decision, revision).check_code
    (one,) = revisions_with(code)
    assert revisions_with(code[:12]) == [one]
    return one


def say_yes(house: House, decision: int, *, both: bool) -> None:
    for later, person in enumerate((house.homeowner, house.co_owner)[:1 + both]):
        approve(person, house.project, decision, revision=1, option="q", name=person.name, now=NOW + 60 + later)


def test_a_question_that_nobody_answered(decision: int) -> None:
    one = found(decision)
    assert one._replace(options="") == CheckedRevision(
        decision=6, revision=1, current=1, state="asked", timezone=ZONE, options="", replaced_at=None,
        approved_at=None, chosen=None, kind="general",
    )  # fmt: skip
    assert not one.is_approved and one.approved_title == ""


def test_one_of_two_has_chosen_but_not_approved_it(house: House, decision: int) -> None:
    say_yes(house, decision, both=False)
    one = found(decision)
    assert (one.state, one.chosen, one.approved_at, one.is_approved) == ("asked", "q", NOW + 60, False)


def test_both_have_approved_it_as_of_the_second(house: House, decision: int) -> None:
    say_yes(house, decision, both=True)
    one = found(decision)
    assert (one.state, one.chosen, one.approved_at, one.is_approved) == ("approved", "q", NOW + 61, True)
    assert one.approved_title == "That one"


def test_what_was_taken_back_is_no_choice(house: House, decision: int) -> None:
    say_yes(house, decision, both=False)
    withdraw(house.homeowner, house.project, decision, reason="", now=NOW + 90)
    one = found(decision)
    assert (one.chosen, one.approved_at, one.is_approved) == (None, None, False)


def test_a_revision_that_was_replaced_is_not_approved_whatever_became_of_the_next(house: House, decision: int) -> None:
    say_yes(house, decision, both=True)
    ask_again(house.manager, house.project, decision, {"question": "Which lamp now?"}, NOW + 120)
    old, new = found(decision), found(decision, 2)
    assert (old.revision, old.current, old.replaced_at, old.is_approved) == (1, 2, NOW + 120, False)
    assert (new.revision, new.current, new.replaced_at, new.is_approved) == (2, 2, None, False)
    for person in (house.homeowner, house.co_owner):
        approve(person, house.project, decision, revision=2, option="p", name=person.name, now=NOW + 150)
    assert not found(decision).is_approved and found(decision, 2).is_approved


def test_a_code_that_nothing_has_finds_nothing(decision: int) -> None:
    assert revisions_with("0" * 64) == [] and revisions_with("g") == []
    assert revisions_with(decision_rows.revision(decision, 1).check_code + "0") == []


def coded(decision: int, number: int, code: str) -> None:
    tables.Revision.create(
        decision=decision, number=number, question="", options=OPTIONS, shown="{}", check_code=code, asked_at=NOW
    )


def test_a_code_that_is_cut_short_finds_all_that_begin_with_it_in_the_order_in_which_they_were_asked(
    house: House,
) -> None:
    for number, begins, rest in ((5, "abcd", "f"), (4, "abcd", "0"), (3, "abce", "0"), (2, "abcc", "f")):
        coded(house.decisions[5], number, begins + rest * 60)
    coded(house.decisions[1], 2, "abcd1" + "0" * 59)
    assert [(one.decision, one.revision) for one in revisions_with("abcd")] == [(5, 5), (5, 4), (1, 2)]
    assert [(one.decision, one.revision) for one in revisions_with("abcd" + "0" * 60)] == [(5, 4)]


def test_each_revision_comes_with_its_own_options_and_the_time_of_its_own_project(house: House) -> None:
    """An approval of the first revision is no choice of the second; what was chosen of another decision is none."""
    one_of_each(1)
    mine = one_of_each(2)
    first, second = (revisions_with(f"2{number}" * 32)[0] for number in (1, 2))
    standing = mine.standing
    assert second == CheckedRevision(
        decision=mine.decision.number, revision=2, current=2, state="state 2", timezone="Etc/GMT+2", replaced_at=None,
        approved_at=standing.at, chosen=standing.option, options=[{"key": "k2", "title": "K"}],
        kind="kind 2", detail={"d": 2022}, as_asked=False,
    )  # fmt: skip
    assert first == second._replace(revision=1, replaced_at=mine.revisions[1].asked_at,
    options=[{"key": "k1", "title": "K"}],
                                    detail={"d": 2020})


def test_of_several_approvals_the_newest_time_counts(house: House) -> None:
    decision = house.decisions[3]
    tables.Approval.create(
        decision=decision, revision=1, option="a", person=house.co_owner.id, name="Jonas", at=at("2026-11-20T08:00")
    )
    assert found(decision).approved_at == at("2026-11-24T19:42")
