"""A disk that is full or read-only, a database that another program holds: a clear answer, nothing half done, the page
still there, and all well again afterwards.

The real server is refused by the operating system: RLIMIT_FSIZE lets none of its files grow, as a full or read-only
disk would (also for root, whom permissions do not stop). In process, SQLite itself says that it is full or read-only.
"""

import fcntl
import resource
import sqlite3
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from portal.store.engine.database import close_database, database, execute
from tests.faults.server import Server
from tests.faults.stream import Stream, new_stream
from tests.served import ApiClient, refused, serve_house

LOCKING = """
import sqlite3, sys
held = sqlite3.connect(sys.argv[1], isolation_level=None)
held.execute("BEGIN EXCLUSIVE")
print("held", flush=True)
sys.stdin.readline()
"""


@pytest.fixture
def stream(tmp_path: Path) -> Iterator[Stream]:
    yield new_stream(tmp_path)
    close_database()


@pytest.fixture
def client(stream: Stream) -> FlaskClient:
    return serve_house(stream.folder).test_client()


@pytest.fixture
def server(stream: Stream) -> Iterator[Server]:
    close_database()
    running = Server(stream.folder, workers=2).start()
    page = stream.settings.site / "pages" / str(stream.project) / "index.html"
    for _ in range(600):  # pages are published beside the service, which answers first
        if page.exists():
            break
        time.sleep(0.05)
    yield running
    running.kill()


def approving(stream: Stream, number: int = 2) -> tuple[str, dict[str, Any]]:
    decision = stream.decision(number)
    values = {"revision": decision.revision, "option": "a", "name": "Ida Sorensen"}
    return f"projects/{stream.project}/decisions/{decision.id}/approvals", values


def asking(stream: Stream) -> tuple[str, dict[str, Any]]:
    """A question that no page has room for."""
    path = f"projects/{stream.project}/decisions/{stream.decision(2).id}/questions"
    return path, {"revision": 1, "text": "Will it drip? " * 280}


@pytest.mark.parametrize(("broken", "mended", "status", "kind", "said"), [
    # as little as it can be: the size it has
    (("max_page_count", 1), ("max_page_count", 100000000), 507, "disk-full", "server’s disk is full"),
    (("query_only", 1), ("query_only", 0), 503, "read-only-disk", "disk can only be read just now"),
])
def test_full_or_read_only_is_said_and_nothing_is_half_done(
    stream: Stream, client: FlaskClient, broken: tuple[str, int], mended: tuple[str, int], status: int, kind: str,
    said: str,
) -> None:
    assert execute("PRAGMA freelist_count").fetchone()[0] == 0
    before = execute("SELECT * FROM record_edge").fetchall()
    database.obj.pragma(*broken, permanent=True)  # of each connection: after a refusal, it is another one
    path, values = asking(stream)
    problem = refused(ApiClient(client, stream.link).post(path, values), status)
    assert problem["type"] == f"/problems/{kind}" and "nothing was changed" in problem["detail"]
    page = client.post(f"/p/{stream.link}/decisions/2/ask", data=values | {"once": "mark"})
    assert page.status_code == status
    assert said in page.get_data(as_text=True).replace("&#39;", "’")
    assert client.get(f"/p/{stream.link}/").status_code == 200
    database.obj.pragma(*mended, permanent=True)
    assert execute("SELECT * FROM record_edge").fetchall() == before
    stream.check()
    assert ApiClient(client, stream.link).post(path, values).status_code == 201
    stream.check()


def test_a_server_whose_files_can_not_grow_says_so_and_goes_on_when_they_can(stream: Stream, server: Server) -> None:
    path, values = approving(stream)
    close_database()
    for pid in server.workers_pids():
        resource.prlimit(pid, resource.RLIMIT_FSIZE, (0, resource.RLIM_INFINITY))
    status, problem, _ = server.post(path, stream.link, values)
    assert (status, problem["type"]) == (507, "/problems/cannot-write")
    assert server.get(f"/p/{stream.link}/")[0] == 200
    for pid in server.workers_pids():
        resource.prlimit(pid, resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    assert server.post(path, stream.link, values)[0] == 201
    stream.open()
    stream.check()
    assert [step for step in stream.kept() if step[1] == 2] == [("approved", 2, 1)]


@contextmanager
def held(database: str) -> Iterator[None]:
    """Another program holds the database for itself."""
    command = [sys.executable, "-c", LOCKING, database]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdin and other.stdout and other.stdout.readline() == "held\n"
        yield
        other.stdin.write("\n")
        other.stdin.close()
        other.wait(10)


def test_held_for_thirty_seconds_all_who_approve_are_told_and_the_page_stays(stream: Stream, server: Server) -> None:
    sending = [approving(stream, number) for number in (2, 3, 4)]
    close_database()
    answers: list[tuple[int, dict[str, str], float]] = []

    def approve(path: str, values: dict[str, Any]) -> None:
        begun = time.monotonic()
        status, _, headers = server.post(path, stream.link, values)
        answers.append((status, headers, time.monotonic() - begun))

    with held(stream.settings.database):
        released_at = time.monotonic() + 30
        household = [threading.Thread(target=approve, args=one) for one in sending]
        for one in household:
            one.start()
        for one in household:
            one.join(60)
        assert [status for status, _, _ in answers] == [503] * 3
        assert all(headers["Retry-After"] == "2" and seconds < 29 for _, headers, seconds in answers)
        begun = time.monotonic()
        assert server.get(f"/p/{stream.link}/")[0] == 200 and time.monotonic() - begun < 5
        time.sleep(max(0, released_at - time.monotonic()))
    assert [server.post(*_with_link(one, stream.link))[0] for one in sending] == [201] * 3
    stream.open()
    stream.check()
    assert sorted(stream.kept()[-3:]) == [("approved", 2, 1), ("approved", 3, 1), ("approved", 4, 1)]


def _with_link(sent: tuple[str, dict[str, Any]], link: str) -> tuple[str, str, dict[str, Any]]:
    return sent[0], link, sent[1]


def test_another_reader_keeps_nobody_waiting(stream: Stream, client: FlaskClient) -> None:
    """Whoever copies or reads the database meanwhile does not stop an approval."""
    with closing(sqlite3.connect(stream.settings.database)) as reading:
        reading.execute("BEGIN")
        reading.execute("SELECT COUNT(*) FROM record_entry").fetchone()
        path, values = approving(stream)
        assert ApiClient(client, stream.link).post(path, values).status_code == 201
    stream.check()


def test_a_turn_file_that_can_not_be_made_is_a_clear_answer_too(
    stream: Stream, client: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def read_only(*_: object) -> None:
        raise OSError(30, "Read-only file system")

    path, values = approving(stream)
    with monkeypatch.context() as patched:
        patched.setattr(fcntl, "flock", read_only)
        refused(ApiClient(client, stream.link).post(path, values), 503)
    assert ApiClient(client, stream.link).post(path, values).status_code == 201
    stream.check()
