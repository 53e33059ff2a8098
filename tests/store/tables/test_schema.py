"""The tables say what the migrations made: types, keys, what goes when another row goes, and what is indexed."""

from typing import Any

import pytest
from peewee import CompositeKey, ForeignKeyField

from portal.store import tables
from portal.store.engine.database import database
from tests.house import House
from tests.store.schema import TABLES, called_here, foreign_keys_of, indexes_of, types_of

every_table = pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)


def name_of(table: type[tables.Table]) -> str:
    return str(table._meta.table_name)


def fields_of(table: type[tables.Table], *, pointing: bool) -> list[Any]:
    return [field for field in table._meta.sorted_fields if isinstance(field, ForeignKeyField) is pointing]


@every_table
def test_a_column_is_of_the_type_that_its_table_says(house: House, table: type[tables.Table]) -> None:
    assert types_of(name_of(table)) == {
        field.column_name: called_here(field.field_type) for field in fields_of(table, pointing=False)
    }


@every_table
def test_a_key_points_where_its_table_says_and_goes_as_that_says(house: House, table: type[tables.Table]) -> None:
    assert foreign_keys_of(name_of(table)) == {
        field.column_name: (name_of(field.rel_model), field.on_delete or "NO ACTION")
        for field in fields_of(table, pointing=True)
    }


@every_table
def test_what_is_indexed_is_what_its_table_says(house: House, table: type[tables.Table]) -> None:
    meta = table._meta
    single = {((field.column_name,), bool(field.unique)) for field in meta.sorted_fields
              if (field.index or field.unique) and not field.primary_key}
    several = {(tuple(meta.fields[name].column_name for name in names), unique) for names, unique in meta.indexes}
    assert indexes_of(name_of(table)) == single | several


@every_table
def test_its_rows_are_told_apart_by_the_key_that_it_says(house: House, table: type[tables.Table]) -> None:
    key: Any = table._meta.primary_key
    names = key.field_names if isinstance(key, CompositeKey) else [key.name]
    assert list(database.get_primary_keys(name_of(table))) == [table._meta.fields[one].column_name for one in names]


def test_every_table_of_the_database_is_one_that_we_name(house: House) -> None:
    ours = {name_of(table) for table in TABLES}
    assert set(database.get_tables()) == ours | {"schema_migration"}, "which migrations it has had is the runner's own"
