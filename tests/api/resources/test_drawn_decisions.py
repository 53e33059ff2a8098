"""Decisions with drawings over the API: dimensions and the titles of layouts in; the drawing kept with the revision."""

import json
from copy import deepcopy
from typing import Any

import pytest

from portal.demo.dimensions import DECK
from portal.drawings.drawing_kinds import drawn
from portal.drawings.scenes.scene_json import scene_from_json
from portal.layouts.deck import words
from portal.layouts.kinds import lay_out
from portal.record.log.canonical import digest
from portal.store.rows import decision_rows
from portal.store.tables import Revision
from tests.drawn import ONE, ask_deck, deck_question
from tests.house import House
from tests.kept_shapes import details
from tests.layouts.test_faults import mistyped, told
from tests.served import ApiClient, refused
from tests.unguarded import unguard


def ask(manager: ApiClient, house: House, **changed: Any) -> Any:
    return manager.post(f"projects/{house.project}/decisions", deck_question(**changed))


def changed_deck(**changed: Any) -> dict[str, Any]:
    return {"dimensions": DECK | changed}


def test_an_option_is_the_layout_that_it_names(manager: ApiClient, house: House) -> None:
    decision = ask(manager, house).get_json()
    one, two = decision["options"]
    best, second = lay_out("deck", DECK)
    assert one["detail"]["layout"] == best.to_json() and two["detail"]["layout"] == second.to_json()
    assert scene_from_json(one["detail"]["drawing"]) == drawn(best).scene
    assert scene_from_json(one["detail"]["for_machine"]) == drawn(best).for_machine
    assert one["effects"] == " ".join(best.effects) and one["cannot_be_undone"] == best.cannot_be_undone
    assert two["effects"] == "The dispenser stands to the right."
    assert one["title"] == "One hole, for the faucet"


def test_the_check_code_stands_for_dimensions_and_drawing(manager: ApiClient, house: House) -> None:
    decision = ask(manager, house).get_json()
    revision = decision_rows.revision(decision["id"], 1)
    shown = json.loads(revision.shown)
    assert digest(shown) == decision["check_code"]
    assert shown["detail"]["dimensions"] == DECK
    assert shown["options"][0]["detail"]["drawing"]["items"]
    assert {"question", "guidance", "kind"} <= set(shown)
    moved = DECK["place"] | {"row_from_front": "22 in"}
    other = ask(manager, house, detail=changed_deck(place=moved)).get_json()
    assert other["check_code"] != decision["check_code"]


@pytest.mark.parametrize(("changed", "field"), [
    ({"detail": changed_deck(top={})}, "detail.dimensions.top.width"),
    ({"detail": {"dimensions": []}}, "detail.dimensions"),
    ({"detail": changed_deck(colour="red")}, "detail.dimensions.colour"),
    ({"options": [{"title": "A", "detail": {"layout": "Nine holes"}}]}, "options.0.detail.layout"),
    ({"options": [{"title": "A"}]}, "options"),
    ({"detail": None}, "options.0.detail"),
    ({"kind": "finish"}, "detail.dimensions"),
    ({"kind": "finish", "detail": None}, "options.0.detail"),
    ({"kind": "finish", "detail": None, "options": [{"title": "A", "detail": {"drawing": {}}}]}, "options.0.detail"),
    ({"options": [{"title": "A", "detail": {"layout": ONE, "maker": "B"}}]}, "options.0.detail.maker"),
])  # fmt: skip
def test_what_can_not_be_drawn_is_named_and_not_asked(
    manager: ApiClient, house: House, changed: dict[str, Any], field: str
) -> None:
    before = manager.get(f"projects/{house.project}/decisions").headers["Total-Count"]
    refused(ask(manager, house, **changed), 422, field)
    assert manager.get(f"projects/{house.project}/decisions").headers["Total-Count"] == before


def test_all_that_is_wrong_with_the_dimensions_is_told_in_one_answer(manager: ApiClient, house: House) -> None:
    wrong = {"cutout.width": "90 in", "faucet.base": "1 in", "minimums.source": " "}
    problem = refused(ask(manager, house, detail={"dimensions": mistyped(DECK, wrong)}), 422)
    assert {one["field"].removeprefix("detail.dimensions."): one["detail"] for one in problem["errors"]} == {
        field: f"{field} {message}." for field, message in told("deck", DECK, wrong).items()}
    assert problem["field"] == problem["errors"][0]["field"] and problem["errors"][0]["detail"] in problem["detail"]


def test_an_option_without_a_layout_may_stand_beside_those_with_one(manager: ApiClient, house: House) -> None:
    options = [{"title": "One", "detail": {"layout": ONE}}, {"title": "None: we keep the old top"}]
    assert ask(manager, house, options=options).get_json()["options"][1].get("detail") is None


def test_asked_again_with_other_dimensions_it_is_drawn_anew(manager: ApiClient, house: House) -> None:
    asked = ask(manager, house).get_json()
    path = f"projects/{house.project}/decisions/{asked['id']}/revisions"
    moved = changed_deck(place=DECK["place"] | {"row_from_front": "22-1/8 in"})
    again = manager.post(path, {"detail": moved, "reason": "The splash is thicker"}).get_json()
    assert again["revision"] == 2 and again["check_code"] != asked["check_code"]
    hole = again["options"][0]["detail"]["layout"]["holes"][0]
    assert hole["from_front_edge"]["text"] == "22-1/8 in"
    assert again["options"][0]["title"] == asked["options"][0]["title"]
    refused(manager.post(path, {"detail": moved}), 422, "question")


def test_nobody_can_send_a_drawing_of_their_own(manager: ApiClient, house: House) -> None:
    asked = ask(manager, house).get_json()
    path = f"projects/{house.project}/decisions/{asked['id']}/revisions"
    for part, name, value in (("drawing", "title", "Nothing to see"), ("layout", "holes", []), ("sheet", "work", "")):
        options = deepcopy(asked["options"])
        options[0]["detail"][part][name] = value
        refused(manager.post(path, {"options": options}), 422, f"options.0.detail.{part}.{name}")


def test_what_comes_back_from_a_reading_is_drawn_anew(manager: ApiClient, house: House) -> None:
    asked = ask(manager, house).get_json()
    options = deepcopy(asked["options"])
    options[1]["title"] = "Two of them"
    path = f"projects/{house.project}/decisions/{asked['id']}/revisions"
    again = manager.post(path, {"options": options}).get_json()
    assert [one["detail"] for one in again["options"]] == [one["detail"] for one in asked["options"]]
    assert again["options"][1]["title"] == "Two of them"


def test_what_layouts_answers_names_a_layout_and_so_does_its_key_alone(manager: ApiClient, house: House) -> None:
    answer = manager.post("layouts/deck", DECK).get_json()["layouts"]
    named = [answer[0], {"key": answer[1]["key"]}]
    options = [{"title": f"Way {number}", "detail": {"layout": one}} for number, one in enumerate(named)]
    asked = ask(manager, house, options=options).get_json()["options"]
    assert [one["detail"]["layout"]["key"] for one in asked] == [one["key"] for one in answer]


def test_what_layouts_answers_is_refused_where_somebody_changed_it(manager: ApiClient, house: House) -> None:
    answer = manager.post("layouts/deck", DECK).get_json()["layouts"][0]
    answer["checks"][0]["ok"] = not answer["checks"][0]["ok"]
    options = [{"title": "One", "detail": {"layout": answer}}]
    refused(ask(manager, house, options=options), 422, "options.0.detail.layout.checks")


def test_a_decision_is_asked_again_after_its_titles_were_worded_anew(
    manager: ApiClient, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = ask(manager, house).get_json()
    monkeypatch.setattr(words, "title", lambda layout: f"So many holes: {len(layout.holes)}, {layout.key}")
    path = f"projects/{house.project}/decisions/{asked['id']}/revisions"
    for as_read in (False, True):
        change = {"options": [asked["options"][0] | {"cost_cents": 500}]} if as_read else {"question": "Which now?"}
        again = manager.post(path, change).get_json()
        layout = again["options"][0]["detail"]["layout"]
        assert layout["key"] == asked["options"][0]["detail"]["layout"]["key"]
        assert layout["title"].startswith("So many holes: 1, ")
        assert again["options"][0]["title"] == asked["options"][0]["title"]
        asked = again


def test_of_what_is_kept_all_that_is_declared_is_answered_and_nothing_else(manager: ApiClient, house: House) -> None:
    """From old data, or a row that somebody changed."""
    asked = ask_deck(house)
    unguard("revision")
    first, second = decision_rows.revision(asked.id, 1).options
    for detail in list(details())[::23]:
        options = [first, second | {"detail": detail}]
        Revision.update(options=options, detail=detail).where(Revision.decision == asked.id).execute()
        answer = manager.get(f"projects/{house.project}/decisions/{asked.id}").get_json()
        kept = detail if isinstance(detail, dict) else {}
        drawn = {name: value for name, value in kept.items() if name in ("layout", "drawing", "sheet", "for_machine")}
        assert answer["options"][1]["detail"] == (drawn or None)
        assert answer["detail"] == ({"dimensions": kept["dimensions"]} if "dimensions" in kept else None)
