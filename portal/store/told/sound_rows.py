"""Whether each row of a project holds what its columns can hold: SQLite keeps any value in any column, and what
somebody has written there past the product can stop whoever reads it."""

import math
from collections.abc import Iterable, Iterator
from datetime import date
from typing import Any, NamedTuple

from peewee import (
    BigIntegerField,
    BlobField,
    BooleanField,
    CharField,
    DateField,
    Field,
    FloatField,
    ForeignKeyField,
    IntegerField,
    JSONField,
    TextField,
)

from portal.store import tables
from portal.store.engine.kept_options import json_in
from portal.store.engine.named_rows import Row, rows
from portal.store.tables import Table
from portal.store.told.told_rows import WHOSE, key_of, name_of, rows_of

_LATEST = 253_402_300_799  # the last second of the year 9999
_SHARED: tuple[type[Table], ...] = (
    tables.Firm, tables.Staff, tables.Wording, tables.Crew, tables.CrewName, tables.Supplier,
)  # fmt: skip
"""What the pages of all projects go by."""


class Unsound(NamedTuple):
    """Where something stands that can't: a row by table and key, and its column; None where even that can't be read."""

    table: str
    key: Any = None
    column: str | None = None


def unsound(project_id: int) -> Iterator[Unsound]:
    """Every value of a project's rows, and of those that all projects share, that its column can't hold."""
    for table in Table.__subclasses__() + tables.Versioned.__subclasses__():
        if table is tables.Versioned:
            continue
        try:
            yield from _of(table, _found(table, project_id))
        except Exception:  # whatever the driver says of a value that it can't give
            yield Unsound(name_of(table))


def _found(table: type[Table], project_id: int) -> list[Row]:
    if table in WHOSE:
        return rows_of(table, project_id)
    if table in _SHARED:
        return rows(f'SELECT * FROM "{name_of(table)}"')
    if "project" in table._meta.fields:
        return rows(f'SELECT * FROM "{name_of(table)}" WHERE project_id = ?', project_id)
    if "person" in table._meta.fields:
        of_people = "person_id IN (SELECT id FROM person WHERE project_id = ?)"
        return rows(f'SELECT * FROM "{name_of(table)}" WHERE {of_people}', project_id)
    return []  # tokens, keys, answers: of no project


def _of(table: type[Table], found: Iterable[Row]) -> Iterator[Unsound]:
    fields = table._meta.sorted_fields
    key = None if table._meta.composite_key else key_of(table)
    there: dict[ForeignKeyField, set[Any]] = {}
    for row in found:
        for field in fields:
            value = row[field.column_name]
            if not _fits(field, value) or not _is_there(field, value, there):
                name = row[key] if key else _composite(table, row)
                yield Unsound(name_of(table), name, field.column_name)


def _composite(table: type[Table], row: Row) -> str:
    names = (table._meta.fields[name].column_name for name in table._meta.primary_key.field_names)  # type: ignore[union-attr]
    return ", ".join(str(row[name]) for name in names)


def _is_there(field: Field, value: Any, there: dict[ForeignKeyField, set[Any]]) -> bool:
    """Whether the row that it names is there; of each kind, all ids are read once."""
    if value is None or not isinstance(field, ForeignKeyField):
        return True
    if field not in there:
        key = key_of(field.rel_model)
        there[field] = {row[key] for row in rows(f'SELECT "{key}" FROM "{name_of(field.rel_model)}"')}
    return value in there[field]


def _fits(field: Field, value: Any) -> bool:
    if value is None:
        return bool(field.null)
    if isinstance(field, ForeignKeyField | IntegerField):
        whole = isinstance(value, int) and not isinstance(value, bool)
        return whole and (not _is_time(field) or 0 <= value <= _LATEST)
    if isinstance(field, BooleanField):
        return value in (0, 1)
    if isinstance(field, JSONField):
        return not isinstance(value, bytes) and (not isinstance(value, str) or _is_json(value))
    if isinstance(field, CharField | TextField):
        return isinstance(value, str) and _is_text(value)
    if isinstance(field, DateField):
        return isinstance(value, date) or _is_date(value)
    if isinstance(field, FloatField):
        return isinstance(value, int | float) and math.isfinite(value)
    return isinstance(value, bytes | memoryview) if isinstance(field, BlobField) else True


def _is_time(field: Field) -> bool:
    return isinstance(field, BigIntegerField) and (field.name == "at" or field.name.endswith("_at"))


def _is_json(value: str) -> bool:
    return json_in(value) is not None or value.strip() == "null"


def _is_text(value: str) -> bool:
    try:
        value.encode()
    except UnicodeEncodeError:
        return False
    return "\0" not in value


def _is_date(value: Any) -> bool:
    try:
        return isinstance(value, str) and bool(date.fromisoformat(value))
    except ValueError:
        return False
