"""What was shown, said and recorded is only added to: no statement changes, removes or replaces it, whoever asks."""

import pytest

from portal.acts.decisions.answers import approve, withdraw
from portal.acts.decisions.closing import withdraw_question
from portal.acts.plan.starting import release_phase
from portal.content import Piece
from portal.store import tables
from portal.store.engine.database import database, execute, is_sqlite, write
from portal.store.rows import wording_rows
from portal.store.rows.accounts import journal_rows
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database

KEYS = {
    "record_entry": ("project_id", "sequence"), "record_node": ("project_id", "level", "place"), "approval": ("id",),
    "withdrawal": ("approval_id",), "revision": ("id",), "release": ("id",), "wording": ("version",),
    "question_withdrawal": ("decision_id", "revision"), "account_entry": ("id",),
}  # fmt: skip
only_added_to = pytest.mark.parametrize("table", KEYS)


@pytest.fixture
def kept(house: House) -> House:
    """One row at least in each of them."""
    one, project = house.decisions[1], house.project
    approve(house.homeowner, project, one, revision=1, option="b", name="Maren Okafor", now=NOW)
    withdraw(house.homeowner, project, one, reason="We think again", now=NOW + 60)
    release_phase(house.manager, project, house.phases["drill"], reason="Template is on site", now=NOW + 120)
    withdraw_question(house.manager, project, house.decisions[2], reason="Not needed", now=NOW + 180)
    with write():
        wording_rows.keep_wording(Piece("grout", "Grout", "", "", "Cures take a day.", "a" * 64))
        journal_rows.note(house.manager.id, "password_changed", NOW, by=house.manager.id)
    return house


def rows_of(table: str) -> list[tuple[object, ...]]:
    return sorted(execute(f'SELECT * FROM "{table}"').fetchall(), key=str)


@only_added_to
def test_no_row_is_changed_or_removed(kept: House, table: str) -> None:
    before = rows_of(table)
    assert before
    for column in database.get_columns(table):
        with refused_by_the_database(f"{table} is only added to"):
            execute(f'UPDATE "{table}" SET "{column.name}" = "{column.name}"')
    whatever_happens = "UPDATE OR IGNORE" if is_sqlite() else "UPDATE"
    for doing in (f'DELETE FROM "{table}"', f'{whatever_happens} "{table}" SET "{column.name}" = "{column.name}"'):
        with refused_by_the_database(f"{table} is only added to"):
            execute(doing)
    assert rows_of(table) == before


@only_added_to
def test_no_row_is_replaced_by_one_of_the_same_key(kept: House, table: str) -> None:
    before, key = rows_of(table), ", ".join(f'"{column}"' for column in KEYS[table])
    last = database.get_columns(table)[-1].name
    again = f'INTO "{table}" SELECT * FROM "{table}" WHERE TRUE'
    with refused_by_the_database(f"{table} is only added to"):
        execute(f'INSERT {again} ON CONFLICT ({key}) DO UPDATE SET "{last}" = excluded."{last}"')
    if is_sqlite():  # PostgreSQL has no such statement
        for doing in ("INSERT OR REPLACE", "REPLACE"):
            with refused_by_the_database(f"{table} is only added to"):
                execute(f"{doing} {again}")
    assert rows_of(table) == before


def test_a_revision_is_not_replaced_by_another_of_its_number(kept: House) -> None:
    columns = [column.name for column in database.get_columns("revision") if column.name != "id"]
    listed = ", ".join(f'"{name}"' for name in columns)
    doing = "INSERT OR REPLACE" if is_sqlite() else "INSERT"
    before = rows_of("revision")
    with refused_by_the_database("revision is only added to" if is_sqlite() else "(?i)unique"):
        execute(f'{doing} INTO "revision" ({listed}) SELECT {listed} FROM "revision" LIMIT 1')
    assert rows_of("revision") == before


def test_what_they_belong_to_stays_with_them(kept: House) -> None:
    for table, row_id in (
        (tables.Phase, kept.phases["drill"]), (tables.Decision, kept.decisions[2]), (tables.Person, kept.homeowner.id),
        (tables.Decision, kept.decisions[3]), (tables.Project, kept.project),
    ):  # fmt: skip
        with refused_by_the_database("(?i)only added to|only beside|foreign key"):
            table.delete().where(table.id == row_id).execute()
        assert table.get_by_id(row_id)


def test_what_belongs_to_none_of_them_can_still_go(kept: House) -> None:
    tables.Phase.delete().where(tables.Phase.id == kept.phases["walk"]).execute()
    assert tables.Phase.get_or_none(tables.Phase.id == kept.phases["walk"]) is None
