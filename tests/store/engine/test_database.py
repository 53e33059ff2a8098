"""One place commits: all together or not at all, one after the other, and who listens is told after that."""

import threading

import pytest

from portal.store import tables
from portal.store.engine.database import (
    close_database,
    execute,
    is_postgresql,
    listen,
    read,
    stop_listening,
    touch,
    trying,
    write,
)
from portal.store.refusals import NotFound
from tests.house import House


def rooms() -> int:
    return int(tables.Room.select().count())


def test_what_fails_changes_nothing(house: House) -> None:
    before = rooms()
    with pytest.raises(ZeroDivisionError), write():
        tables.Room.create(project=house.project, name="Pantry")
        raise ZeroDivisionError
    assert rooms() == before


def test_a_write_within_a_write_joins_it(house: House) -> None:
    before = rooms()
    with pytest.raises(ZeroDivisionError), write():
        with write():
            tables.Room.create(project=house.project, name="Pantry")
        raise ZeroDivisionError
    assert rooms() == before
    with write():
        tables.Room.create(project=house.project, name="Pantry")
    assert rooms() == before + 1


def test_a_touched_project_counts_one_change_a_commit(house: House) -> None:
    before = tables.Project.get_by_id(house.project).changed
    with write():
        touch(house.project)
        touch(house.project)
    assert tables.Project.get_by_id(house.project).changed == before + 1
    assert tables.Project.get_by_id(house.other_project).changed == before


def test_a_project_changes_only_within_a_write(house: House) -> None:
    with pytest.raises(RuntimeError, match="only within write"):
        touch(house.project)
    with pytest.raises(NotFound, match="no such project"), write():
        touch(999)


def test_listeners_are_told_after_the_commit_what_it_touched(house: House) -> None:
    told: list[tuple[set[int], int]] = []
    listen(lambda touched: told.append((touched, rooms())))
    before = rooms()
    with write():
        touch(house.project)
        tables.Room.create(project=house.project, name="Pantry")
        assert told == []
    with write():
        touch(house.other_project)
        touch(house.project)
    assert told == [({house.project}, before + 1), ({house.project, house.other_project}, before + 1)]


def test_nobody_is_told_of_what_was_not_committed_or_touched_nothing(house: House) -> None:
    told: list[set[int]] = []
    listen(told.append)
    with write():
        execute("UPDATE room SET position = position")
    with pytest.raises(ZeroDivisionError), write():
        touch(house.project)
        raise ZeroDivisionError
    with write():
        pass
    assert told == []
    stop_listening()
    with write():
        touch(house.project)
    assert told == []


def test_writers_of_a_project_take_turns(house: House) -> None:
    """Each reads what the one before left: none of the changes is lost."""

    def add_ten() -> None:
        for _ in range(10):
            with write():
                touch(house.project)
                (count,) = execute("SELECT contract_cents FROM project WHERE id = ?", house.project).fetchone()
                execute("UPDATE project SET contract_cents = ? WHERE id = ?", count + 1, house.project)
        close_database()  # this thread's own

    before = tables.Project.get_by_id(house.project).contract_cents
    threads = [threading.Thread(target=add_ten) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert tables.Project.get_by_id(house.project).contract_cents == before + 30


def test_reads_see_one_moment(house: House) -> None:
    def rename() -> None:
        with write():
            execute("UPDATE room SET name = 'Scullery' WHERE id = ?", house.rooms["kitchen"])
        close_database()  # this thread's own

    sql = "SELECT name FROM room WHERE id = ?"
    with read():
        assert execute(sql, house.rooms["kitchen"]).fetchone() == ("Kitchen",)
        thread = threading.Thread(target=rename)
        thread.start()
        thread.join()
        assert execute(sql, house.rooms["kitchen"]).fetchone() == ("Kitchen",)
    assert execute(sql, house.rooms["kitchen"]).fetchone() == ("Scullery",)


def test_a_statement_that_is_refused_leaves_the_rest_of_the_write(house: House) -> None:
    with write():
        tables.Room.create(project=house.project, name="Pantry")
        with pytest.raises(Exception, match="(?i)unique"), trying():
            tables.Room.create(project=house.project, name="Pantry")
    assert tables.Room.select().where(tables.Room.name == "Pantry").count() == 1


@pytest.mark.parametrize(
    ("url", "is_one"),
    [("postgresql://localhost/portal", True), ("postgres:///portal", True), ("/var/lib/portal/portal.db", False),
     ("postgresql.db", False)],
)  # fmt: skip
def test_a_database_is_told_by_its_url(url: str, is_one: bool) -> None:
    assert is_postgresql(url) is is_one
