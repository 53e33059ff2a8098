"""Whatever is sent as a layout: it is refused by its field, or what is kept is computed. Nothing else is kept, and
nothing ends in an error of ours."""

import json
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest

from portal.acts.decisions.asking import ask_decision
from portal.acts.decisions.layout_options import kept, with_layouts
from portal.acts.household.links import make_link
from portal.acts.plan.planned_questions import ask_planned
from portal.demo.dimensions import DECK, PULLS
from portal.layouts.kept_checks import PARTS
from portal.layouts.kinds import KINDS, lay_out
from portal.store.refusals import FieldRefused
from portal.store.rows import decision_rows
from portal.store.tables import Decision, Person, PlannedQuestion, Revision
from tests.api.conftest import As
from tests.drawn import ask_deck, ask_pulls
from tests.house import NOW, SECRET, House
from tests.sent_shapes import SECOND, details, moved, whole_details
from tests.served import ApiClient
from tests.unguarded import unguard

DETAILS, WHOLE = list(details()), list(whole_details())
OPTIONS = [{"title": "One", "detail": {"layout": SECOND.key}}]


def nothing_but_computed(decision: Decision) -> None:
    row = decision_rows.revision(decision.id, decision.revision)
    all_computed(decision.kind, {"options": row.options, "detail": row.detail})


def all_computed(kind: str, kept_values: dict[str, Any]) -> None:
    """All that is kept of drawings is what the kept dimensions give."""
    whole = kept_values.get("detail") or {}
    assert not set(whole) & set(PARTS)
    found = lay_out(kind, whole["dimensions"]) if kind in KINDS and whole.get("dimensions") else []
    for option in kept_values["options"]:
        detail = option.get("detail") or {}
        if set(detail) & set(PARTS):
            computed = kept(next(one for one in found if one.key == detail["layout"]["key"]))
            assert json.loads(json.dumps(computed)) == json.loads(json.dumps(detail))


def sent(detail: Any, beside: bool = False) -> dict[str, Any]:
    odd = {"title": "Two", "detail": detail}
    options = [deepcopy(OPTIONS[0]), odd] if beside else [odd]
    return {"kind": "deck", "question": "Which holes?", "options": options, "detail": {"dimensions": deepcopy(DECK)}}


def questions() -> Iterator[dict[str, Any]]:
    for detail in DETAILS:
        yield sent(detail, beside=True)
        yield sent(detail)
        yield sent(detail) | {"kind": "general"}
        yield sent(detail) | {"detail": None}
        yield sent(detail) | {"kind": "pulls", "detail": {"dimensions": PULLS}}
    for whole in WHOLE:
        yield sent({"layout": SECOND.key}) | {"detail": whole}
        yield sent(None) | {"detail": whole}
        yield sent(None) | {"detail": whole, "kind": "general"}


def test_every_shape_is_refused_or_computed() -> None:
    """That a detail is an object is for the schemas to see: they stand before every way to here."""
    refused = 0
    for question in questions():
        details = [question["detail"], *(option["detail"] for option in question["options"])]
        if all(isinstance(detail, dict | None) for detail in details):
            try:
                all_computed(question["kind"], with_layouts(question["kind"], question))
            except FieldRefused:
                refused += 1
    assert refused > 1000


def test_asked_over_the_api_every_shape_is_refused_or_computed(manager: ApiClient, house: House) -> None:
    kinds_of_answer = set()
    for question in list(questions())[::23]:
        answer = manager.post(f"projects/{house.project}/decisions", question)
        kinds_of_answer.add(answer.status_code)
        if answer.status_code == 201:
            nothing_but_computed(Decision.get_by_id(answer.get_json()["id"]))
        else:
            assert answer.status_code == 422, (answer.status_code, question)
    assert kinds_of_answer == {201, 422}


def test_asked_again_every_shape_is_refused_or_computed(manager: ApiClient, house: House) -> None:
    asked = ask_deck(house)
    path = f"projects/{house.project}/decisions/{asked.id}/revisions"
    for detail in DETAILS[::13]:
        answer = manager.post(path, {"options": sent(detail, beside=True)["options"]})
        assert answer.status_code in (201, 422), (answer.status_code, detail)
        nothing_but_computed(Decision.get_by_id(asked.id))
    for whole in WHOLE[::7]:
        answer = manager.post(path, {"detail": whole})
        assert answer.status_code in (201, 422), (answer.status_code, whole)
        nothing_but_computed(Decision.get_by_id(asked.id))


def test_what_a_plan_wants_asked_goes_the_same_way(house: House) -> None:
    for detail in DETAILS[::9]:
        row = PlannedQuestion.create(
            project=house.project, kind="deck", question="Which?", lead_days=1, holds=[], room=None,
            options=[{"title": "Two", "detail": detail}],
        )  # fmt: skip
        question = sent(detail, beside=True) | {"options": [*OPTIONS, *row.options]}
        if not isinstance(detail, dict):
            continue
        try:
            decision = ask_planned(house.manager, house.project, row.id, question, NOW)
        except FieldRefused:
            continue
        nothing_but_computed(decision)


def test_what_a_designer_proposes_is_named_and_nothing_else(sending_as: As, house: House) -> None:
    asked = ask_pulls(house)
    designer = Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    designer_client = sending_as(None)
    designer_client.bearer = make_link(house.manager, house.project, designer.id, secret=SECRET, now=NOW)
    path = f"projects/{house.project}/decisions/{asked.id}/proposals"
    names = [detail["layout"] for detail in DETAILS if isinstance(detail, dict) and "layout" in detail]
    for name in names[::31]:
        for placement in ({}, {"drawers": name}, {"layout": name}, name):
            answer = designer_client.post(path, {"layout": name, "placement": placement})
            assert answer.status_code in (201, 422), (answer.status_code, name, placement)


@pytest.mark.parametrize("detail", [moved(), *({"layout": {"title": odd}} for odd in (None, 7, []))])
def test_what_came_in_by_an_older_hole_does_not_go_on_when_it_is_asked_again(
    manager: ApiClient, house: House, detail: Any
) -> None:
    """An earlier version kept some of these as they were sent."""
    asked = ask_deck(house)
    unguard("revision")
    options = deepcopy(decision_rows.revision(asked.id, 1).options)
    options[1]["detail"] = detail
    Revision.update(options=options).where(Revision.decision == asked.id).execute()
    path = f"projects/{house.project}/decisions/{asked.id}/revisions"
    if manager.post(path, {"question": "Which now?"}).status_code == 201:
        nothing_but_computed(Decision.get_by_id(asked.id))
    else:
        assert Decision.get_by_id(asked.id).revision == 1
    options[1]["detail"] = {"layout": SECOND.key}
    assert manager.post(path, {"options": options, "question": "Once more?"}).status_code == 201
    nothing_but_computed(Decision.get_by_id(asked.id))


def test_an_empty_place_for_a_drawing_is_not_kept(house: House) -> None:
    question = sent({"drawing": None, "sheet": None}, beside=True)
    asked = ask_decision(house.manager, house.project, question, NOW)
    assert not decision_rows.revision(asked.id, 1).options[1]["detail"]


@pytest.mark.parametrize("part", PARTS)
def test_the_question_itself_has_no_drawing(part: str) -> None:
    question = sent({"layout": SECOND.key})
    with pytest.raises(FieldRefused) as refused:
        with_layouts("deck", question | {"detail": question["detail"] | {part: moved().get(part, {})}})
    assert refused.value.field == f"detail.{part}"
    empty = with_layouts("deck", question | {"detail": question["detail"] | {part: None}})
    assert empty["detail"] == question["detail"]
