"""What all tables share. Times are whole seconds since 1970-01-01T00:00Z, dates are dates, money is cents."""

from typing import TYPE_CHECKING, Any

from peewee import IntegerField, JSONField, Model

from portal.store.engine.database import database


class Table(Model):
    if TYPE_CHECKING:  # peewee makes these when the class is made; not every table has the last two
        id: Any
        project: Any
        version: Any

        def __getattr__(self, name: str) -> Any: ...

    class Meta:
        database = database
        legacy_table_names = False


class Versioned(Table):
    """A row that people edit: each write names the version that it saw."""

    version = IntegerField(default=1)


def json_list() -> JSONField:
    return JSONField(default=list)
