"""A database that is gone, full, locked or wrong: a clear refusal, nothing half done, and it goes on when it can."""

import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from urllib.parse import quote

import psycopg
import pytest

from portal.acts.decisions.answers import approve
from portal.acts.household.updates import note_call
from portal.acts.refusals import Refused
from portal.store.engine.database import close_database, execute, open_database, read, touch, write
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import Busy, CannotWrite, DiskFull, FieldRefused, NoDatabase, NoDriver, Unfit
from portal.store.rows import record_rows
from portal.store.rows.editable import add_row, change_row, remove_row
from portal.store.tables import Call, Phase, Project, Room
from tests.house import NOW, House
from tests.postgresql.server import Server
from tests.served import ApiClient, refused

CALL = {"caller": "Maren Okafor", "asked": "When do you drill?"}


@pytest.fixture
def hang_up(url: str) -> Callable[[], None]:
    """End every connection to the house's database from the server's side, as a restart of the server does."""

    def hang_up() -> None:
        with psycopg.connect(url, autocommit=True) as other:
            other.execute(
                "SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity "
                "WHERE datname = current_database() AND pid <> pg_backend_pid()"
            )

    return hang_up


def test_a_connection_lost_between_two_uses_is_not_noticed(house: House, hang_up: Callable[[], None]) -> None:
    hang_up()
    assert read_snapshot(house.project).project.id == house.project
    hang_up()
    assert Project.get_by_id(house.project).id == house.project
    hang_up()
    note_call(house.office, house.project, CALL, NOW)
    assert Call.select().count() == 1


@pytest.mark.parametrize("then", [lambda: execute("SELECT 1"), lambda: None], ids=["a statement", "the commit"])
def test_one_lost_within_a_change_is_refused_once_and_nothing_changed(
    house: House, hang_up: Callable[[], None], then: Callable[[], object]
) -> None:
    with pytest.raises(NoDatabase, match="Look in a minute whether your change was kept"), write():
        note_call(house.office, house.project, CALL, NOW)
        hang_up()
        then()
    assert Call.select().count() == 0
    note_call(house.office, house.project, CALL, NOW)
    assert Call.select().count() == 1


def test_one_lost_within_a_reading_is_refused_once(house: House, hang_up: Callable[[], None]) -> None:
    with pytest.raises(NoDatabase), read():
        read_snapshot(house.project)
        hang_up()
        read_snapshot(house.project)
    assert read_snapshot(house.project).project.id == house.project


def test_while_the_server_is_down_the_api_says_so_and_then_goes_on(
    house: House, manager: ApiClient, server: Server
) -> None:
    server.stop()
    try:
        problem = refused(manager.get(f"projects/{house.project}"), 503)
        assert problem["type"] == "/problems/no-database"
        assert manager.get(f"projects/{house.project}").headers["Retry-After"]
    finally:
        server.start()
    assert manager.get(f"projects/{house.project}").status_code == 200
    assert manager.post(f"projects/{house.project}/calls", CALL).status_code == 201


@pytest.mark.parametrize(
    ("state", "refusal"),
    [("53100", DiskFull), ("58030", CannotWrite), ("40P01", Busy), ("40001", Busy), ("55P03", Busy),
     ("57014", Busy), ("08006", NoDatabase), ("57P01", NoDatabase)],
)
def test_what_the_server_reports_becomes_a_sentence(house: House, state: str, refusal: type[Refused]) -> None:
    """States of https://www.postgresql.org/docs/15/errcodes-appendix.html: disk_full, io_error, deadlock_detected,
    serialization_failure, lock_not_available, query_canceled, connection_failure, admin_shutdown."""
    with pytest.raises(refusal), write():
        note_call(house.office, house.project, CALL, NOW)
        execute(f"DO $$ BEGIN RAISE EXCEPTION 'no' USING ERRCODE = '{state}'; END $$")
    assert Call.select().count() == 0


def test_a_database_that_only_reads_is_told_from_a_busy_one(house: House, url: str) -> None:
    open_database(f"{url}&options={quote('-c default_transaction_read_only=on')}")
    with pytest.raises(CannotWrite):
        note_call(house.office, house.project, CALL, NOW)
    assert read_snapshot(house.project).project.id == house.project


def test_whoever_waits_too_long_for_a_project_is_told_so(house: House, url: str) -> None:
    open_database(f"{url}&options={quote('-c lock_timeout=100ms')}")
    with psycopg.connect(url) as other:
        other.execute("SELECT 1 FROM project WHERE id = %s FOR UPDATE", (house.project,))
        with pytest.raises(Busy):
            note_call(house.office, house.project, CALL, NOW)
    note_call(house.office, house.project, CALL, NOW)


@pytest.mark.parametrize(("given", "held"), [("off", "on"), ("local", "local"), ("remote_apply", "remote_apply")])
def test_what_is_acknowledged_is_on_disk_whatever_the_server_says(
    house: House, url: str, given: str, held: str
) -> None:
    open_database(f"{url}&options={quote(f'-c synchronous_commit={given}')}")
    assert execute("SHOW synchronous_commit").fetchone() == (held,)


def test_a_refused_act_leaves_the_connection_fit_for_the_next(house: House) -> None:
    for _ in range(3):
        with suppress(Refused):
            approve(house.homeowner, house.project, house.decisions[1], revision=1, option="z", name="M O", now=NOW)
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert record_rows.count(house.project) == 2


def test_an_act_goes_on_after_a_row_that_the_database_refused(house: House) -> None:
    """As the plan does, which collects the faults of all its lines."""
    kitchen, top = Room.get_by_id(house.rooms["kitchen"]), Phase.get_by_id(house.phases["top"])
    with write():
        for refused_by in (
            lambda: add_row(Room, project=house.project, name=kitchen.name, position=9, services=[]),
            lambda: change_row(Phase, house.phases["drill"], 1, {"name": top.name}),
            lambda: remove_row(Room, kitchen.id, kitchen.version),
        ):
            with pytest.raises(FieldRefused):
                refused_by()
        note_call(house.office, house.project, CALL, NOW)
    assert Call.select().count() == 1


@pytest.mark.parametrize("values", [{"caller": "Maren\0Okafor"}, {"caller": "M" * 256}], ids=["NUL", "too long"])
def test_what_its_columns_can_not_hold_is_refused(house: House, values: dict[str, str]) -> None:
    """SQLite holds both; on PostgreSQL it is a sentence, and no accident."""
    with pytest.raises(Unfit):
        note_call(house.office, house.project, CALL | values, NOW)
    assert Call.select().count() == 0


def test_a_project_touched_that_is_not_there_changes_nothing(house: House) -> None:
    with pytest.raises(Refused, match="no such project"), write():
        touch(999)


def test_a_url_that_is_none_is_refused_by_name() -> None:
    with pytest.raises(FieldRefused, match="PORTAL_DATABASE"):
        open_database("postgresql://localhost/portal?no_such_setting=1")


def test_a_server_that_is_not_there_is_no_traceback(tmp_path: Path) -> None:
    open_database(f"postgresql:///portal?host={tmp_path}")
    with pytest.raises(NoDatabase):
        read_snapshot(1)


def test_without_the_driver_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    close_database()
    monkeypatch.setitem(sys.modules, "psycopg", None)
    monkeypatch.delitem(sys.modules, "portal.store.engine.postgresql", raising=False)
    with pytest.raises(NoDriver, match=r"bash deploy/environment .* pip install '\.\[postgresql\]'"):
        open_database("postgresql:///portal")


def test_on_sqlite_the_driver_is_not_even_imported(tmp_path: Path) -> None:
    """peewee imports whatever driver it finds, and that takes longer than all the rest of it."""
    program = (
        "import sys, portal.app, portal.cli\n"
        "from portal.store.engine.database import open_database\n"
        "from portal.store.engine.migrate import migrate\n"
        f"open_database({str(tmp_path / 'portal.db')!r}); migrate()\n"
        "print(sorted(name for name in sys.modules if name.startswith('psycopg')))\n"
        "import psycopg\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert (done.stdout, done.stderr) == ("[]\n", "")
