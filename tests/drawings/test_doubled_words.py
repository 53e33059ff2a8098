"""No sentence of any kind of layout says a word twice in a row, however its things were named."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

import pytest

from portal.drawings.drawing_kinds import drawn
from portal.drawings.layout_answer import answered
from portal.layouts import kinds
from portal.layouts.length import DimensionError
from tests.layouts.decks import deck_json
from tests.layouts.test_kinds import EXAMPLES

TWICE = re.compile(r"\b([a-z]+)\s+\1\b", re.IGNORECASE)
ARTICLES = re.compile(r"\b(?:the|an?|no) (?:the|an?)\b", re.IGNORECASE)
SHARED = "accessories__0__shares"


def named_with(article: str, data: Any) -> Any:
    """The same dimensions, every name in them typed with an article."""
    if isinstance(data, list):
        return [named_with(article, each) for each in data]
    if not isinstance(data, dict):
        return data
    return {key: article + value if key == "name" else named_with(article, value) for key, value in data.items()}


def sentences(found: Any) -> Iterator[str]:
    """Every text in an answer or a drawing, however deep."""
    if isinstance(found, str):
        yield found
    elif isinstance(found, dict):
        yield from (text for each in found.values() for text in sentences(each))
    elif isinstance(found, list | tuple):
        yield from (text for each in found for text in sentences(each))
    elif is_dataclass(found):
        yield from (text for field in fields(found) for text in sentences(getattr(found, field.name)))


def doubled(kind: str, data: dict[str, Any]) -> list[str]:
    """What is said twice in a row by any layout of these dimensions or by its drawing."""
    found = [
        text for layout in kinds.lay_out(kind, data)
        for text in sentences([answered(layout, 1, drawing=False), drawn(layout)])
    ]
    assert len(found) > 10
    return [text for text in found if TWICE.search(text) or ARTICLES.search(text)]


@pytest.mark.parametrize("article", ["", "the ", "The ", "a "])
@pytest.mark.parametrize(("kind", "data"), EXAMPLES)
def test_no_word_stands_twice_in_a_row(kind: str, data: dict[str, Any], article: str) -> None:
    assert doubled(kind, named_with(article, data)) == []


@pytest.mark.parametrize("changed", [{}, {"accessories": None}, {SHARED: "the faucet has a bottle"}])
def test_a_faucet_without_a_name_is_the_faucet(changed: dict[str, Any]) -> None:
    data = deck_json(faucet__name=None, **changed)
    assert doubled("deck", data) == []
    assert any("for the faucet" in layout.title for layout in kinds.lay_out("deck", data))


def test_two_accessories_that_differ_by_an_article_are_one_name() -> None:
    with pytest.raises(DimensionError, match="is there twice"):
        kinds.lay_out("deck", deck_json(accessories__1__name="the soap dispenser"))
