"""Details of options in shapes that we never keep: from old data, or from a row that somebody changed."""

from collections.abc import Iterator
from copy import deepcopy
from typing import Any

from portal.acts.decisions.layout_options import kept
from portal.demo.dimensions import DECK
from portal.layouts.kinds import lay_out

TRUE: dict[str, Any] = kept(lay_out("deck", DECK)[1])
ODD: tuple[Any, ...] = (None, True, 7, 1.5, "", "three", [], [7], {}, {"a": 1})
WRONG: tuple[Any, ...] = ("three", [7], {"a": 1}, 7)
"""For a place where nothing at all is no fault."""


def details() -> Iterator[Any]:
    """A detail of each shape, in which something is not as we keep it."""
    yield from ODD
    for part in TRUE:
        yield {name: value for name, value in TRUE.items() if name != part}
        yield from (TRUE | {part: odd} for odd in WRONG)
        for field in TRUE[part]:
            yield TRUE | {part: {name: value for name, value in TRUE[part].items() if name != field}}
            yield from (TRUE | {part: TRUE[part] | {field: odd}} for odd in WRONG)
    for odd in WRONG:
        yield from (_within("layout", "checks", odd), _within("layout", "advice", odd), _within("sheet", "rows", odd))
        yield from (_within("drawing", "items", odd), _within("for_machine", "items", odd))
    for field, value in (("x", "12"), ("x", None), ("x", 1e400), ("layer", "moon"), ("is", "blob"), ("is", []),
                         ("text", 7), ("width", -4), ("points", [1, 2]), ("points", "no")):
        for number in range(0, len(TRUE["drawing"]["items"]), 5):
            detail = deepcopy(TRUE)
            detail["drawing"]["items"][number][field] = value
            yield detail


def _within(part: str, field: str, odd: Any) -> Any:
    """The list of a part with something odd as its second."""
    first, *rest = TRUE[part][field]
    return TRUE | {part: TRUE[part] | {field: [first, odd, *rest]}}
