"""A PostgreSQL server of our own: made in a folder, reached by a socket in it, gone after the tests.

The server refuses to run as root, so root lets an ordinary user run it.
"""

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import psycopg

from tests.in_memory import in_memory

_PROGRAMS = Path("/usr/lib/postgresql")  # Debian keeps the server's programs outside the PATH, by version
# Nothing here outlives the tests: what a power cut would take needs no guarding.
_QUICK = "-c fsync=off -c full_page_writes=off -c shared_buffers=32MB -c max_connections=60 -c max_wal_size=256MB"


@dataclass(frozen=True)
class Server:
    """`data` and `socket` lie in a temporary folder; `user` runs the server when we are root."""

    data: Path
    socket: Path
    user: str | None

    def url(self, database: str = "postgres", **parameters: str) -> str:
        more = "".join(f"&{name}={value}" for name, value in parameters.items())
        return f"postgresql:///{database}?host={self.socket}&user=portal{more}"

    def start(self) -> None:
        options = f"-k {self.socket} -c listen_addresses= {_QUICK}"
        self.control("start", "-w", "-l", str(self.data.parent / "log"), "-o", options)

    def stop(self) -> None:
        self.control("stop", "-w", "-m", "immediate")

    def running(self) -> bool:
        try:
            self.control("status")
        except RuntimeError:
            return False
        return True

    def control(self, *arguments: str) -> None:
        self.run("pg_ctl", "-D", str(self.data), *arguments)

    def make(self, database: str, template: str = "template1") -> str:
        """A new database, with all that is in the template; returns its URL. Files are copied, not page by page into
        the log, which takes longer by a third; before version 15 there is no other way, and no word for it."""
        made = f'CREATE DATABASE "{database}" TEMPLATE "{template}"'
        with psycopg.connect(self.url(), autocommit=True) as connection:
            strategy = " STRATEGY FILE_COPY" if connection.info.server_version >= 150000 else ""
            connection.execute(made + strategy)  # type: ignore[arg-type]
        return self.url(database)

    def drop(self, database: str) -> None:
        with psycopg.connect(self.url(), autocommit=True) as connection:
            connection.execute(f'DROP DATABASE "{database}" WITH (FORCE)')  # type: ignore[arg-type]

    def run(self, program: str, *arguments: str) -> None:
        environment = os.environ | {"LC_ALL": "C.UTF-8"}
        done = subprocess.run(
            [_path_of(program), *arguments], user=self.user, env=environment, cwd=self.data.parent, text=True,
            stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
        )
        if done.returncode:
            raise RuntimeError(f"{program}: {done.stderr}")


@contextmanager
def running_server() -> Iterator[Server]:
    user = _ordinary_user()
    folder = Path(tempfile.mkdtemp(prefix="postgresql-", dir=in_memory()))
    if user:
        os.chown(folder, pwd.getpwnam(user).pw_uid, -1)
    server = Server(folder / "data", folder, user)
    with _cleared_away(server):
        server.run("initdb", "-D", str(server.data), "-U", "portal", "-A", "trust", "-E", "UTF8", "--no-sync")
        server.start()
        yield server


@contextmanager
def _cleared_away(server: Server) -> Iterator[None]:
    """At the end, also that of tests which are killed: a process that waits for our end of a pipe to close."""
    words = [_path_of("pg_ctl"), str(server.data.parent)]
    command = ["sh", "-c", 'read gone; "$0" -D "$1/data" -w -m immediate stop; rm -rf "$1"', *words]
    with subprocess.Popen(
        command, user=server.user, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        start_new_session=True, cwd="/",
    ):
        yield


def _ordinary_user() -> str | None:
    if os.geteuid() != 0:
        return None
    names = {entry.pw_name for entry in pwd.getpwall()}
    return "postgres" if "postgres" in names else "nobody"


def _path_of(program: str) -> str:
    newest = sorted(_PROGRAMS.glob(f"*/bin/{program}"), key=lambda path: float(path.parts[4]))
    found = str(newest[-1]) if newest else shutil.which(program)
    if found is None:
        raise RuntimeError(f"{program} is missing. On Debian or Ubuntu: apt-get install postgresql")
    return found
