"""A PostgreSQL database written to a file by pg_dump while others write; and put back by pg_restore, all or nothing."""

import os
import shutil
import subprocess
import time
from pathlib import Path

from psycopg.conninfo import conninfo_to_dict, make_conninfo

from portal.store.engine.database import database, execute
from portal.store.engine.named_rows import first_value
from portal.store.refusals import Refused

SCHEMA = "public"
_ALIKE = ["--no-owner", "--no-privileges", f"--schema={SCHEMA}"]  # the role may have another name on the new server
_OTHERS = (
    "SELECT COUNT(*) FROM pg_stat_activity WHERE datname = current_database() AND application_name = 'portal' "
    "AND pid <> pg_backend_pid()"
)

_HANGING_UP_SECONDS = 3.0


class ProgramMissing(Refused):
    status = 500
    sentence = (
        "{program} is missing, which a PostgreSQL database needs for this. Nothing was changed. "
        "On Debian or Ubuntu: apt-get install postgresql-client"
    )


class ProgramFailed(Refused):
    status = 500
    sentence = "{program} gave up, and nothing was changed. It said: {said}"


class StillConnected(Refused):
    sentence = "The database is in use. Stop the service and the timers, then try again. Nothing was changed."


def dump_postgresql(url: str, into: Path) -> None:
    """Write the database as of one moment, and read what was written back. Copies of earlier versions (schemas
    `before_...`) stay behind. Raises ProgramMissing, ProgramFailed."""
    _run("pg_dump", url, "--format=custom", "--lock-wait-timeout=20s", *_ALIKE, f"--file={into}")
    check_postgresql(into)


def check_postgresql(dump: Path) -> None:
    """Read a dump through, every row of it, as restoring would. Raises ProgramFailed when it is none, or is cut off.

    Written out as SQL to nowhere, since `--list` reads the table of contents alone.
    """
    _run("pg_restore", None, "--exit-on-error", f"--file={os.devnull}", str(dump))


def nobody_connected() -> None:
    """Raises StillConnected. The database is open here. Whoever has just hung up may still be there for a moment."""
    until = time.monotonic() + _HANGING_UP_SECONDS
    while first_value(_OTHERS):
        if time.monotonic() > until:
            raise StillConnected()
        time.sleep(0.05)


def load_postgresql(url: str, dump: Path, aside: str) -> None:
    """Put a dump into the open database, all or nothing. What that holds is moved aside into the schema `aside`."""
    occupied = bool(database.get_tables())
    if occupied:
        with database.atomic():
            execute(f'ALTER SCHEMA "{SCHEMA}" RENAME TO "{aside}"')
            execute(f'CREATE SCHEMA "{SCHEMA}"')
    try:
        _run("pg_restore", url, "--single-transaction", "--exit-on-error", *_ALIKE, str(dump))
    except BaseException:
        if occupied:
            with database.atomic():
                execute(f'DROP SCHEMA "{SCHEMA}"')  # refused, were it not empty
                execute(f'ALTER SCHEMA "{aside}" RENAME TO "{SCHEMA}"')
        raise


def _run(program: str, url: str | None, *arguments: str) -> None:
    path = shutil.which(program)
    if path is None:
        raise ProgramMissing(program=program)
    where, password = _without_password(url) if url else ([], {})
    done = subprocess.run(
        [path, *arguments[:-1], *where, arguments[-1]], env=os.environ | password,
        stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, errors="replace",
    )  # fmt: skip
    if done.returncode:
        raise ProgramFailed(program=program, said=done.stderr.strip()[-800:])


def _without_password(url: str) -> tuple[list[str], dict[str, str]]:
    """Where the database is, for a command line, which everyone on the machine may read; and what is not for them."""
    parts = conninfo_to_dict(url)
    password = parts.pop("password", None)
    return [f"--dbname={make_conninfo('', **parts)}"], {"PGPASSWORD": str(password)} if password else {}
