"""The tables say what the migrations made: types, keys, what goes when another row goes, and what is indexed."""

from typing import Any

import pytest
from peewee import CompositeKey, ForeignKeyField

from portal.store import tables
from portal.store.engine.database import database
from tests.store.schema import TABLES, called_here, foreign_keys_of, indexes_of, types_of

pytestmark = pytest.mark.usefixtures("house")


def name_of(table: type[tables.Table]) -> str:
    return str(table._meta.table_name)


def fields_of(table: type[tables.Table], *, pointing: bool) -> list[Any]:
    return [field for field in table._meta.sorted_fields if isinstance(field, ForeignKeyField) is pointing]


def test_a_column_is_of_the_type_that_its_table_says() -> None:
    made = {name_of(table): types_of(name_of(table)) for table in TABLES}
    assert made == {
        name_of(table): {field.column_name: called_here(field.field_type) for field in fields_of(table, pointing=False)}
        for table in TABLES
    }


def test_a_column_may_be_empty_where_its_table_says_so() -> None:
    made = {(name_of(table), column.name): column.null for table in TABLES for column in
            database.get_columns(name_of(table))}  # fmt: skip
    assert made == {
        (name_of(table), field.column_name): field.null for table in TABLES for field in table._meta.sorted_fields
    }


def test_a_key_points_where_its_table_says_and_goes_as_that_says() -> None:
    made = {name_of(table): foreign_keys_of(name_of(table)) for table in TABLES}
    assert made == {
        name_of(table): {field.column_name: (name_of(field.rel_model), field.on_delete or "NO ACTION") for field in
                         fields_of(table, pointing=True)}
        for table in TABLES
    }  # fmt: skip


def test_what_is_indexed_is_what_its_table_says() -> None:
    assert {name_of(table): indexes_of(name_of(table)) for table in TABLES} == {
        name_of(table): _of_one(table) | _of_several(table) for table in TABLES
    }


def test_rows_are_told_apart_by_the_key_that_their_table_says() -> None:
    made = {name_of(table): list(database.get_primary_keys(name_of(table))) for table in TABLES}
    assert made == {name_of(table): _key_of(table) for table in TABLES}


def test_every_table_of_the_database_is_one_that_we_name() -> None:
    ours = {name_of(table) for table in TABLES}
    assert set(database.get_tables()) == ours | {"schema_migration"}, "which migrations it has had is the runner's own"


def _of_one(table: type[tables.Table]) -> set[tuple[tuple[str, ...], bool]]:
    fields = [field for field in table._meta.sorted_fields if not field.primary_key]
    return {((field.column_name,), bool(field.unique)) for field in fields if field.index or field.unique}


def _of_several(table: type[tables.Table]) -> set[tuple[tuple[str, ...], bool]]:
    meta = table._meta
    return {(tuple(meta.fields[name].column_name for name in names), unique) for names, unique in meta.indexes}


def _key_of(table: type[tables.Table]) -> list[str]:
    key: Any = table._meta.primary_key
    names = key.field_names if isinstance(key, CompositeKey) else [key.name]
    return [table._meta.fields[name].column_name for name in names]
