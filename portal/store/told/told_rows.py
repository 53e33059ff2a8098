"""The rows that a project's record tells of: which tables and columns, whose they are, and what is told of a value.

A new column of these tables is told by itself. A new table is told once it stands in WHOSE; what is neither told nor
excused fails `tests/acts/keeping/test_every_column.py`.
"""

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from peewee import BooleanField, DateField, Field, JSONField, TextField

from portal.record.log.unrecordable import LARGEST
from portal.store import tables
from portal.store.engine import journal
from portal.store.engine.kept_options import json_in
from portal.store.engine.named_rows import Row, rows
from portal.store.tables import Table, Versioned

WHOSE: dict[type[Table], str] = {
    tables.Project: "",
    tables.Room: "project", tables.Person: "project", tables.Phase: "project", tables.Visit: "project",
    tables.Delivery: "project", tables.Decision: "project", tables.Handover: "project", tables.Update: "project",
    tables.Call: "project", tables.PlannedQuestion: "project", tables.PlannedOrder: "project",
    tables.KeptSize: "project", tables.Message: "project", tables.VisitAnswer: "visit",
    tables.Link: "person", tables.Consent: "person",
    tables.PhaseLink: "phase", tables.PhaseHold: "decision", tables.DeliveryHold: "delivery",
    tables.Revision: "decision", tables.Approval: "decision", tables.QuestionWithdrawal: "decision",
    tables.QuestionBack: "decision", tables.Release: "decision", tables.Proposal: "decision",
    tables.ReleaseTakenBack: "release", tables.Withdrawal: "approval", tables.OpenItem: "handover", tables.Photo: "of",
}  # fmt: skip
"""The tables that are told, each with the field that says whose a row is: the project's, or a row's that is told."""

NOT_TOLD: dict[type[Table], frozenset[str]] = {
    tables.Project: frozenset({"name", "address", "phone", "office_hours", "contract_cents", "changed", "changed_at"}),
    tables.Person: frozenset({"phone", "email"}),
    tables.Delivery: frozenset({"supplier", "order_number", "ordered_on"}),
    tables.PlannedOrder: frozenset({"supplier"}),
}
"""Where somebody lives and how to reach them is never told: a record can't be erased. With whom something is ordered is
the firm's own business, and a household reads its record. The contract's sum has entries of its own; `changed` counts
commits, as `version` counts the changes of a row."""

NEVER_TOLD = frozenset({tables.CrewNote})
"""What is for the crew only: not even that there is something is told, nor a hash of it, from which a short code could
be guessed."""

_HASHED: dict[type[Table], frozenset[str]] = {
    tables.Call: frozenset({"caller"}),
    tables.Photo: frozenset({"caption"}),
    tables.Link: frozenset({"salt"}),
}
"""Beside all long texts and all JSON: an entry tells their SHA-256, so that they can be taken away, and stay short."""

Told = dict[str, dict[str, dict[str, Any] | None]]
"""By table and key what is told of a row: its columns; None: it is there no more."""


def name_of(table: type[Table]) -> str:
    return str(table._meta.table_name)


def key_of(table: type[Table]) -> str:
    """The column by which a row is told apart."""
    return str(table._meta.primary_key.column_name)  # type: ignore[union-attr]


_BY_NAME = {name_of(table): table for table in WHOSE}


def columns_of(table: type[Table]) -> dict[str, Field]:
    """The told columns of a table by name; its key is told with the row."""
    left_out = NOT_TOLD.get(table, frozenset()) | ({"version"} if issubclass(table, Versioned) else set())
    fields = (field for field in table._meta.sorted_fields if field is not table._meta.primary_key)
    return {field.column_name: field for field in fields if field.name not in left_out}


def standing(project_id: int) -> Told:
    """All that is to be told of a project, as it stands."""
    return {name_of(table): told for table in WHOSE if (told := _standing(table, project_id))}


def standing_of_all(project_id: int) -> Told:
    """The same, also of tables in which the project has no row."""
    return {name_of(table): _standing(table, project_id) for table in WHOSE}


def rows_of(table: type[Table], project_id: int) -> list[Row]:
    """A project's rows of one of these tables with all their columns, past the mapper, by key."""
    key = key_of(table)
    joins, owner = _joined(table)
    sql = f'SELECT t0.* FROM "{name_of(table)}" t0{joins} WHERE {owner} = ? ORDER BY t0."{key}"'
    return rows(sql, project_id)


def untold(project_id: int) -> Told:
    """What the transaction under way has written of a project's rows, and no entry tells yet: of a new row all, of
    another the columns that are not as they were."""
    found: Told = {}
    for one in journal.written():
        table = _BY_NAME.get(one.table)
        if table is None:
            continue
        after = _row(table, one.key)
        if not _is_of(project_id, table, one.before, after):
            continue
        said = _difference(table, one.before, after)
        if said != {}:
            found.setdefault(one.table, {})[str(one.key)] = said
    return found


def now_told(found: Told) -> None:
    """An entry tells all this."""
    for one in journal.written():
        if str(one.key) in found.get(one.table, {}):
            journal.told(one)


def all_told() -> None:
    """An entry tells how everything stands."""
    for one in journal.written():
        journal.told(one)


def value_told(table: type[Table], field: Field, value: Any) -> Any:
    """What an entry says of a column's value, alike on both databases."""
    if value is None:
        return None
    if isinstance(field, JSONField):
        return _digest(json.dumps(json_in(value), sort_keys=True) if _is_json(value) else value)
    if isinstance(field, TextField) or field.name in _HASHED.get(table, ()):
        return _digest(value)
    if isinstance(field, BooleanField) and value in (0, 1):
        return bool(value)
    if isinstance(field, DateField):
        return str(value)
    if isinstance(value, bytes | memoryview):
        return _digest(value)
    return str(value) if isinstance(value, int) and abs(value) > LARGEST else value


def _is_json(value: Any) -> bool:
    return not isinstance(value, str | bytes) or json_in(value) is not None or value == "null"


def _digest(value: Any) -> str:
    data = bytes(value) if isinstance(value, bytes | memoryview) else str(value).encode(errors="surrogateescape")
    return hashlib.sha256(data).hexdigest()


def _standing(table: type[Table], project_id: int) -> dict[str, dict[str, Any] | None]:
    fields, key = columns_of(table), key_of(table)
    return {str(row[key]): _said(table, fields, row) for row in rows_of(table, project_id)}


def _said(table: type[Table], fields: Mapping[str, Field], row: Row) -> dict[str, Any]:
    return {name: value_told(table, field, row[name]) for name, field in fields.items()}


def _joined(table: type[Table]) -> tuple[str, str]:
    """The joins that lead to the row that names the project, and the column in which it does."""
    if not WHOSE[table]:
        return "", "t0.id"
    joins, step = "", 0
    field = table._meta.fields[WHOSE[table]]
    while field.rel_model is not tables.Project:
        other = field.rel_model
        on = f't{step + 1}."{key_of(other)}" = t{step}."{field.column_name}"'
        joins += f' JOIN "{name_of(other)}" t{step + 1} ON {on}'
        step, field = step + 1, other._meta.fields[WHOSE[other]]
    return joins, f't{step}."{field.column_name}"'


def _row(table: type[Table], key: Any) -> Row | None:
    column = key_of(table)
    return next(iter(rows(f'SELECT * FROM "{name_of(table)}" WHERE "{column}" = ?', key)), None)


def _is_of(project_id: int, table: type[Table], *sides: Row | None) -> bool:
    """Of a row that hangs on another, the act has looked whose it is."""
    if WHOSE[table] not in ("", "project"):
        return True
    column = "project_id" if WHOSE[table] else "id"
    return any(side is not None and side[column] == project_id for side in sides)


def _difference(table: type[Table], before: Row | None, after: Row | None) -> dict[str, Any] | None:
    fields = columns_of(table)
    if after is None:
        return None if before else {}
    now = _said(table, fields, after)
    if before is None:
        return now
    was = _said(table, fields, before)
    return {name: value for name, value in now.items() if was[name] != value}


