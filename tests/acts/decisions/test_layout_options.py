"""Options that are layouts: what is shown is what was computed, and nobody else's drawing passes for one."""

from copy import deepcopy
from typing import Any

import pytest

from portal.acts.decisions.layout_options import kept, layouts_of, with_layouts
from portal.acts.refusals import FieldRefused
from portal.demo.dimensions import DECK
from tests.drawn import ONE, TWO, deck_question

WORDS = {"question": "Which lamp?", "options": [{"title": "This one"}, {"title": "That one"}]}


def refused(kind: str, values: dict[str, Any]) -> FieldRefused:
    with pytest.raises(FieldRefused) as found:
        with_layouts(kind, values)
    return found.value


def option(title: str, **values: Any) -> dict[str, Any]:
    return {"title": "As we say it", "detail": {"layout": title}} | values


def deck(*options: dict[str, Any]) -> dict[str, Any]:
    return deck_question(options=list(options))


def test_a_question_in_words_alone_stays_as_it_was_sent() -> None:
    assert with_layouts("general", WORDS) == WORDS
    assert with_layouts("deck", WORDS) == WORDS


def test_an_option_is_made_whole_with_its_drawing_and_its_sheet() -> None:
    made = with_layouts("deck", deck(option(TWO)))["options"][0]
    layout = next(one for one in layouts_of("deck", DECK) if one.title == TWO)
    assert made["detail"] == kept(layout)
    assert set(made["detail"]) >= {"layout", "drawing", "sheet"}
    sheet = made["detail"]["sheet"]
    assert set(sheet) == {
        "title", "columns", "rows", "measured_from", "checks", "work", "caption", "sizes", "first", "remarks",
        "details", "found", "dont",
    }  # fmt: skip
    assert sheet["rows"] and made["detail"]["layout"]["title"] == TWO


def test_its_words_are_the_layouts_unless_it_has_its_own() -> None:
    layout = next(one for one in layouts_of("deck", DECK) if one.title == TWO)
    own, plain = with_layouts("deck", deck(option(TWO, effects="It stands to the right."), option(ONE)))["options"]
    assert (own["title"], own["effects"]) == ("As we say it", "It stands to the right.")
    assert own["cannot_be_undone"] == layout.cannot_be_undone
    assert plain["effects"] == " ".join(next(one for one in layouts_of("deck", DECK) if one.title == ONE).effects)
    assert "recommended" not in plain
    assert with_layouts("deck", deck(option(TWO, recommended=True)))["options"][0]["recommended"] is True


def test_beside_layouts_an_option_may_be_words_only() -> None:
    made = with_layouts("deck", deck(option(TWO), {"title": "Ask me again"}))["options"]
    assert made[1] == {"title": "Ask me again"}


def test_at_least_one_option_is_a_layout_where_dimensions_are_given() -> None:
    found = refused("deck", deck({"title": "One"}, {"title": "Two", "detail": {}}))
    assert found.field == "options" and "Offer at least one layout" in str(found)


def test_a_layout_that_there_is_not_is_refused_by_its_option() -> None:
    found = refused("deck", deck(option(ONE), option("Nine holes")))
    assert found.field is not None and found.field.startswith("options.1.detail")


@pytest.mark.parametrize("drawn", ["layout", "drawing", "sheet", "for_machine"])
def test_a_drawing_that_nobody_computed_is_refused(drawn: str) -> None:
    for kind in ("deck", "general"):
        values = {"question": "Which?", "options": [{"title": "One"}, {"title": "Two", "detail": {drawn: {}}}]}
        found = refused(kind, values)
        assert found.field == "options.1.detail" and "Give those, too" in str(found)


def test_dimensions_that_can_not_be_are_refused_by_their_place() -> None:
    for path, value in (("sink_width", "nine"), ("sink_width", None)):
        dimensions = deepcopy(DECK) | {path: value}
        found = refused("deck", deck_question(detail={"dimensions": dimensions}))
        assert found.field is not None and found.field.startswith("detail.dimensions")
    found = refused("deck", deck_question(detail={"dimensions": "nine"}))
    assert found.field == "detail.dimensions"


def test_what_was_sent_is_not_changed_on_the_way() -> None:
    sent = deck(option(TWO))
    before = deepcopy(sent)
    with_layouts("deck", sent)
    assert sent == before
