"""No sheet of any kind rounds a length without saying by how much, whatever sizes it is made of."""

import re
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest

from portal.drawings.drawing_kinds import drawn
from portal.drawings.scenes.scene import Dimension, Label
from portal.layouts.kinds import lay_out
from portal.layouts.layout import Layout
from portal.words.drawn.sheet_words import ABOUT
from tests.layouts.test_kinds import EXAMPLES

ROUNDED_INCHES = re.compile(r"about [0-9][0-9/.-]* (in|ft)\b")
ROUNDED = re.compile(r"about [0-9.]+ mm\b")
KEPT_AS_THEY_ARE = ("thickness", "hole", "base", "flange", "diameter", "centers", "length", "corner_radius",
                    "from_left", "from_floor")
"""What is read off a list, or must fit what stands beside it."""


def odd(data: Any, by: float, name: str = "") -> Any:
    """The same dimensions, every place moved off the marks of a tape by a seventh of an inch or so."""
    if isinstance(data, list):
        return [odd(each, by) for each in data]
    if isinstance(data, dict):
        return {key: value if key == "seats" else odd(value, by, key) for key, value in data.items()}
    if isinstance(data, str) and re.fullmatch(r"[0-9]+ in", data) and name not in KEPT_AS_THEY_ARE:
        return f"{int(data.split()[0]) - by:.7f} in"
    return data


def texts(found: Any) -> Iterator[str]:
    if isinstance(found, str):
        yield found
    elif isinstance(found, dict):
        yield from (text for each in found.values() for text in texts(each))
    elif isinstance(found, list | tuple):
        yield from (text for each in found for text in texts(each))


def said_on_paper(layout: Layout) -> list[str]:
    drawing = drawn(layout)
    items = [item.text for item in drawing.scene.items if isinstance(item, Dimension | Label)]
    return [layout.title, *items, *texts(drawing.sheet_to_json())]


@pytest.mark.parametrize("by", [0.0, 1 / 7, 1 / 3])
@pytest.mark.parametrize(("kind", "data"), EXAMPLES)
def test_no_inch_is_rounded_and_rounded_mm_say_so(kind: str, data: dict[str, Any], by: float) -> None:
    found = list(lay_out(kind, odd(deepcopy(data), by) if by else data))
    assert found
    for layout in found[:4]:
        every = said_on_paper(layout)
        assert [text for text in every if ROUNDED_INCHES.search(text) and "the inch name is off" not in text] == []
        if any(ROUNDED.search(text) for text in every if text != ABOUT):
            assert ABOUT in every


def test_odd_sizes_are_really_odd() -> None:
    kind, data = EXAMPLES[0]
    layout = lay_out(kind, odd(deepcopy(data), 1 / 7))[0]
    assert any(ROUNDED.search(text) for text in said_on_paper(layout))
