"""Rows by the names of their columns, past the mapper, alike on SQLite and PostgreSQL.

A query names its columns as the shape names its fields, so that a shape is filled by `Shape(**row)`: where a column
stands in the SELECT list means nothing, and one that is missing, or too many, is an error at once.
"""

import json
from collections.abc import Callable
from datetime import date
from operator import itemgetter
from typing import Any, TypeVar

from portal.store.engine.database import execute

Row = dict[str, Any]
Shape = TypeVar("Shape", bound=tuple[Any, ...])


def rows(sql: str, *parameters: Any, **read: Callable[[Any], Any]) -> list[Row]:
    """What a query finds, each row by column name. `read`: how the value of a column is read, by its name."""
    cursor = execute(sql, *parameters)
    names = [column[0] for column in cursor.description]
    found = [dict(zip(names, values, strict=True)) for values in cursor.fetchall()]
    for name, value_of in read.items():
        for row in found:
            row[name] = value_of(row[name])
    return found


def shaped(sql: str, shape: type[Shape], *parameters: Any) -> list[Shape]:
    """Many rows, each as a named tuple of this shape, with the values as the database gives them."""
    cursor = execute(sql, *parameters)
    names, fields = [column[0] for column in cursor.description], list(shape._fields)  # type: ignore[attr-defined]
    if sorted(names) != sorted(fields):
        raise TypeError(f"{shape.__name__} has {fields}, the query gives {names}")
    found = cursor.fetchall()
    ordered = found if names == fields else map(itemgetter(*map(names.index, fields)), found)
    return list(map(shape._make, ordered))  # type: ignore[attr-defined]


def first_row(sql: str, *parameters: Any, **read: Callable[[Any], Any]) -> Row | None:
    """The first row that a query finds; None where it finds none."""
    return next(iter(rows(sql, *parameters, **read)), None)


def values(sql: str, *parameters: Any) -> list[Any]:
    """What a query of one column finds. Raises ValueError for one of more columns."""
    return [value for (value,) in execute(sql, *parameters).fetchall()]


def first_value(sql: str, *parameters: Any) -> Any:
    """The value in the first row of a query of one column; None where it finds none, too."""
    return next(iter(values(sql, *parameters)), None)


def as_json(value: Any) -> Any:
    """A JSON column's value: SQLite gives its text, PostgreSQL gives it read already; None stays None."""
    return json.loads(value) if isinstance(value, str) else value


def as_json_text(value: Any) -> str:
    """A JSON column's value as text, whether it came as text or read already (then its names are in order)."""
    return value if isinstance(value, str) else json.dumps(value, sort_keys=True)


def as_date(value: date | str | None) -> date | None:
    """A date column's value: SQLite gives its text, PostgreSQL a date; None stays None."""
    return date.fromisoformat(value) if isinstance(value, str) else value
