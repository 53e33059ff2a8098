"""A street of houses: the invented house many times over, each a project of its own with all that belongs to it."""

from pathlib import Path

from peewee import CharField, ForeignKeyField

from portal import signing
from portal.store import tables
from portal.store.engine.database import execute, write
from tests.house import NOW, SECRET, House, make_house

APART = 10_000
"""Between the ids of one copy and the next."""
_THE_FIRMS = (tables.Firm, tables.Staff, tables.Token)
_NOT_COPIED = (*_THE_FIRMS, tables.Answered, tables.DeskLine, tables.RecordEntry, tables.RecordNode, tables.RecordEdge)


def make_street(path: Path, houses: int) -> House:
    """The invented house and copies of it: so many open projects, and as many closed ones that are empty."""
    house = make_house(path)
    widen(house, houses)
    return house


def widen(house: House, houses: int) -> None:
    """The same in the open database, which holds the invented house."""
    with write():
        execute("UPDATE project SET closed_at = ? WHERE id = ?", NOW, house.other_project)
        for table in _tables():
            for number in range(1, houses):
                _copy(table, number * APART)
        for link, salt in execute("SELECT id, salt FROM link WHERE id > ?", APART).fetchall():
            own = f"{salt}-{link}"  # made from the secret, as those of one portal are
            digest = signing.digest(signing.link_for(SECRET, own))
            execute("UPDATE link SET salt = ?, digest = ? WHERE id = ?", own, digest, link)


def _tables() -> list[type[tables.Table]]:
    """Each after those that it names."""
    every = [getattr(tables, name) for name in tables.__all__]
    found = [one for one in every if one not in (tables.Table, tables.Versioned, *_NOT_COPIED)]
    found = [one for one in found if not isinstance(one._meta.primary_key, CharField)]  # what has a name is the firm's
    return sorted(found, key=_depth)


def _depth(table: type[tables.Table]) -> int:
    named = [field.rel_model for field in table._meta.sorted_fields if isinstance(field, ForeignKeyField)]
    return 1 + max((_depth(one) for one in named if one is not table), default=0)


def _copy(table: type[tables.Table], apart: int) -> None:
    """The first column is the id, or names whatever the row belongs to."""
    columns = [field.column_name for field in table._meta.sorted_fields]
    values = [_moved(field, apart) for field in table._meta.sorted_fields]
    name = table._meta.table_name
    quoted = ", ".join(f'"{column}"' for column in columns)
    execute(f'INSERT INTO "{name}" ({quoted}) SELECT {", ".join(values)} FROM "{name}" WHERE "{columns[0]}" < {APART}')


def _moved(field: object, apart: int) -> str:
    column = f'"{field.column_name}"'  # type: ignore[attr-defined]
    if isinstance(field, ForeignKeyField):
        return column if field.rel_model in _THE_FIRMS else f"{column} + {apart}"
    if field.primary_key:  # type: ignore[attr-defined]
        return f"{column} + {apart}"
    return f"{column} || '-{apart}'" if field.unique else column  # type: ignore[attr-defined]


