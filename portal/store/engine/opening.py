"""Opening the database for a command: one that is there already, where a new one would hold nothing, or a new one."""

from pathlib import Path

from peewee import DatabaseError

from portal.store.engine.database import open_database
from portal.store.engine.faults import refusal_of
from portal.store.engine.migrate import applied, known, migrate
from portal.store.refusals import CannotWrite, NoDatabase, Refused


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


class NotReached(Refused):
    status = 503
    wait = 10
    sentence = (
        "The database {path} can't be reached: its server does not answer, or does not let us in. Nothing was changed. "
        "Look whether PostgreSQL runs, and at PORTAL_DATABASE."
    )


class NewerDatabase(Refused):
    """What a later version has added, this one would not keep true."""

    status = 500
    sentence = (
        "The database was brought forward by a newer version of the portal than this one ({more}). Nothing was "
        "changed. Install that version or a later one; or restore a backup that was made before."
    )


def open_or_make(url: str) -> None:
    """Connect to the database at `url`, a new one if there is none, and bring it forward. Raises NotOpened,
    NewerDatabase, or what the disk or the database refuses."""
    open_database(url)
    try:
        _bring_forward()
    except NoDatabase as error:
        raise NotReached(path=_without_password(url)) from error
    except DatabaseError as error:
        raise _own_words(error) or NotOpened(path=_without_password(url), reason=error) from error


def open_there(url: str) -> None:
    """Connect to the database at `url` and bring it forward. Raises NotThere, NotReadable, NewerDatabase."""
    if "://" not in url and not Path(url).is_file():
        raise NotThere(path=url)
    open_database(url)
    try:
        _bring_forward()
    except NoDatabase as error:
        raise NotReached(path=_without_password(url)) from error
    except DatabaseError as error:
        raise _own_words(error) or NotReadable(reason=error) from error


def _bring_forward() -> None:
    more = set(applied()) - known()
    if more:
        raise NewerDatabase(more=", ".join(sorted(more)))
    migrate()


def _without_password(url: str) -> str:
    return url.rsplit("@")[-1].partition("?")[0]


def _own_words(error: DatabaseError) -> Refused | None:
    """Of the disk: what can't even be opened is said with where it was looked for."""
    refusal = refusal_of(error)
    return None if type(refusal) is CannotWrite else refusal
