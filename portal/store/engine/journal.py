"""Which rows the transaction under way has written, and how each stood before: what the entries of the record tell of.

Kept by `store.tables.base` for whatever is written through a table's class. A row that somebody writes past the product
is not in it, so no entry takes such a row for the product's own.
"""

import threading
from collections.abc import Iterator
from typing import Any, NamedTuple

Row = dict[str, Any]


class Written(NamedTuple):
    """A row by its table and key; `before`: its columns as they were kept, None where there was none."""

    table: str
    key: Any
    before: Row | None


class _State(threading.local):
    rows: dict[tuple[str, Any], Row | None] | None = None


_state = _State()


def begin() -> None:
    _state.rows = {}


def end() -> None:
    _state.rows = None


def is_open() -> bool:
    return _state.rows is not None


def note(table: str, key: Any, before: Row | None) -> None:
    """The row is about to be written, or was just added. What it was at first is what counts."""
    if _state.rows is not None:
        _state.rows.setdefault((table, key), before)


def written() -> Iterator[Written]:
    """What was written and not yet told."""
    for (table, key), before in list((_state.rows or {}).items()):
        yield Written(table, key, before)


def told(one: Written) -> None:
    """An entry tells of it now; from here on, it counts anew."""
    if _state.rows is not None:
        _state.rows.pop((one.table, one.key), None)
