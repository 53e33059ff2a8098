"""Reading what stands in a row, whatever it is."""

from collections.abc import Iterator
from contextlib import contextmanager

from peewee import DataError, PeeweeException

from portal.store.engine.database import database, is_sqlite
from portal.store.refusals import Refused


class OddRow(Exception):
    """Something stands in a row that whoever read it could not make anything of."""


@contextmanager
def odd_text_read() -> Iterator[None]:
    """Within, bytes that are no UTF-8, which SQLite keeps as text, are read as half characters, which agree with
    nothing. PostgreSQL keeps none."""
    if not is_sqlite():
        yield
        return
    connection = database.connection()
    before, connection.text_factory = connection.text_factory, _read
    try:
        yield
    finally:
        connection.text_factory = before


@contextmanager
def odd_rows_told() -> Iterator[None]:
    """Raises OddRow for any error but those of the database itself, and of the machine."""
    try:
        yield
    except DataError as error:
        raise OddRow(repr(error)) from error
    except (Refused, PeeweeException, MemoryError):
        raise
    except Exception as error:
        raise OddRow(repr(error)) from error


def _read(data: bytes) -> str:
    return data.decode(errors="surrogateescape")
