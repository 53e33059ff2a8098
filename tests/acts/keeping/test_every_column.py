"""Every column of every table, changed past the product: `verify` finds it, or it stands here why it may change."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from peewee import BigIntegerField, BlobField, BooleanField, DateField, Field, FloatField, IntegerField, JSONField

from portal.acts.keeping.verifying import verify_project
from portal.record.log.heads import Signer
from portal.record.verdict import Verdict
from portal.store import tables
from portal.store.engine.database import close_database, database, execute
from portal.store.engine.named_rows import rows
from portal.store.tables import Table
from portal.store.told.told_rows import WHOSE, key_of, name_of, rows_of
from tests.told_house import ToldHouse, told_house

ALL = [one for one in [*Table.__subclasses__(), *tables.Versioned.__subclasses__()] if one is not tables.Versioned]

ERASED = "how to reach somebody, and where they live: it can be taken away, a record can't"
WORKS = "no page of a project and no refusal of a project's acts goes by it"
FOLLOWS = "follows from the rest, and is computed anew where it is no longer true"
SHARED = "of the firm, not of a project: no project's record tells of it"
ACCOUNTS = "who may come in at the desk: of the firm, and what was done to accounts has entries of its own"
KEYS = "with another one than the service has, nothing is verified at all (acts.keeping.own_keys)"
FORESEEN = "what was foreseen then: how sure a day is, and how often that held; no day, hold or refusal goes by it"
TOLD = "that somebody was told by phone, which only its row shows, as with a letter; the matter itself is told"
LETTERS = "no entry says that a letter went out; its row is what shows it"
FOR_THE_CREW = "for the crew only, and erased for good: a record can't be erased, so it knows nothing of it"
OWN_BUSINESS = "with whom it is ordered is shown to staff alone, and a household reads its record"
COUNTS = "counts writes, so that none is lost between two who write at once; each starts from what it reads"

MAY_CHANGE: dict[str, str | dict[str, str]] = {
    "project": {
        "name": ERASED, "address": ERASED, "phone": ERASED, "office_hours": ERASED, "changed": COUNTS,
        "changed_at": FOLLOWS,
    },
    "person": {"phone": ERASED, "email": ERASED},
    "delivery": {"supplier_id": OWN_BUSINESS, "order_number": OWN_BUSINESS, "ordered_on": OWN_BUSINESS},
    "planned_order": {"supplier_id": OWN_BUSINESS},
    "staff": {"email": WORKS, "password_hash": WORKS, "active": ACCOUNTS},
    "firm": SHARED, "token": SHARED, "crew_name": SHARED, "crew_link": SHARED, "planned_work": FOLLOWS,
    "first_day": SHARED, "supplier": SHARED,
    "crew": dict.fromkeys(("name", "trade", "size", "phone", "email", "week", "days_off", "active"), SHARED),
    "answered": WORKS, "forecast": FORESEEN, "desk_line": FOLLOWS,
    "finish_moves": FOLLOWS,
    "shown_page": FOLLOWS, "reminder_look": FOLLOWS, "evening_look": FOLLOWS,
    "told_mark": TOLD,
    "notice": LETTERS, "mail_stop": LETTERS, "bounce": LETTERS,
    "staff_notice": LETTERS, "crew_note": FOR_THE_CREW,
    "returned_mailbox": WORKS, "firm_keys": KEYS, "staff_session": ACCOUNTS, "second_factor": ACCOUNTS,
    "recovery_code": ACCOUNTS, "account_entry": ACCOUNTS, "way_in": ACCOUNTS,
}  # fmt: skip
"""Tables and columns that nobody misses in a record, and why. The version of an editable row counts writes, too. A kept
size of the firm's own, of no project, is shared; what was filled from it stands in the question that was asked."""


@pytest.fixture
def told(tmp_path: Path) -> Iterator[ToldHouse]:
    yield told_house(tmp_path / "told")
    close_database()


def verified(told: ToldHouse) -> Verdict:
    return verify_project(told.project, Signer(told.settings.record_key))


@contextmanager
def taken_back() -> Iterator[None]:
    with database.atomic() as change:
        yield
        change.rollback()


def why(table: type[Table], column: str) -> str:
    """Why it may change; nothing where it may not."""
    of_table = MAY_CHANGE.get(name_of(table), {})
    if column == "version" and issubclass(table, tables.Versioned):
        return COUNTS
    return of_table if isinstance(of_table, str) else of_table.get(column, "")


def others(field: Field, value: Any) -> list[Any]:
    """What the product could have put there instead."""
    if isinstance(field, BooleanField):
        return [not value]
    if isinstance(field, DateField):
        return ["2026-12-24", *([] if value is None else [None] if field.null else [])]
    if field.model is tables.Crew and isinstance(field, JSONField):
        return ['["2026-12-24"]' if field.name == "days_off" else '{"mon": [["09:00", "10:00"]]}']
    if isinstance(field, JSONField):
        return ['["else"]', "{}"]
    if isinstance(field, FloatField):
        return [0.25]
    if isinstance(field, BlobField):
        return [bytes(value or b"")[:-1] + b"~"]
    if isinstance(field, IntegerField | BigIntegerField) or hasattr(field, "rel_model"):
        return [(value or 0) + 1, *([None] if field.null and value is not None else [])]
    return [f"{value or ''}~", *([None] if field.null and value is not None else [])]


EVERY = bool(os.environ.get("EVERY_VALUE"))  # set by `bash tests/long columns`
OF_NO_PROJECT = (
    tables.Token, tables.Answered, tables.FirmKeys, tables.ReturnedMailbox, tables.StaffSession, tables.SecondFactor,
    tables.RecoveryCode, tables.AccountEntry, tables.WayIn, tables.FirstDay, tables.CrewLink,
)
GARBAGE: tuple[Any, ...] = (b"\xff\xfe", "{", None) + (("no\0thing", 10**18, -1, 0.5, "", b"") if EVERY else ())
"""What no column can hold, as far as it is none of its own values."""


def fits(field: Field, value: Any) -> bool:
    """Whether garbage is a value of this kind of column after all."""
    if value is None:
        return bool(field.null)
    number = isinstance(field, IntegerField) or hasattr(field, "rel_model")
    if isinstance(value, int | float):
        at = isinstance(field, BigIntegerField) and (field.name == "at" or field.name.endswith("_at"))
        return isinstance(field, FloatField) or (number and not at and isinstance(value, int))
    if isinstance(value, bytes):
        return isinstance(field, BlobField)
    return value == "{" and type(field).__name__ in ("CharField", "TextField")


def first_of(table: type[Table], project: int) -> dict[str, Any]:
    """Of the rows of this table that a project goes by, the one that says most."""
    found = rows(f'SELECT rowid AS "_row", * FROM "{name_of(table)}"')
    if table in WHOSE:
        mine = {row[key_of(table)] for row in rows_of(table, project)}
        found = [row for row in found if row[key_of(table)] in mine]
    elif "project" in table._meta.fields:
        found = [row for row in found if row["project_id"] == project]
    elif table is tables.Wording:
        agreed = tables.Consent.select().join(tables.Person).where(tables.Person.project == project).first()
        found = [row for row in found if row["version"] == agreed.version]
    return max(found, key=lambda row: sum(value is not None for value in row.values()), default={})


def put(table: type[Table], row: int, column: str, value: Any) -> None:
    execute(f'UPDATE "{name_of(table)}" SET "{column}" = ? WHERE rowid = ?', value, row)


def test_the_house_holds_and_has_a_row_in_every_table_that_is_told(told: ToldHouse) -> None:
    assert verified(told).ok, verified(told)
    assert [name_of(table) for table in WHOSE if not first_of(table, told.project)] == []


@pytest.mark.parametrize("table", ALL, ids=name_of)
def test_a_column_that_is_changed_past_the_product_is_found_or_may_change(told: ToldHouse, table: type[Table]) -> None:
    row = first_of(table, told.project)
    if not row:
        assert isinstance(MAY_CHANGE.get(name_of(table)), str), "nothing to change, so nothing is proved"
        return
    wrong = []
    for field in table._meta.sorted_fields:
        column = field.column_name
        for value in others(field, row[column]):
            with taken_back():
                put(table, row["_row"], column, value)
                if verified(told).ok is not bool(why(table, column)):
                    wrong.append((column, value, str(verified(told).first_fault)))
    assert not wrong, "found although it may change, or not found although it may not"


@pytest.mark.parametrize("table", ALL, ids=name_of)
def test_whatever_stands_in_a_row_is_named_and_nothing_stops(told: ToldHouse, table: type[Table]) -> None:
    """Also where no entry tells of it; but for rows that are not read for a project."""
    row = first_of(table, told.project)
    wrong = []
    for field in table._meta.sorted_fields if row else ():
        for value in GARBAGE:
            if fits(field, value):
                continue
            with taken_back():
                put(table, row["_row"], field.column_name, value)
                fault = verified(told).first_fault or ""
            nobodys = field.column_name in ("project_id", "person_id") and table not in WHOSE
            if not (table in OF_NO_PROJECT or nobodys or fault):
                wrong.append((field.column_name, value, fault))
    assert not wrong


@pytest.mark.parametrize(("column", "value"), [("week", '["else"]'), ("days_off", '["else"]')])
def test_hours_of_a_crew_that_are_none_stop_pages_and_are_named(told: ToldHouse, column: str, value: str) -> None:
    put(tables.Crew, 1, column, value)
    assert verified(told).first_fault == (
        f"row 1 of the table crew can't be read: what stands in its {column} was changed past the product."
    )


@pytest.mark.parametrize("table", list(WHOSE), ids=name_of)
def test_a_row_that_is_added_removed_or_moved_past_the_product_is_found(told: ToldHouse, table: type[Table]) -> None:
    row, name, key = first_of(table, told.project), name_of(table), key_of(table)
    columns = ", ".join(f'"{column}"' for column in row if column not in ("_row", key))
    if table is not tables.Project:
        stands = {tables.Withdrawal: "approval", tables.ReleaseTakenBack: "release"}.get(table, "approval")
        another = rows(f'SELECT id FROM "{stands}" ORDER BY id DESC LIMIT 1')[0]["id"]  # which is not taken back
        copied = f'INSERT INTO "{name}" ("{key}", {columns}) SELECT ?, {columns} FROM "{name}" WHERE rowid = ?'
        with taken_back():
            execute(copied, another if table in (tables.Withdrawal, tables.ReleaseTakenBack) else 9000, row["_row"])
            assert not verified(told).ok
        with taken_back():
            execute(f'DELETE FROM "{name}" WHERE rowid = ?', row["_row"])
            assert not verified(told).ok
    if "project_id" in row:
        with taken_back():
            put(table, row["_row"], "project_id", told.other)
            assert not verified(told).ok
            verdict = verify_project(told.other, Signer(told.settings.record_key))
            assert not verdict.ok, "it was told in no record of this house"
