"""What all tables share. Times are whole seconds since 1970-01-01T00:00Z, dates are dates, money is cents."""

from typing import TYPE_CHECKING, Any

from peewee import IntegerField, JSONField, Model, ModelDelete, ModelUpdate

from portal.store.engine import journal
from portal.store.engine.database import database


class _NotedUpdate(ModelUpdate):
    def _execute(self, database: Any) -> Any:
        _note(self.model, self._where)  # type: ignore[attr-defined]
        return super()._execute(database)  # type: ignore[misc]


class _NotedDelete(ModelDelete):
    def _execute(self, database: Any) -> Any:
        _note_dependent(self.model, _note(self.model, self._where))  # type: ignore[attr-defined]
        return super()._execute(database)  # type: ignore[misc]


class Table(Model):
    """What is written through its class is noted for the record (`store.engine.journal`)."""

    if TYPE_CHECKING:  # peewee makes these when the class is made; not every table has the last two
        id: Any
        project: Any
        version: Any

        _normalize_data: Any

        def __getattr__(self, name: str) -> Any: ...

    class Meta:
        database = database
        legacy_table_names = False

    @classmethod
    def update(cls, values: Any = None, /, **more: Any) -> Any:
        return _NotedUpdate(cls, cls._normalize_data(values, more))

    @classmethod
    def delete(cls) -> Any:
        return _NotedDelete(cls)

    def save(self, force_insert: bool = False, only: Any = None) -> Any:
        """Adds the row; a change of one goes through `update`, which notes it."""
        adding = force_insert or self._pk is None
        done = super().save(force_insert=force_insert, only=only)
        if adding:
            journal.note(self._meta.table_name, self._pk, None)
        return done


class Versioned(Table):
    """A row that people edit: each write names the version that it saw."""

    version = IntegerField(default=1)


def json_list() -> JSONField:
    return JSONField(default=list)


def _note(table: Any, where: Any) -> list[Any]:
    """Note the rows as they stand, past the mapper; returns their keys."""
    if not journal.is_open():
        return []
    query = table.select() if where is None else table.select().where(where)
    cursor = database.execute_sql(*query.sql())
    names, key = [column[0] for column in cursor.description], table._meta.primary_key.column_name
    found = [dict(zip(names, values, strict=True)) for values in cursor.fetchall()]
    for row in found:
        journal.note(table._meta.table_name, row[key], row)
    return [row[key] for row in found]


def _note_dependent(table: Any, keys: list[Any]) -> None:
    """Rows that go with these, or no longer name them."""
    if not keys:
        return
    for field, other in table._meta.backrefs.items():
        if field.on_delete in ("CASCADE", "SET NULL"):
            noted = _note(other, field.in_(keys))
            if field.on_delete == "CASCADE":
                _note_dependent(other, noted)
