"""Whether every row that pages and refusals go by is as the entries told it last.

Each entry tells in `rows` what it made of rows: of a new one all columns, of another those that it changed, null for
one that it removed. The first entry that does so tells every row of the project (`all_rows`), so that from there on
none can pass for an old one. Of records in which no entry does yet, rows are not told.
"""

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from portal.record.checking.facts_in_entries import KeptEntry
from portal.record.verdict import Fault
from portal.words.capitals import first_upper
from portal.words.plurals import each_of

Columns = Mapping[str, Any]
Rows = Mapping[str, Mapping[str, Columns | None]]
"""By table and key the told columns of each row."""


class ToldRow(NamedTuple):
    """What the entries tell of a row (None: it was removed), and the number of the newest one that does."""

    columns: Columns | None
    entry: int


def check_rows(entries: Iterable[KeptEntry], standing: Rows, told_from: int) -> str:
    """Check the rows as they stand against what was told of them; returns what holds. Raises Fault.

    `standing`: all tables that are told today. `told_from`: the entry that told all rows, as the next entry will take
    it.
    """
    since, told = _folded(entries)
    if since != told_from:
        raise Fault("the right edge of the tree names another entry as the first that told all rows.")
    if not since:
        return "The rows that pages go by are not told: no entry was made since the record tells them."
    for table, rows in standing.items():
        before = told.get(table, {})
        _check_table(table, rows, before)
    number = sum(map(len, standing.values()))
    return f"{first_upper(each_of(number, 'row'))} that pages go by is as the entries told it last."


def unreadable_words(table: str, key: Any, column: str | None) -> str:
    """Say that what stands in a row is nothing that may stand there; `column` None: of which row, nobody can tell."""
    if column is None:
        return f"a row of the table {table} can't be read: it was changed past the product."
    return f"{_named(table, str(key))} can't be read: what stands in its {column} was changed past the product."


def _check_table(table: str, rows: Mapping[str, Columns | None], told: Mapping[str, ToldRow]) -> None:
    for key, columns in rows.items():
        name, before = _named(table, key), told.get(key)
        if before is None:
            raise Fault(f"{name} is in the tables, but no entry tells of it: it was added past the product.")
        if before.columns is None:
            raise Fault(f"{name} was removed, as entry {before.entry} tells, but is in the tables.")
        _check_columns(name, columns or {}, before)
    for key, before in told.items():
        if before.columns is not None and key not in rows:
            message = f"{_named(table, key)} is not in the tables, but entry {before.entry} tells of it"
            raise Fault(f"{message}: it was removed, or moved to another project.")


def _check_columns(name: str, columns: Columns, told: ToldRow) -> None:
    """A column that a later version of the product has added is told from the next change on."""
    for column, value in (told.columns or {}).items():
        if column in columns and not _same(columns[column], value):
            raise Fault(f"{name} is not as the record tells: its {column} was changed past the product.")


def _same(one: Any, other: Any) -> bool:
    """True is 1 for Python, not for whoever reads a record."""
    return type(one) is type(other) and bool(one == other)


def _named(table: str, key: str) -> str:
    return f"row {key} of the table {table}"


def _folded(entries: Iterable[KeptEntry]) -> tuple[int, dict[str, dict[str, ToldRow]]]:
    """The number of the entry that told all rows (0: none has), and what was told of each row last."""
    since, told = 0, dict[str, dict[str, ToldRow]]()
    for entry in entries:
        body = entry.content["body"]
        if "all_rows" in body:
            if since:
                raise Fault(f"entry {entry.sequence} tells all rows anew, after entry {since} did: what was changed "
                            "in between would not be missed.")  # fmt: skip
            since = entry.sequence
        if "rows" in body:
            _fold(told, entry.sequence, body["rows"])
    return since, told


def _fold(told: dict[str, dict[str, ToldRow]], sequence: int, rows: Any) -> None:
    try:
        for table, of_table in rows.items():
            known = told.setdefault(table, {})
            for key, columns in of_table.items():
                before = known.get(key)
                merged = None if columns is None else {**((before and before.columns) or {}), **columns}
                known[key] = ToldRow(merged, sequence)
    except (AttributeError, TypeError):
        raise Fault(f"entry {sequence} does not say rightly how rows stand.") from None


def check_staff(entries: Iterable[KeptEntry], staff: Mapping[int, tuple[str, str]]) -> None:
    """Check that whoever of the staff did something is still there under the name and in the role of then: pages show
    the one, acts go by the other. `staff`: both, by id. Raises Fault."""
    newest: dict[str, tuple[Any, Any]] = {}
    for entry in entries:
        actor = entry.content["actor"]
        if actor["kind"] == "staff":
            newest[str(actor["id"])] = actor["name"], actor.get("role")
    there = {str(key): told for key, told in staff.items()}
    for key, told in newest.items():
        if there.get(key) != told:
            raise Fault(f"row {key} of the table staff has not the name and role in which {told[0]} acted last, as the "
                        "record tells: it was changed past the product.")  # fmt: skip
