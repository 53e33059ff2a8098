"""Whatever stands in whichever field, the answer is layouts or a refusal that names a field; never anything else."""

from copy import deepcopy
from typing import Any

import pytest

from portal.layouts import kinds
from portal.layouts.length import DimensionError
from tests.layouts.test_kinds import EXAMPLES

JUNK: list[Any] = [None, 0, -1, 1.5, True, "", "x", "0 in", "1/64 in", "99 ft", "9999 ft", [], {}, [None], ["1 in"],
                   {"name": "x"}, [{}] * 30, "either", "1"]
TURNS = 5
"""Each field gets every fifth piece of junk, in turn, so that all of it passes by in a second or two."""


def fields(part: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every field of an example, at any depth."""
    inner = part.items() if isinstance(part, dict) else enumerate(part) if isinstance(part, list) else ()
    return [found for name, value in inner for found in ((*path, name), *fields(value, (*path, name)))]


def replaced(data: dict[str, Any], path: tuple[Any, ...], value: Any) -> dict[str, Any]:
    changed: Any = deepcopy(data)
    target = changed
    for name in path[:-1]:
        target = target[name]
    target[path[-1]] = value
    return changed  # type: ignore[no-any-return]


@pytest.mark.parametrize(("name", "data"), EXAMPLES)
def test_junk_in_any_field_is_laid_out_or_refused_by_name(name: str, data: dict[str, Any]) -> None:
    refused = 0
    for turn, path in enumerate(fields(data)):
        for junk in JUNK[turn % TURNS :: TURNS]:
            try:
                for layout in kinds.lay_out(name, replaced(data, path, junk))[:3]:
                    assert layout.to_json()["title"]
            except DimensionError as error:
                refused += 1
                assert error.field and error.message
    assert refused > len(fields(data))
