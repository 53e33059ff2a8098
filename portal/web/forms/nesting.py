"""From flat inputs whose names are paths to nested values, and back: `options.0.title` is the first option's title."""

from collections.abc import Iterator, Mapping
from typing import Any

from marshmallow import Schema, fields, missing

Positions = dict[str, list[int]]
"""By the path of a list: which rows of the form its items were. Blank rows are left out of the list."""

_NAMES_ONLY = ("key",)  # says which row it was, and nothing that anyone typed


def nested(schema: Schema, flat: Mapping[str, Any]) -> tuple[dict[str, Any], Positions]:
    """Rows (numbered steps of a path) become a list or a mapping, as the schema has it; blank ones are left out."""
    tree: dict[str, Any] = {}
    for path, value in flat.items():
        *way, last = path.split(".")
        inner = tree
        for step in way:
            inner = inner.setdefault(step, {})
        inner[last] = value
    positions: Positions = {}
    return {name: _shaped(schema, value, name, positions) for name, value in tree.items() if value is not missing}, (
        positions)


def _shaped(schema: Schema, tree: Any, path: str, positions: Positions) -> Any:
    if not isinstance(tree, dict):
        return tree
    inner = {name: _shaped(schema, value, _below(path, name), positions) for name, value in tree.items()}
    if not all(name.isdigit() for name in inner):
        return {name: value for name, value in inner.items() if value is not missing}
    filled = {int(name): value for name, value in inner.items() if not _blank(value)}
    if not isinstance(declared(schema, path), fields.List):
        return {str(row): value for row, value in filled.items()}
    positions[path] = sorted(filled)
    return [filled[row] for row in positions[path]]


def _blank(value: Any) -> bool:
    if isinstance(value, dict):
        return all(_blank(inner) for name, inner in value.items() if name not in _NAMES_ONLY)
    return value is missing or value is None or value is False or value in ("", [])


def declared(schema: Schema, path: str) -> Any:
    """The schema's field at the path, or None."""
    field: Any = None
    inner: Any = schema
    for step in path.split("."):
        if isinstance(field, fields.List) and step.isdigit():
            field = field.inner
        elif isinstance(field, fields.Dict):
            field = field.value_field
        else:
            field = inner.fields.get(step) if inner is not None else None
        inner = field.schema if isinstance(field, fields.Nested) else None
    return field


def value_at(start: Any, path: str) -> Any:
    """The value below `start` (mappings, lists) at the path, or None."""
    for step in path.split("."):
        if isinstance(start, Mapping):
            start = start.get(step)
        elif isinstance(start, list) and step.isdigit():
            start = start[int(step)] if int(step) < len(start) else None
        else:
            return None
    return start


def faults(messages: Any, positions: Positions, path: str = "") -> Iterator[tuple[str, str]]:
    """Marshmallow's nested messages as (path, message), items of lists by the row that they were in the form."""
    if isinstance(messages, dict):
        for name, inner in messages.items():
            step = positions[path][name] if path in positions and isinstance(name, int) else name
            # A mapping's messages stand below `value` and `key`, a whole schema's below `_schema`: no steps of a path.
            same = name == "_schema" or set(messages) <= {"key", "value"}
            yield from faults(inner, positions, path if same else _below(path, str(step)))
    else:
        for message in messages if isinstance(messages, list) else [messages]:
            yield path, str(message)


def _below(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name
