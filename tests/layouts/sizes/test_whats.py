"""What is kept is read as the kinds read it, and kept as it was written."""

from typing import Any

import pytest

from portal.layouts.length import DimensionError
from portal.layouts.sizes.whats import WHATS, read_values


def test_values_are_kept_as_they_were_written() -> None:
    written = {"length": "2' 3-1/2\"", "thickness": "3 cm", "density": 2650, "splash": None}
    assert read_values("top", written) == {"length": "2' 3-1/2\"", "thickness": "3 cm", "density": 2650}
    assert read_values("pull", {"centers": "160 mm", "inch_sheet": False}) == {"centers": "160 mm", "inch_sheet": False}


@pytest.mark.parametrize(("what", "values", "field", "why"), [
    ("top", {"length": "60"}, "length", "add “in” or “mm”"),
    ("top", {"depth": "25 x 60 in"}, "depth", "more than one"),
    ("top", {"length": "200 ft"}, "length", "more than 100 ft"),
    ("top", {"density": "heavy"}, "density", "whole number"),
    ("faucet", {"holes": "2"}, "holes", "must be one of: 1, 3, 1 or 3"),
    ("pull", {"inch_sheet": "yes"}, "inch_sheet", "true"),
    ("accessory", {"lasts": " "}, "lasts", "must be words"),
    ("top", {"lenght": "60 in"}, "lenght", "not a field"),
    ("top", {}, "", "give at least one of: length, depth"), ("top", {"splash": None}, "", "are empty"),
    ("wall", {"length": "60 in"}, "what", "use one of: top, sink"),
    ("top", ["60 in"], "dimensions", "must be an object"),
])  # fmt: skip
def test_what_can_not_be_read_is_refused_by_its_field(what: str, values: Any, field: str, why: str) -> None:
    with pytest.raises(DimensionError, match=why) as refused:
        read_values(what, values)
    assert refused.value.field == field


def test_no_field_is_called_as_what_every_kept_thing_has() -> None:
    names = {field.name for one in WHATS.values() for field in one.fields}
    assert not names & {"id", "what", "name", "values", "source", "kept"}
