"""What is tested on SQLite, once more on PostgreSQL: the acts, the store and the API. New tests join by themselves.

pytest looks for a test's fixtures from the place where it was collected: collected here, the same modules are given
the house of this folder's conftest.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

TESTS = Path(__file__).parents[1]
# Of the API what writes most; the rest asks the database nothing that these do not.
CHOSEN = (
    "acts/**/test_*.py", "store/**/test_*.py", "api/resources/test_answers.py", "api/resources/test_resources.py",
    "api/resources/test_messages.py", "api/resources/test_crew_notes.py", "api/resources/test_visit_answers.py",
    "notices/test_outbox.py",
)
# About SQLite files, about changing SQLite past its triggers, about PostgreSQL without a server; and who may do what is
# asked before any database.
LEFT_OUT = {
    "store/engine/test_disk.py", "store/engine/test_migrate.py", "store/engine/test_opening.py",
    "store/engine/test_sqlite_copy.py", "store/engine/test_turns.py",
    "store/engine/test_postgresql.py", "store/engine/test_postgresql_copy.py",
    "acts/keeping/test_verifying.py", "acts/test_who_may.py",
}  # fmt: skip


class Again(pytest.File):
    """This file, collected: the modules that it tells of."""

    def collect(self) -> Iterator[pytest.Module]:
        for pattern in CHOSEN:
            for path in sorted(TESTS.glob(pattern)):
                name = path.relative_to(TESTS).as_posix()
                if name not in LEFT_OUT:
                    yield pytest.Module.from_parent(self, path=path, nodeid=f"{self.nodeid}::{name}")
