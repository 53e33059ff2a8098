"""Opening the database for a command: one that is there already, where a new one would hold nothing, or a new one."""

from pathlib import Path

from peewee import DatabaseError, OperationalError

from portal.store.engine.database import open_database
from portal.store.engine.migrate import migrate
from portal.store.refusals import Refused


class NotThere(Refused):
    status = 500
    sentence = "There is no database {path}. Set PORTAL_DATA (or PORTAL_DATABASE) to where it lies."


class NotReadable(Refused):
    """A read-only disk is one reason: SQLite makes a file beside a database even to read it."""

    status = 500
    sentence = (
        "The database can't be opened: {reason}. If its disk is read-only, copy the whole folder to another disk and "
        "set PORTAL_DATA to that."
    )


class NotOpened(Refused):
    status = 500
    sentence = (
        "The database {path} can't be opened: {reason}. Set PORTAL_DATA (or PORTAL_DATABASE) to a place where the "
        "portal may read and write."
    )


def open_or_make(url: str) -> None:
    """Connect to the database at `url`, a new one if there is none, and bring it forward. Raises NotOpened."""
    open_database(url)
    try:
        migrate()
    except OperationalError as error:
        raise NotOpened(path=url.rsplit("@")[-1], reason=error) from error


def open_there(url: str) -> None:
    """Connect to the database at `url` and bring it forward. Raises NotThere, NotReadable."""
    if "://" not in url and not Path(url).is_file():
        raise NotThere(path=url)
    open_database(url)
    try:
        migrate()
    except DatabaseError as error:
        raise NotReadable(reason=error) from error
