"""All that is wrong with what was typed into a kind's blanks, each fault by the input where it stands.

The kind's reader stops at the first fault; whoever typed them mends them all at once.
"""

import re
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

from marshmallow import ValidationError

from portal.api.http.dimensions import dimensions_schema, nested_message
from portal.layouts.form import LENGTH, paths
from portal.layouts.kinds import kind_named
from portal.layouts.length import DimensionError, Length
from portal.web.forms.blanks import PREFIX, groups
from portal.web.forms.nesting import Positions, faults, value_at

Faults = dict[str, list[str]]
_CODE = re.compile(r"\b[a-z]+(?:[._][a-z]+)+\b")


def checked(kind: str, dimensions: dict[str, Any], positions: Positions) -> Faults:
    """All that is wrong, by the input where it stands; empty when nothing is."""
    names = [field.name for group in groups(kind) for field in group.fields]
    found: Faults = {}
    for path, message in dict.fromkeys([*_not_as_described(kind, dimensions, positions),
                                        *_unreadable(kind, dimensions, positions)]):
        found.setdefault(_nearest(f"{PREFIX}{path}", names), []).append(_sentence(kind, message))
    return found


def _sentence(kind: str, message: str) -> str:
    """A fault as the form says it: what a program calls a blank is called as its label."""
    labels = {path.rpartition(".")[2]: blank.label for path, blank in paths(kind_named(kind).FORM)}
    labels |= {f"{part.path}.{blank.name}": f"{part.title}: {blank.label}"
               for part in kind_named(kind).FORM for blank in part.blanks}
    said = _CODE.sub(lambda code: f"“{labels[code[0]]}”" if code[0] in labels else code[0], message)
    return f"{'These' if said.startswith('are ') else 'This'} {said}."


def _not_as_described(kind: str, dimensions: dict[str, Any], positions: Positions) -> Iterator[tuple[str, str]]:
    try:
        dimensions_schema(kind)().load(dimensions)
    except ValidationError as error:
        yield from faults(error.normalized_messages(), positions)
        yield from _contradictory(kind, dimensions, positions)


def _contradictory(kind: str, dimensions: dict[str, Any], positions: Positions) -> Iterator[tuple[str, str]]:
    """Lengths that can be read and can't be: what may be left out and is wrong is left out, and the rest read again."""
    rest = deepcopy(dimensions)
    while True:
        try:
            kind_named(kind).from_json(rest)
            return
        except DimensionError as error:
            first = error.field.partition(".")[0]
            if first not in rest:  # it is asked for by what is left
                return
            yield from faults(nested_message(error.field, error.message), positions)
            if not any(part.path == first and not part.needed for part in kind_named(kind).FORM):
                return
            del rest[first]


def _unreadable(kind: str, dimensions: dict[str, Any], positions: Positions) -> Iterator[tuple[str, str]]:
    """Every length that can't be read."""
    for part in kind_named(kind).FORM:
        lengths = [blank.name for blank in part.blanks if blank.holds == LENGTH]
        for row in range(part.limit) if part.rows else [None]:
            path = ".".join(str(step) for step in (part.path, row) if step not in ("", None))
            for name in (f"{path}.{name}" if path else name for name in lengths):
                text = value_at(dimensions, name)
                try:
                    if text is not None:
                        Length.parse(text, name)
                except DimensionError as error:
                    yield from faults(nested_message(name, error.message), positions)


def _nearest(path: str, names: list[str]) -> str:
    """The input that a fault stands with: the one itself, else the first below it, else none."""
    return next((name for name in names if name == path or name.startswith(f"{path}.")), "")
