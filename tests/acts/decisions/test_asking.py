"""Asking, asking again, changing what waits for an answer, and answering what was asked back."""

from datetime import date
from typing import Any

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import answer_question, ask_again, ask_decision, change_decision, with_keys
from portal.acts.decisions.asking_back import ask_back
from portal.acts.plan.starting import start_phase
from portal.acts.refusals import AlreadyAnswered, FieldRefused, Held, NotFound, Stale
from portal.store.rows import decision_rows, plan_rows
from portal.store.tables import Decision, QuestionBack, Revision
from tests.acts.kept import entries, kinds, newest, notices
from tests.house import NOW, House

LAMP = {"question": "Which lamp?", "options": [{"title": "The round one"}, {"title": "The long one"}]}


def ask(house: House, **values: Any) -> Decision:
    return ask_decision(house.manager, house.project, LAMP | values, NOW)


def again(house: House, number: int = 1, seen: int | None = None, **values: Any) -> Decision:
    return ask_again(house.manager, house.project, house.decisions[number], values, NOW + 60, seen)


def change(house: House, number: int = 1, seen: int | None = None, **values: Any) -> Decision:
    row = Decision.get_by_id(house.decisions[number])
    return change_decision(house.manager, house.project, row.id, seen or row.version, values, NOW + 60)


def current(decision: Decision) -> Revision:
    return decision_rows.revision(decision.id, decision.revision)


def test_a_decision_takes_the_next_number_and_waits(house: House) -> None:
    asked = ask(house, kind="lamp", room=house.rooms["bath"], lead_days=4, asked_for=date(2026, 12, 15))
    assert (asked.number, asked.revision, asked.state) == (len(house.decisions) + 1, 1, "asked")
    assert (asked.kind, asked.room_id, asked.lead_days, asked.asked_for) == (
        "lamp", house.rooms["bath"], 4, date(2026, 12, 15)
    )  # fmt: skip
    shown = current(asked)
    assert (shown.question, shown.asked_at, shown.asked_by_id, shown.reason) == (
        "Which lamp?", NOW, house.manager.id, ""
    )  # fmt: skip
    assert [(one["key"], one["title"]) for one in shown.options] == [("a", "The round one"), ("b", "The long one")]
    assert ask(house).number == asked.number + 1


def test_what_was_asked_is_in_the_record_with_its_check_code(house: House) -> None:
    asked = ask(house)
    assert newest(house.project)["kind"] == "asked"
    assert newest(house.project)["body"] == {
        "decision": asked.number, "revision": 1, "check_code": current(asked).check_code, "question": "Which lamp?",
        "reason": "", "approvers": "any",
    }  # fmt: skip


def test_each_who_may_answer_gets_a_letter(house: House) -> None:
    asked = ask(house)
    assert [(one.person, one.kind) for one in notices(house.project)] == [
        (house.homeowner.id, "asked"), (house.co_owner.id, "asked"),
    ]  # fmt: skip
    assert notices(house.project)[0].about == {"decision": asked.id, "number": asked.number, "revision": 1}


def test_who_is_named_for_it_gets_the_only_letter(house: House) -> None:
    ask(house, approvers=str(house.co_owner.id))
    assert [one.person for one in notices(house.project)] == [house.co_owner.id]


def test_a_phase_that_it_holds_does_not_start(house: House) -> None:
    asked = ask(house, holds=[house.phases["top"]])
    assert plan_rows.held_by(house.phases["top"]) == [asked.id]
    with pytest.raises(Held):
        start_phase(house.manager, house.project, house.phases["top"], now=NOW)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"room": 10**6}, "room"),
        ({"holds": [10**6]}, "holds"),
        ({"approvers": "nobody"}, "approvers"),
        ({"options": [{"title": "Oak", "key": "k"}, {"title": "Ash", "key": "k"}]}, "options"),
        ({"options": [{"title": t, "recommended": True} for t in ("Oak", "Ash")]}, "options"),
    ],
)
def test_what_can_not_be_asked_is_refused_by_its_field_and_nothing_is_kept(
    house: House, values: dict[str, Any], field: str
) -> None:
    with pytest.raises(FieldRefused) as refused:
        ask(house, **values)
    assert refused.value.field == field
    assert Decision.select().where(Decision.project == house.project).count() == len(house.decisions)
    assert (entries(house.project), notices(house.project)) == ([], [])


def test_rooms_and_phases_of_another_house_are_none_of_this_one(house: House) -> None:
    for values in ({"room": house.rooms["bath"]}, {"holds": [house.phases["top"]]}):
        with pytest.raises(FieldRefused, match="in this project"):
            ask_decision(house.manager, house.other_project, LAMP | values, NOW)


def test_options_get_letters_where_they_bring_no_keys() -> None:
    keyed = with_keys([{"title": "Oak"}, {"title": "Ash", "key": "ash"}, {"title": "Elm"}])
    assert [one["key"] for one in keyed] == ["a", "ash", "c"]
    with pytest.raises(FieldRefused, match="same key"):
        with_keys([{"title": "Oak"}, {"title": "Ash", "key": "a"}])


def test_one_recommendation_is_enough() -> None:
    assert with_keys([{"title": "Oak", "recommended": True}, {"title": "Ash", "recommended": False}])


def test_asked_again_it_is_a_new_revision_with_what_was_not_sent(house: House) -> None:
    before = decision_rows.revision(house.decisions[1], 1)
    asked = again(house, question="Which holes, then?", reason="The sink is another")
    shown = current(asked)
    assert (asked.revision, asked.state, shown.number) == (2, "asked", 2)
    assert (shown.question, shown.reason) == ("Which holes, then?", "The sink is another")
    assert [one["title"] for one in shown.options] == [one["title"] for one in before.options]
    assert shown.check_code != before.check_code
    assert decision_rows.revision(house.decisions[1], 1).question == before.question
    assert newest(house.project)["kind"] == "revised"
    assert newest(house.project)["body"]["reason"] == "The sink is another"
    assert newest(house.project)["body"]["revision"] == 2
    assert [one.about["revision"] for one in notices(house.project)] == [2, 2]


def test_what_was_asked_back_and_approved_is_asked_anew(house: House) -> None:
    for number in (3, 4):
        assert again(house, number, question="Something else?").state == "asked"


def test_asking_the_same_again_is_refused_and_counts_no_revision(house: House) -> None:
    before = decision_rows.revision(house.decisions[1], 1)
    for same in ({}, {"question": before.question}, {"reason": "Again"}, {"options": before.options}):
        with pytest.raises(FieldRefused, match="Nothing has changed") as refused:
            again(house, **same)
        assert refused.value.field == "question"
    assert Decision.get_by_id(house.decisions[1]).revision == 1
    assert (entries(house.project), notices(house.project)) == ([], [])


def test_who_has_seen_an_older_version_asks_nothing_again(house: House) -> None:
    row = Decision.get_by_id(house.decisions[1])
    change(house, lead_days=7)
    with pytest.raises(Stale):
        again(house, seen=row.version, question="Which holes, then?")
    assert again(house, seen=row.version + 1, question="Which holes, then?").revision == 2


def test_what_waits_for_an_answer_is_changed_without_asking_again(house: House) -> None:
    changed = change(house, 5, lead_days=6, asked_for=date(2026, 12, 14), room=house.rooms["kitchen"])
    assert (changed.lead_days, changed.asked_for, changed.room_id) == (6, date(2026, 12, 14), house.rooms["kitchen"])
    assert (changed.revision, changed.state) == (1, "asked")
    assert (kinds(house.project), notices(house.project)) == (["question_changed"], [])


def test_a_change_leaves_the_question_and_the_kind_alone(house: House) -> None:
    before = decision_rows.revision(house.decisions[1], 1).question
    changed = change(house, kind="lamp", question="Something else?", lead_days=2)
    assert (changed.kind, current(changed).question) == ("deck_holes", before)


@pytest.mark.parametrize("wrong", [{"room": 10**6}, {"holds": [10**6]}, {"approvers": "everyone"}])
def test_a_wrong_change_is_refused_by_its_field_and_none_of_it_is_kept(house: House, wrong: dict[str, Any]) -> None:
    with pytest.raises(FieldRefused) as refused:
        change(house, lead_days=9, **wrong)
    assert refused.value.field == next(iter(wrong))
    assert Decision.get_by_id(house.decisions[1]).lead_days != 9


def test_who_has_seen_an_older_version_changes_nothing(house: House) -> None:
    row = Decision.get_by_id(house.decisions[1])
    change(house, lead_days=7)
    with pytest.raises(Stale):
        change(house, seen=row.version, lead_days=9)
    assert Decision.get_by_id(house.decisions[1]).lead_days == 7


def test_who_is_newly_named_is_told_and_nobody_twice(house: House) -> None:
    asked = ask(house, approvers=str(house.homeowner.id))
    changed = change_decision(house.manager, house.project, asked.id, asked.version, {"approvers": "all"}, NOW)
    assert [(one.person, one.kind) for one in notices(house.project)] == [
        (house.homeowner.id, "asked"), (house.co_owner.id, "asked"),
    ]  # fmt: skip
    change_decision(
        house.manager, house.project, asked.id, changed.version, {"approvers": str(house.homeowner.id)}, NOW
    )
    assert len(notices(house.project)) == 2


def test_of_an_approved_decision_nobody_is_told(house: House) -> None:
    change(house, 3, approvers=str(house.homeowner.id))
    assert notices(house.project) == []


def asked_back(house: House) -> QuestionBack:
    return decision_rows.questions_back(house.decisions[4])[0]


def answer(house: House, question: QuestionBack, text: str = " It can stay. ") -> QuestionBack:
    return answer_question(house.office, house.project, house.decisions[4], question.id, answer=text, now=NOW + 60)


def test_an_answer_gives_the_decision_back_to_the_household(house: House) -> None:
    answered = answer(house, asked_back(house))
    assert (answered.answer, answered.answered_at, answered.answered_by_id) == (
        "It can stay.", NOW + 60, house.office.id
    )  # fmt: skip
    assert Decision.get_by_id(house.decisions[4]).state == "asked"
    assert newest(house.project)["kind"] == "answered"
    assert newest(house.project)["body"] == {
        "decision": 4, "question": answered.text, "answer": "It can stay."
    }  # fmt: skip
    told = notices(house.project)
    assert [(one.person, one.kind) for one in told] == [(answered.person_id, "answered")]
    assert told[0].about == {"decision": house.decisions[4], "number": 4, "question": answered.id}


def test_while_another_question_waits_the_decision_is_not_theirs(house: House) -> None:
    ask_back(house.homeowner, house.project, house.decisions[4], revision=1, text="And the door?", now=NOW)
    answer(house, asked_back(house))
    assert Decision.get_by_id(house.decisions[4]).state == "asked_back"


def test_an_answer_to_an_approved_decision_leaves_it_approved(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[4], revision=1, option="a", name="Maren Okafor", now=NOW)
    answer(house, asked_back(house))
    assert Decision.get_by_id(house.decisions[4]).state == "approved"


def test_a_question_is_answered_once_and_the_second_hears_by_whom(house: House) -> None:
    answer(house, asked_back(house))
    with pytest.raises(AlreadyAnswered, match=house.office.name):
        answer(house, asked_back(house), "Something else")
    assert asked_back(house).answer == "It can stay."
    assert kinds(house.project) == ["answered"]


def test_an_answer_says_something(house: House) -> None:
    with pytest.raises(FieldRefused, match="Write the answer first") as refused:
        answer(house, asked_back(house), "  \n ")
    assert refused.value.field == "answer"
    assert asked_back(house).answer is None


def test_the_question_of_another_decision_is_not_found(house: House) -> None:
    with pytest.raises(NotFound):
        answer_question(
            house.office, house.project, house.decisions[1], asked_back(house).id, answer="Yes", now=NOW
        )
    with pytest.raises(NotFound):
        answer_question(
            house.office, house.other_project, house.decisions[4], asked_back(house).id, answer="Yes", now=NOW
        )
