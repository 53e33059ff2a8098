"""What is made at the first start: secrets, whole or not at all, and the database; once, however many begin at the same
moment."""

import sqlite3
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path
from threading import Barrier

import pytest

from portal import settings
from portal.settings import made_once

READ = "import sys, pathlib, portal.settings as s; print(s.made_once(pathlib.Path(sys.argv[1])).hex())"

OPEN = """import sys
from portal.store.engine.opening import open_or_make
from portal.store.engine.migrate import pending
open_or_make(sys.argv[1])
assert pending() == []
"""


def test_processes_that_start_together_make_one_database(tmp_path: Path) -> None:
    """A service, its tick and its backup are enabled in one command."""
    for number in range(3):
        command = [sys.executable, "-c", OPEN, str(tmp_path / f"{number}.db")]
        started = [subprocess.Popen(command, stderr=subprocess.PIPE, text=True) for _ in range(4)]
        assert [one.communicate()[1] for one in started] == [""] * 4
    assert list(tmp_path.glob("*.before-*")) == []


CONNECT = """import sys
from portal.store.engine.database import database, open_database
for line in sys.stdin:
    open_database(line.strip())
    with database.connection_context():
        print(database.pragma("journal_mode"), flush=True)
"""


def test_connections_that_make_one_file_together_wait_for_each_other(tmp_path: Path) -> None:
    """The journal of a new file is set by whoever opens it, and SQLite lets nobody wait for that."""
    command, pipes = [sys.executable, "-c", CONNECT], {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    started = [subprocess.Popen(command, text=True, bufsize=1, **pipes) for _ in range(6)]
    said = []
    for number in range(60):
        for one in started:
            one.stdin.write(f"{tmp_path / str(number)}.db\n")
        said.append({one.stdout.readline() for one in started})
    for one in started:
        one.communicate()
    assert said == [{"wal\n"}] * 60


def test_processes_that_start_together_get_the_same_secret(tmp_path: Path) -> None:
    path = tmp_path / "data" / "secret"
    command = [sys.executable, "-c", READ, str(path)]
    started = [subprocess.Popen(command, stdout=subprocess.PIPE, text=True) for _ in range(4)]
    assert len({one.communicate()[0] for one in started}) == 1
    assert [one.name for one in path.parent.iterdir()] == ["secret"]


KEYS = """import sys
from portal.acts.keeping.own_keys import check_keys, signer
from portal.settings import Settings
from portal.store.engine.opening import open_or_make
settings = Settings.read({"PORTAL_DATA": sys.argv[1]})
open_or_make(settings.database)
check_keys(settings)
print(signer(settings).public_key, settings.secret.hex())
"""


def test_processes_that_start_together_take_the_same_keys_for_a_new_database(tmp_path: Path) -> None:
    for number in range(2):
        command = [sys.executable, "-c", KEYS, str(tmp_path / str(number))]
        pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
        started = [subprocess.Popen(command, text=True, **pipes) for _ in range(4)]
        said = [one.communicate() for one in started]
        assert len({out for out, _ in said}) == 1 and said[0][0] and not any(err for _, err in said), said
        with closing(sqlite3.connect(tmp_path / str(number) / "portal.db")) as made:
            assert made.execute("SELECT COUNT(*) FROM firm_keys").fetchone() == (1,)


def test_threads_that_start_together_get_the_same_secret(tmp_path: Path) -> None:
    for number in range(20):
        start, path = Barrier(8), tmp_path / str(number)

        def read(start: Barrier = start, path: Path = path) -> bytes:
            start.wait()
            return made_once(path)

        with ThreadPoolExecutor(8) as pool:
            assert len({one.result() for one in [pool.submit(read) for _ in range(8)]}) == 1


def test_a_full_disk_leaves_no_empty_secret_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched, pytest.raises(OSError, match="No space"):
        patched.setattr(settings.os, "fsync", full)
        made_once(tmp_path / "secret")
    assert list(tmp_path.iterdir()) == []
    assert len(made_once(tmp_path / "secret")) == 32
    assert (tmp_path / "secret").stat().st_mode & 0o777 == 0o600
