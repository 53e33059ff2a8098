"""A served house to approve in over HTTP, its questions asked again between; and the same inserts in raw sqlite3."""

import hashlib
import http.client
import json
import os
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from portal.acts.decisions.asking import ask_decision
from portal.store.engine.database import close_database
from tests.bench.street import make_street
from tests.deploy.site import free_port
from tests.house import NOW, House, lay_keys, make_house

OPTIONS = [{"title": "One hole", "key": "a"}, {"title": "Two holes", "key": "b"}]
ENTRY = {
    "project": 7, "at": "2026-12-02T13:30:00Z", "kind": "approved",
    "actor": {"kind": "person", "id": 101, "name": "Maren Okafor", "role": "homeowner"},
    "body": {"decision": 6, "revision": 1, "check_code": "0" * 64, "option": "a", "title": "One hole",
             "name": "Maren Okafor", "cost_cents": None, "days": None},
}

AT_ONCE = 8
_ASK_AGAIN = """INSERT INTO revision (decision_id, number, question, options, shown, check_code, asked_at, reason)
    SELECT decision_id, number + 1, question, options, shown, check_code, asked_at, reason FROM revision
    WHERE decision_id = ? AND number = ?"""
_OPEN_AGAIN = "UPDATE decision SET revision = revision + 1, state = 'asked' WHERE id = ?"


@dataclass
class Served:
    """Where it listens, whose link approves, the decisions and the revision at which all of them are open."""

    port: int
    link: str
    project: int
    decisions: list[int]
    database: Path
    revision: int = 1

    def connect(self) -> http.client.HTTPConnection:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        connection.connect()
        return connection

    def ask_all_again(self) -> None:
        """A new revision of every decision, so that all are open again. Not part of what is measured."""
        with closing(sqlite3.connect(self.database, isolation_level=None, timeout=30)) as connection:
            connection.execute("BEGIN IMMEDIATE")
            for decision in self.decisions:
                connection.execute(_ASK_AGAIN, (decision, self.revision))
                connection.execute(_OPEN_AGAIN, (decision,))
            connection.execute("COMMIT")
        self.revision += 1

    def approve(self, connection: http.client.HTTPConnection, decision: int) -> float:
        body: dict[str, object] = {"revision": self.revision, "option": "a", "name": "Maren Okafor"}
        return self._post(connection, decision, body, 201)

    def write_nothing(self, connection: http.client.HTTPConnection) -> float:
        """Read, known who, checked, refused: all of a POST but the writing."""
        return self._post(connection, self.decisions[0], {"revision": 1, "option": "a"}, 422)

    def _post(
        self, connection: http.client.HTTPConnection, decision: int, body: dict[str, object], expected: int
    ) -> float:
        """The seconds until the answer is read. Another answer than expected raises."""
        path = f"/api/v1/projects/{self.project}/decisions/{decision}/approvals"
        headers = {"Authorization": f"Bearer {self.link}", "Content-Type": "application/json"}
        start = time.perf_counter()
        connection.request("POST", path, json.dumps(body), headers)
        answer = connection.getresponse()
        answer.read()
        taken = time.perf_counter() - start
        if answer.status != expected:
            raise RuntimeError(f"{answer.status} instead of {expected}")
        return taken


@contextmanager
def served_house(folder: Path, workers: int, houses: int = 1) -> Iterator[Served]:
    house = _house(folder, houses)
    port = free_port()
    environment = os.environ | {"PORTAL_DATA": str(folder), "PORTAL_BASE_URL": f"http://127.0.0.1:{port}"}
    command = [sys.executable, "-m", "portal.cli", "serve", "--port", str(port), "--workers", str(workers)]
    server = subprocess.Popen(command, env=environment, stderr=subprocess.DEVNULL)
    try:
        asked = list(house.decisions.values())[-AT_ONCE:]
        served = Served(port, house.links["homeowner"], house.project, asked, folder / "portal.db")
        _until_up(served)
        yield served
    finally:
        server.terminate()
        server.wait(20)


def _house(folder: Path, houses: int) -> House:
    house = make_street(folder / "portal.db", houses)
    lay_keys(folder)
    for number in range(6, 6 + AT_ONCE):
        values = {"question": "How many holes?", "options": OPTIONS}
        house.decisions[number] = ask_decision(house.manager, house.project, values, NOW).id
    close_database()
    return house


def _until_up(served: Served) -> None:
    for _ in range(200):
        try:
            served.write_nothing(served.connect())
            return
        except OSError:
            time.sleep(0.1)
    raise RuntimeError("the server did not come up")


class RawApprovals:
    """The rows of an approval with all their hashes, written by sqlite3 itself with synchronous FULL, in a database
    with the same schema: the fact, the notice, the chain's entry, the tree's nodes and its edge. It reads nothing.
    """

    def __init__(self, folder: Path) -> None:
        make_house(folder / "raw.db")
        close_database()
        self.connection = sqlite3.connect(folder / "raw.db", isolation_level=None)
        for pragma in ("journal_mode = wal", "synchronous = full", "foreign_keys = 1"):
            self.connection.execute(f"PRAGMA {pragma}")
        edge = "INSERT INTO record_edge (size, peaks, hash, at, project_id) VALUES (0, x'', '', '', 7)"
        self.connection.execute(edge)
        self.count = 0
        self.previous = "0" * 64
        self.peaks: list[bytes] = []

    def once(self) -> float:
        start = time.perf_counter()
        run = self.connection.execute
        run("BEGIN IMMEDIATE")
        run("UPDATE project SET changed = changed + 1 WHERE id = 7")
        run(
            'INSERT INTO approval (decision_id, revision, "option", person_id, name, at) VALUES (?, ?, ?, ?, ?, ?)',
            (41, self.count + 2, "a", 101, "Maren Okafor", NOW),
        )
        run("UPDATE decision SET state = 'approved', version = version + 1 WHERE id = 41")
        run(
            """INSERT INTO notice (project_id, person_id, kind, about, mark, made_at, state, due_at, tries, trouble)
            VALUES (7, 101, 'receipt', ?, NULL, ?, 'waiting', ?, 0, '')""",
            (json.dumps({"entry": self.count, "decision": 6}), NOW, NOW),
        )
        self._record(run)
        run("COMMIT")
        return time.perf_counter() - start

    def _record(self, run: Callable[..., object]) -> None:
        said = {**ENTRY, "sequence": self.count + 1, "previous": self.previous}
        entry = json.dumps(said, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()
        self.previous = hashlib.sha256(entry).hexdigest()
        made = hashlib.sha256(b"\0" + entry).digest()
        nodes, place, level = [(7, 0, self.count, made)], self.count, 0
        while place & 1:
            made = hashlib.sha256(b"\1" + self.peaks.pop() + made).digest()
            place, level = place >> 1, level + 1
            nodes.append((7, level, place, made))
        self.peaks.append(made)
        self.count += 1
        run(
            "INSERT INTO record_entry (project_id, sequence, at, kind, canonical, hash) VALUES (?, ?, ?, ?, ?, ?)",
            (7, self.count, ENTRY["at"], "approved", entry, self.previous),
        )
        for node in nodes:
            run("INSERT INTO record_node (project_id, level, place, hash) VALUES (?, ?, ?, ?)", node)
        edge = (self.count, b"".join(self.peaks), self.previous, ENTRY["at"])
        run("UPDATE record_edge SET size = ?, peaks = ?, hash = ?, at = ? WHERE project_id = 7", edge)
