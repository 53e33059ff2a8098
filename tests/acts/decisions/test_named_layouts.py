"""A layout is named by what it is: by its key, by its title of version 0.2.0, by the object that the API answered."""

import json
from copy import deepcopy
from typing import Any

import pytest

from portal.acts.decisions.asking import ask_again
from portal.acts.decisions.layout_options import kept, kept_layout, layouts_of, with_layouts
from portal.demo.dimensions import DECK
from portal.drawings.layout_answer import answered
from portal.layouts.deck import words
from portal.layouts.kinds import lay_out
from portal.record.log.canonical import canonical, digest
from portal.store.refusals import FieldRefused
from portal.store.rows import decision_rows
from portal.store.tables import Decision, Revision
from tests.drawn import ONE, TWO, ask_deck
from tests.house import NOW, House
from tests.unguarded import unguard

FOUND = lay_out("deck", DECK)
SECOND = FOUND[1]


def whole(layout: Any, **detail: Any) -> dict[str, Any]:
    """The option that becomes of one that names a layout so."""
    one = {"title": "Two holes", "detail": {"layout": layout} | detail}
    values = {"options": [one], "detail": {"dimensions": deepcopy(DECK)}}
    option: dict[str, Any] = with_layouts("deck", values)["options"][0]
    return option


def refusal(layout: Any, **detail: Any) -> str:
    with pytest.raises(FieldRefused) as refused:
        whole(layout, **detail)
    return str(refused.value.field)


def sent(**changed: Any) -> dict[str, Any]:
    return answered(SECOND, 2, drawing=True) | changed


def reword(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every title in other words."""
    title = words.title
    monkeypatch.setattr(words, "title", lambda layout: f"Reworded: {title(layout).upper()}")


@pytest.mark.parametrize("name", [
    SECOND.key, SECOND.title, {"key": SECOND.key}, {"title": SECOND.title}, sent(), SECOND.to_json(),
    {name: value for name, value in sent().items() if name not in ("key", "drawing")},
])  # fmt: skip
def test_a_layout_is_named_by_key_by_title_or_by_what_the_api_answered(name: Any) -> None:
    assert whole(name)["detail"] == kept(SECOND)


@pytest.mark.parametrize("name", [
    SECOND.key, SECOND.title, {"key": SECOND.key}, {"title": SECOND.title}, {"key": SECOND.key, "title": SECOND.title},
])  # fmt: skip
def test_each_name_stays_good_when_titles_are_worded_anew(name: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    reword(monkeypatch)
    layout = whole(name)["detail"]["layout"]
    assert (layout["key"], layout["title"]) == (SECOND.key, f"Reworded: {TWO.upper()}")


def test_the_new_wording_is_a_name_too(monkeypatch: pytest.MonkeyPatch) -> None:
    reword(monkeypatch)
    assert whole(f"Reworded: {TWO.upper()}")["detail"]["layout"]["key"] == SECOND.key


@pytest.mark.parametrize(("changed", "field"), [
    ({"checks": []}, "checks"), ({"holes": []}, "holes"), ({"title": "Two of them"}, "title"), ({"rank": 1}, "rank"),
    ({"drawing": "<svg/>"}, "drawing"), ({"ok": False}, "ok"), ({"moon": "full"}, "moon"), ({"advice": None}, "advice"),
    ({"key": "deck:9:faucet"}, "key"), ({"key": FOUND[0].key}, "rank"), ({"key": 7}, "key"),
])  # fmt: skip
def test_what_differs_from_what_is_computed_is_refused_with_its_field(changed: dict[str, Any], field: str) -> None:
    assert refusal(sent(**changed)) == f"options.0.detail.layout.{field}"


@pytest.mark.parametrize(("layout", "field"), [
    ({}, "layout.title"), ({"title": 7}, "layout.title"), ({"key": None, "title": None}, "layout.title"), (7, "layout"),
    ([], "layout"), ({"checks": []}, "layout.title"), (True, "layout"),
])  # fmt: skip
def test_a_layout_without_a_name_is_refused(layout: Any, field: str) -> None:
    assert refusal(layout) == f"options.0.detail.{field}"


@pytest.mark.parametrize(("layout", "part", "field"), [
    (SECOND.key, {"drawing": {"title": "Mine"}}, "drawing.title"), (SECOND.key, {"sheet": {"rows": []}}, "sheet.rows"),
    (SECOND.key, {"for_machine": {"items": []}}, "for_machine.items"), (SECOND.key, {"drawing": []}, "drawing"),
    (SECOND.key, {"note": "mine"}, "note"), (None, {"drawing": {"items": []}}, "drawing"),
    (None, {"sheet": {}}, "sheet"), (None, {"for_machine": {}}, "for_machine"),
])  # fmt: skip
def test_no_drawing_comes_in_beside_a_layout_or_without_one(layout: Any, part: dict[str, Any], field: str) -> None:
    assert refusal(layout, **part) == f"options.0.detail.{field}"


def test_a_detail_that_has_nothing_to_do_with_drawings_is_refused_by_its_name() -> None:
    options = [{"title": "A", "detail": {"layout": ONE}}, {"title": "B", "detail": {"color": "red"}}]
    with pytest.raises(FieldRefused) as refused:
        with_layouts("deck", {"options": options, "detail": {"dimensions": deepcopy(DECK)}})
    assert refused.value.field == "options.1.detail.color"


def test_asked_again_after_a_rewording_nothing_is_lost(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = ask_deck(house)
    reword(monkeypatch)
    ask_again(house.manager, house.project, asked.id, {"question": "Which holes now?"}, NOW + 60)
    old, new = (decision_rows.revision(asked.id, number) for number in (1, 2))
    assert [one["title"] for one in new.options] == [one["title"] for one in old.options]
    assert [one["detail"]["layout"]["key"] for one in new.options] == [FOUND[0].key, SECOND.key]
    assert [one["detail"]["layout"]["title"] for one in new.options] == [
        f"Reworded: {title.upper()}" for title in (ONE, TWO)]


def test_a_title_that_nobody_wrote_follows_the_wording(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = ask_deck(house, options=[{"title": ONE, "detail": {"layout": ONE}}])
    reword(monkeypatch)
    ask_again(house.manager, house.project, asked.id, {}, NOW + 60)
    assert decision_rows.revision(asked.id, 2).options[0]["title"] == f"Reworded: {ONE.upper()}"


def test_what_a_layout_says_by_itself_follows_its_dimensions(house: House) -> None:
    asked = ask_deck(house)
    moved = deepcopy(DECK)
    moved["accessories"][0]["shares"] = "a bottle stands in the cabinet"
    ask_again(house.manager, house.project, asked.id, {"detail": {"dimensions": moved}}, NOW + 60)
    first, second = decision_rows.revision(asked.id, 2).options
    assert "a bottle stands in the cabinet" in first["effects"]
    assert second["effects"] == "The dispenser stands to the right."


def kept_without_keys(decision: Decision) -> None:
    """As a decision was kept before layouts had keys."""
    unguard("revision")
    row = decision_rows.revision(decision.id, 1)
    shown = json.loads(row.shown)
    for one in shown["options"]:
        del one["detail"]["layout"]["key"]
    changed = {"options": shown["options"], "shown": canonical(shown).decode(), "check_code": digest(shown)}
    Revision.update(changed).where(Revision.id == row.id).execute()


def test_a_decision_from_before_layouts_had_keys_is_asked_again_after_a_rewording(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = ask_deck(house)
    kept_without_keys(asked)
    reword(monkeypatch)
    ask_again(house.manager, house.project, asked.id, {"question": "Which holes now?"}, NOW + 60)
    assert [one["detail"]["layout"]["key"] for one in decision_rows.revision(asked.id, 2).options] == [
        FOUND[0].key, SECOND.key]


def test_a_key_alone_is_no_change_of_the_question(house: House) -> None:
    asked = ask_deck(house)
    kept_without_keys(asked)
    with pytest.raises(FieldRefused, match="Nothing has changed"):
        ask_again(house.manager, house.project, asked.id, {}, NOW + 60)


def test_a_layout_that_the_new_dimensions_no_longer_have_is_named(house: House) -> None:
    asked = ask_deck(house)
    fewer = deepcopy(DECK) | {"accessories": []}
    with pytest.raises(FieldRefused) as refused:
        ask_again(house.manager, house.project, asked.id, {"detail": {"dimensions": fewer}}, NOW + 60)
    assert refused.value.field == "options.1.detail.layout"


def test_an_option_in_words_was_kept_with_no_layout() -> None:
    found = layouts_of("deck", DECK)
    assert kept_layout({"title": "We keep the old top"}, found) is None
    assert kept_layout({"detail": {"layout": "a name"}}, found) is None
    assert kept_layout({"detail": kept(SECOND)}, found) is found[1]
