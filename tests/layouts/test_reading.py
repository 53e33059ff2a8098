"""What a kind's form says of its parts is what reading them says, in every object of every example."""

from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest

from portal.layouts.kinds import KINDS, kind_named
from portal.layouts.length import DimensionError
from tests.layouts.decks import deck_json
from tests.layouts.test_kinds import EXAMPLES

WHOLE = [
    *EXAMPLES,
    ("deck", deck_json(place={"center_line": "30 in", "row_from_front": "22 in", "pitch": "4 in"},
                       measure_from={"end": "right end", "edge": "back edge"},
                       bowls=[{"from_left": "16 in", "from_front": "4 in", "width": "28 in", "depth": "14 in"}])),
]
NEEDED_WITH = {"doors": "as soon as there is a door", "minimums": "unless nothing is drilled"}


def refused(kind: str, data: Any) -> DimensionError | None:
    try:
        kind_named(kind).from_json(data)
    except DimensionError as error:
        return error
    return None


def objects(data: Any, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every object with its dotted path, the outermost first."""
    if isinstance(data, dict):
        yield path, data
        for name, value in data.items():
            yield from objects(value, f"{path}.{name}" if path else name)
    if isinstance(data, list):
        for index, value in enumerate(data):
            yield from objects(value, f"{path}.{index}")


@pytest.mark.parametrize(("kind", "data"), WHOLE)
def test_a_misspelt_field_is_refused_in_every_object(kind: str, data: dict[str, Any]) -> None:
    """A misspelt minimum must not pass for a missing one."""
    for path, _ in objects(data):
        changed = deepcopy(data)
        dict(objects(changed))[path]["minimun"] = "1 in"
        error = refused(kind, changed)
        assert error is not None and error.field == (f"{path}.minimun" if path else "minimun")
        assert "is not a field here" in error.message


@pytest.mark.parametrize(("kind", "data"), WHOLE)
def test_a_part_is_needed_where_its_form_says_so_and_only_there(kind: str, data: dict[str, Any]) -> None:
    for part in kind_named(kind).FORM:
        if part.path and "." not in part.path and part.path in data and part.path not in NEEDED_WITH:
            error = refused(kind, {name: value for name, value in data.items() if name != part.path})
            missing = error is not None and error.field == part.path
            assert missing == part.needed, part.path


@pytest.mark.parametrize("kind", KINDS)
def test_the_first_part_of_a_form_and_least_distances_are_always_asked_for(kind: str) -> None:
    form = kind_named(kind).FORM
    assert form[0].needed and all(part.needed for part in form if part.path == "minimums")
    assert all(part.rows in range(1, 9) for part in form if part.rows)


@pytest.mark.parametrize(("kind", "data"), WHOLE)
def test_a_blank_that_may_stay_empty_is_never_called_missing_unless_something_else_asks_for_it(
    kind: str, data: dict[str, Any]
) -> None:
    asked_for = {
        "minimums.to_cabinet_side", "minimums.to_underneath", "faucet.outer_to_outer", "smallest_radius", "drawers",
        "aisles.edge", "aisles.on_overhang_side", "underneath.width", "underneath.depth",
        "density",
    }  # fmt: skip
    for part in kind_named(kind).FORM:
        for blank in part.blanks:
            name = f"{part.path}.{blank.name}" if part.path else blank.name
            if not blank.needed and name not in asked_for:
                changed = deepcopy(data)
                for path, inner in objects(changed):
                    if ".".join(step for step in path.split(".") if not step.isdecimal()) == part.path:
                        inner.pop(blank.name, None)
                error = refused(kind, changed)
                assert error is None or "is missing" not in error.message, name
