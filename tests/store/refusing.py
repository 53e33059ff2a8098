"""What the database itself refuses, whoever asks it: alike on SQLite and PostgreSQL."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from peewee import IntegrityError

from portal.store.engine.database import write


@contextmanager
def refused_by_the_database(words: str = "(?i)unique|foreign key|not.null") -> Iterator[None]:
    """The block is a write of its own, so that the test goes on after the refusal."""
    with pytest.raises(IntegrityError, match=words), write():
        yield
