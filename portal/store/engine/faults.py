"""What the database or the disk says when it fails, as the refusal that people are told."""

import errno

from peewee import DatabaseError

from portal.store.refusals import Busy, CannotWrite, DamagedDatabase, DiskFull, ReadOnlyDisk, Refused

# SQLite's own words, which no setting changes: https://www.sqlite.org/rescode.html
_SAID: tuple[tuple[str, type[Refused]], ...] = (
    ("database is locked", Busy),
    ("table is locked", Busy),
    ("is busy", Busy),
    ("database or disk is full", DiskFull),
    ("attempt to write a readonly database", ReadOnlyDisk),
    ("database disk image is malformed", DamagedDatabase),
    ("malformed database schema", DamagedDatabase),
    ("file is not a database", DamagedDatabase),
    ("disk I/O error", CannotWrite),
    ("unable to open database file", CannotWrite),
)
_NUMBERS: dict[int, type[Refused]] = {
    errno.ENOSPC: DiskFull, errno.EDQUOT: DiskFull, errno.EROFS: ReadOnlyDisk, errno.EIO: CannotWrite,
    errno.EFBIG: CannotWrite,
}


def refusal_of(error: BaseException) -> Refused | None:
    """None where it is no fault of the disk or the database, but of the program."""
    if isinstance(error, Refused):
        return error
    if isinstance(error, DatabaseError):
        said = _said(error)
        return next((refusal() for words, refusal in _SAID if words in said), None)
    if isinstance(error, OSError):
        found = _NUMBERS.get(error.errno or 0)
        return found() if found else None
    return None


def _said(error: BaseException) -> str:
    """What the database said, and what it said before that: where the disk fails, SQLite has rolled back by itself, and
    that there is nothing left to roll back is all that the last error tells."""
    before = f"{_said(error.__context__)}; " if error.__context__ else ""
    return f"{before}{error}"
