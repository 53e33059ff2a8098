"""What is read of an outbox that keeps what it has sent: with 200,000 notices as with 200."""

import json
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from portal.store.engine.database import close_database, database, open_database
from portal.store.rows import notice_rows
from tests.bench.ratios import Claim, at_most, closing, in_turn, of_size
from tests.house import NOW, make_house

_ADD = """INSERT INTO notice (project_id, person_id, kind, about, made_at, state, due_at, tries, trouble, settled_at)
    VALUES (?, ?, 'asked', ?, ?, ?, ?, 1, '', ?)"""
_ADD_PERSON = """INSERT INTO person (version, project_id, name, role, phone, email, may_approve)
    VALUES (1, 7, ?, '', '', '', FALSE)"""
_MANY = of_size(200_000, 2_000)
_EACH = 100  # notices to a person: a long job
_ABOUT = {"decision": 1, "number": 1, "revision": 1}


def the_outbox(folder: Path) -> list[Claim]:
    few, many = folder / "few.db", folder / "many.db"
    for path, notices in ((few, 200), (many, _MANY)):
        _fill(path, notices)
    claims = []
    for name, read in (
        ("the newest sent", lambda: notice_rows.in_state("sent", 30)),
        ("what is due", lambda: notice_rows.due(NOW + 10)),
        ("whether a person was told", lambda: notice_rows.told(101, "asked", {**_ABOUT, "decision": 2})),
    ):
        medians = in_turn(15, {"few": _of(few, read), "many": _of(many, read)})
        claims.append(at_most(f"{name}, of {_MANY:,} to of 200", medians["many"] / medians["few"], 4.0))
    close_database()
    return claims


def _fill(path: Path, notices: int) -> None:
    make_house(path)
    connection = database.obj.connection()
    connection.execute("BEGIN")
    people = notices // _EACH
    connection.executemany(_ADD_PERSON, [(f"Person {i}",) for i in range(people)])
    about = json.dumps(_ABOUT)
    rows = [(7, 101 + i % people, about, NOW, "sent" if i % 49 else "dropped", NOW, NOW) for i in range(notices)]
    connection.executemany(_ADD, rows)
    connection.execute("COMMIT")


def _of(path: Path, read: Callable[[], object]) -> Callable[[], float]:
    def seconds() -> float:
        """Opening the database is not measured."""
        open_database(str(path))
        read()
        start = time.perf_counter()
        for _ in range(20):
            read()
        return time.perf_counter() - start

    return seconds


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        claims = the_outbox(Path(place))
    sys.exit(closing(claims))
