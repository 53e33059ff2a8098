"""The pictures of a decision's options, whatever is kept of them."""

from dataclasses import replace
from typing import Any

from portal.demo.dimensions import DECK
from portal.pages.pictures.fronts import card_picture, pictures_of
from portal.store.facts import DecisionFact
from tests.drawings.fronts.kept_options import demo_deck
from tests.house import NOW
from tests.kept_shapes import details


def deck(*kept: Any) -> DecisionFact:
    options = [{"key": key, "title": "As drawn", "detail": detail} for key, detail in zip("abcd", kept, strict=False)]
    return DecisionFact(7, 3, "deck", None, 1, None, "any", 1, "asked", "Which holes?", options, {"dimensions": DECK},
                        "5fc7", NOW, "")


def test_each_option_has_its_picture_and_the_question_a_card() -> None:
    asked = deck(*demo_deck())
    found = pictures_of(asked)
    assert sorted(found.by_key) == ["a", "b"] and "to scale" in found.scale
    assert found.by_key["a"].startswith('<svg class="scene"') and "2 holes, 4 in apart" in found.by_key["b"]
    assert (card_picture(asked) or "").startswith('<svg class="pic" viewBox="0 0 84 84"')


def test_options_in_words_have_none() -> None:
    asked = replace(deck(None, None), kind="general")
    assert pictures_of(asked).by_key == {} and pictures_of(asked).scale == "" and card_picture(asked) is None
    assert pictures_of(deck(None, None)).by_key == {}


def test_whatever_is_kept_the_page_goes_on_and_what_can_be_drawn_is() -> None:
    for odd in details():
        asked = deck(demo_deck()[0], odd)
        assert "a" in pictures_of(asked).by_key
        card_picture(asked)
