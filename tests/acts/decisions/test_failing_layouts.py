"""A layout that breaks a rule is offered by nobody, unless a manager says in writing why; then the record says so."""

from copy import deepcopy
from dataclasses import replace
from typing import Any

import pytest

from portal.acts.actor import Actor
from portal.acts.decisions.asking import ask_again, ask_decision
from portal.acts.decisions.proposals import propose_layout
from portal.acts.plan.planned_questions import ask_planned
from portal.acts.plan.starting_plans import start_from_project
from portal.acts.refusals import FieldRefused
from portal.demo.dimensions import DECK, PULLS
from portal.layouts.kinds import lay_out
from portal.store.rows import decision_rows, planned_rows
from portal.store.tables import Decision, Person, PlannedQuestion
from portal.words.dates import utc_text
from tests.acts.kept import entries, kinds, newest
from tests.drawn import BECAUSE, ONE, TIGHT, TWO, ask_deck, ask_pulls, ask_tight, key_of, tight_question
from tests.house import NOW, House

FAILING = next(layout for layout in lay_out("deck", TIGHT) if layout.title == TWO)


def refusal(house: House, question: dict[str, Any]) -> FieldRefused:
    before = kinds(house.project)
    with pytest.raises(FieldRefused) as refused:
        ask_decision(house.manager, house.project, question, NOW)
    assert kinds(house.project) == before
    return refused.value


def asked_option(decision: Decision, number: int = 1) -> dict[str, Any]:
    return decision_rows.revision(decision.id, number).options[1]


@pytest.mark.parametrize("name", [TWO, FAILING.key, {"key": FAILING.key}, FAILING.to_json()])
def test_it_is_not_offered_whatever_it_is_called_and_the_refusal_says_why(house: House, name: Any) -> None:
    question = tight_question(detail={"layout": name})
    del question["options"][1]["despite"]
    found = refusal(house, question)
    assert found.field == "options.1.detail.layout"
    (broken,) = FAILING.failed
    assert broken.sentence[1:] in str(found) and f"by {broken.lacks}" in str(found)
    assert all(mend in str(found) for mend in FAILING.mends) and FAILING.mends


@pytest.mark.parametrize("reason", ["", " ", "\u200b", None, 7, ["They want it"]])
def test_a_reason_that_says_nothing_is_none(house: House, reason: Any) -> None:
    found = refusal(house, tight_question(despite={"reason": reason}))
    assert found.field == "options.1.despite.reason" and "why it is offered all the same" in str(found)


@pytest.mark.parametrize("despite", ["They want it", ["They want it"], {"why": "They want it"}, True])
def test_what_is_no_reason_by_its_shape_is_refused(house: House, despite: Any) -> None:
    assert str(refusal(house, tight_question(despite=despite)).field).startswith("options.1.despite")


@pytest.mark.parametrize("more", [{"by": "Someone Else"}, {"at": "2026-12-02T13:30:00Z"}, {"by": None}])
def test_nobody_sends_whose_reason_it_is_or_since_when(house: House, more: dict[str, Any]) -> None:
    assert refusal(house, tight_question(despite={"reason": BECAUSE} | more)).field == "options.1.despite"


def test_it_is_never_recommended(house: House) -> None:
    assert refusal(house, tight_question(recommended=True)).field == "options.1.recommended"


def test_with_a_reason_it_is_offered_under_the_managers_name_and_the_record_says_so(house: House) -> None:
    decision = ask_tight(house)
    despite = {"reason": BECAUSE, "by": house.manager.name, "at": utc_text(NOW)}
    assert asked_option(decision)["despite"] == despite
    assert kinds(house.project)[-2:] == ["asked", "failing_layout_offered"]
    entry = newest(house.project)
    assert entry["actor"]["name"] == house.manager.name
    body = entry["body"]
    assert (body["decision"], body["revision"], body["option"], body["layout"]) == (
        decision.number, 1, "b", FAILING.key)
    assert {name: body[name] for name in despite} == despite
    assert len(body["failed"]) == 1 and FAILING.failed[0].sentence in body["failed"][0]


def test_where_nothing_fails_there_is_no_reason_and_no_entry(house: House) -> None:
    ask_deck(house)
    assert "failing_layout_offered" not in kinds(house.project)
    passing = tight_question()
    passing["options"] = [{"title": "One", "detail": {"layout": ONE}, "despite": {"reason": BECAUSE}}]
    assert refusal(house, passing).field == "options.0.despite"
    words = {"question": "Which?", "options": [{"title": "Oak", "despite": {"reason": BECAUSE}}]}
    assert refusal(house, words).field == "options.0.despite"


def test_asked_again_in_words_it_keeps_its_reason_its_name_and_its_time(house: House) -> None:
    decision = ask_tight(house)
    other = replace(house.manager, name="Ines Dahl")
    ask_again(other, house.project, decision.id, {"question": "Which holes now?"}, NOW + 60)
    assert asked_option(decision, 2)["despite"] == asked_option(decision)["despite"]
    again = newest(house.project)
    assert again["kind"] == "failing_layout_offered" and again["body"]["revision"] == 2
    assert (again["actor"]["name"], again["body"]["by"]) == ("Ines Dahl", house.manager.name)


def test_a_reason_written_anew_is_of_who_writes_it(house: House) -> None:
    decision = ask_tight(house)
    other, options = replace(house.manager, name="Ines Dahl"), deepcopy(tight_question()["options"])
    options[1]["despite"] = {"reason": "They insist."}
    ask_again(other, house.project, decision.id, {"options": options}, NOW + 60)
    assert asked_option(decision, 2)["despite"] == {
        "reason": "They insist.", "by": "Ines Dahl", "at": utc_text(NOW + 60)}


def test_where_it_fails_otherwise_the_reason_is_written_anew(house: House) -> None:
    decision = ask_tight(house)
    worse = deepcopy(TIGHT) | {"minimums": TIGHT["minimums"] | {"between_holes": "3-1/2 in"}}
    with pytest.raises(FieldRefused) as refused:
        ask_again(house.manager, house.project, decision.id, {"detail": {"dimensions": worse}}, NOW + 60)
    assert refused.value.field == "options.1.despite" and "Write the reason anew" in str(refused.value)


def test_the_same_words_do_not_cover_another_failure(house: House) -> None:
    decision, options = ask_tight(house), deepcopy(tight_question()["options"])
    worse = deepcopy(TIGHT) | {"minimums": TIGHT["minimums"] | {"between_holes": "3-1/2 in"}}
    again: dict[str, Any] = {"detail": {"dimensions": worse}, "options": options}
    options[1]["despite"] = {"reason": f" {BECAUSE} "}
    with pytest.raises(FieldRefused, match="Write the reason anew") as refused:
        ask_again(house.manager, house.project, decision.id, again, NOW + 60)
    assert refused.value.field == "options.1.despite"
    options[1]["despite"] = {"reason": "They know that it is nearer now."}
    ask_again(house.manager, house.project, decision.id, again, NOW + 60)
    assert asked_option(decision, 2)["despite"]["at"] == utc_text(NOW + 60)


def test_where_it_fails_no_more_the_reason_goes(house: House) -> None:
    decision = ask_tight(house)
    ask_again(house.manager, house.project, decision.id, {"detail": {"dimensions": deepcopy(DECK)}}, NOW + 60)
    assert "despite" not in asked_option(decision, 2) and newest(house.project)["kind"] == "revised"


def test_what_passed_when_it_was_asked_and_fails_now_needs_a_reason(house: House) -> None:
    decision = ask_deck(house)
    with pytest.raises(FieldRefused) as refused:
        ask_again(house.manager, house.project, decision.id, {"detail": {"dimensions": deepcopy(TIGHT)}}, NOW + 60)
    assert refused.value.field == "options.1.detail.layout"


def test_asked_again_unchanged_it_is_no_change(house: House) -> None:
    decision = ask_tight(house)
    for options in (None, decision_rows.revision(decision.id, 1).options, tight_question()["options"]):
        sent = {} if options is None else {"options": deepcopy(options)}
        if options is not None and options[1].get("key") is None:
            sent["options"][0]["effects"] = sent["options"][1]["effects"] = ""
        with pytest.raises(FieldRefused, match="Nothing has changed"):
            ask_again(house.manager, house.project, decision.id, sent, NOW + 60)


def test_a_designer_proposes_none(house: House) -> None:
    row = Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    designer = Actor("designer", row.id, row.name, house.project)
    asked = ask_pulls(house)
    near = {"drawers": {"from_top": "1/4 in"}}
    failing = next(one for one in lay_out("pulls", PULLS | near) if not one.ok)
    with pytest.raises(FieldRefused) as refused:
        propose_layout(designer, house.project, asked.id, placement=near, layout=failing.key, note="", now=NOW)
    assert refused.value.field == "layout" and failing.failed[0].sentence[1:] in str(refused.value)
    assert "placement_proposed" not in kinds(house.project)


def test_a_planned_question_is_asked_by_the_same_rule(house: House) -> None:
    row = PlannedQuestion.create(
        project=house.project, kind="deck", question="Which holes?", options=[], lead_days=1, holds=[], room=None)
    question = tight_question()
    del question["options"][1]["despite"]
    with pytest.raises(FieldRefused) as refused:
        ask_planned(house.manager, house.project, row.id, question, NOW)
    assert refused.value.field == "options.1.detail.layout"
    assert planned_rows.question(house.project, row.id).decision_id is None
    assert [entry["kind"] for entry in entries(house.project)] == []


def test_an_earlier_project_gives_on_neither_the_drawing_nor_the_reason(house: House) -> None:
    decision = ask_tight(house)
    laid_out = start_from_project(house.manager, house.other_project, house.project, now=NOW)
    rows = [planned_rows.question(house.other_project, one) for one in laid_out.questions]
    planned = next(row for row in rows if row.kind == "deck")
    assert [option["title"] for option in planned.options] == ["One hole", "Two holes"]
    assert not any({"detail", "despite"} & set(option) for option in planned.options)
    question = {"question": planned.question, "kind": "deck", "options": planned.options}
    asked = ask_planned(house.manager, house.other_project, planned.id, question, NOW)
    assert "despite" in asked_option(decision) and "despite" not in asked_option(asked)


def test_keys_are_named_the_same(house: House) -> None:
    decision = ask_tight(house, detail={"layout": key_of(TWO)})
    assert asked_option(decision)["detail"]["layout"]["ok"] is False


def test_a_long_name_that_is_no_layout_is_not_said_back_whole(house: House) -> None:
    found = refusal(house, tight_question(detail={"layout": "x" * 100_000}))
    assert "There is no layout “xxx" in str(found) and len(str(found)) < 1000
