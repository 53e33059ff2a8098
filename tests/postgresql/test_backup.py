"""Backup and restore where the database is PostgreSQL: by its own programs, all or nothing, nothing old lost."""

import hashlib
import json
import os
import shutil
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path

import psycopg
import pytest

from portal import cli
from portal.acts.decisions.answers import approve
from portal.acts.keeping.verifying import verify_project
from portal.record.log.heads import Signer
from portal.record.verdict import Verdict
from portal.settings import Settings
from portal.store.engine import postgresql_copy
from portal.store.engine.database import close_database, database, execute, open_database
from portal.store.engine.migrate import pending
from portal.store.tables import Approval, Photo
from tests.commands.test_restore_refused import rewritten
from tests.commands.typing_in import Said, tree
from tests.house import NOW, House, lay_keys
from tests.unguarded import unguard

Type = Callable[..., Said]


@pytest.fixture
def type_in(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Type:
    """`type_in(folder, url, "backup", file)`."""
    monkeypatch.setenv("PORTAL_BASE_URL", "http://localhost")

    def run(data: Path, url: str, *arguments: object) -> Said:
        monkeypatch.setenv("PORTAL_DATA", str(data))
        monkeypatch.setenv("PORTAL_DATABASE", url)
        capsys.readouterr()
        status = cli.main([str(argument) for argument in arguments])
        close_database()
        return Said(status, *capsys.readouterr())

    return run


@pytest.fixture
def old(house: House, url: str, tmp_path: Path) -> Path:
    """The data folder of the old server. One decision was approved, so that there is a record."""
    (tmp_path / "old").mkdir()
    lay_keys(tmp_path / "old")
    Photo.delete().execute()  # the house names some that lie nowhere, and a backup would be incomplete
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert verdicts(tmp_path / "old", url)[7].sentences[0].startswith("The record of project 7 has 2 entries")
    return tmp_path / "old"


@pytest.fixture
def backup(old: Path, url: str, tmp_path: Path, type_in: Type) -> Path:
    said = type_in(old, url, "backup", tmp_path / "backup.zip")
    assert said.status == 0 and "read back and checked" in said.out
    return tmp_path / "backup.zip"


def verdicts(data: Path, url: str) -> dict[int, Verdict]:
    open_database(url)
    signer = Signer(Settings.read({"PORTAL_DATA": str(data)}).record_key)
    return {project: verify_project(project, signer) for project in (7, 8)}


def approvals(url: str) -> list[tuple[int, str, str]]:
    open_database(url)
    return [(row.decision_id, row.option, row.name) for row in Approval.select().order_by(Approval.id)]


def test_a_new_server_carries_on(
    backup: Path, old: Path, house: House, url: str, empty: str, tmp_path: Path, type_in: Type
) -> None:
    before, held = approvals(url), verdicts(old, url)
    said = type_in(tmp_path / "new", empty, "restore", backup)
    assert "Pages published: 2." in said.out
    assert before and approvals(empty) == before and pending() == []
    for link in house.links.values():
        assert (tmp_path / "new" / "site" / "p" / link / "index.html").is_file()
    assert not (tmp_path / "new" / "database").exists()
    with pytest.raises(psycopg.errors.IntegrityError, match="only added to"), psycopg.connect(empty) as connection:
        connection.execute("DELETE FROM approval")
    assert verdicts(tmp_path / "new", empty) == held
    approve(house.homeowner, house.project, house.decisions[2], revision=1, option="a", name="Maren Okafor", now=NOW)


def test_tables_that_are_there_are_moved_aside_only_when_told(
    backup: Path, house: House, url: str, tmp_path: Path, type_in: Type
) -> None:
    open_database(url)
    execute("UPDATE project SET name = 'The later house'")
    said = type_in(tmp_path / "new", url, "restore", backup)
    assert said.status == 1 and "tables in the database that PORTAL_DATABASE names" in said.err
    said = type_in(tmp_path / "new", url, "restore", backup, "--move-old-aside")
    (line,) = [line for line in said.out.splitlines() if "the schema" in line]
    schema = line.removesuffix(".").rpartition(" ")[2]
    open_database(url)
    assert execute(f"SELECT DISTINCT name FROM {schema}.project").fetchall() == [("The later house",)]
    assert ("Okafor house",) in execute("SELECT name FROM project").fetchall()


def test_a_dump_that_can_not_be_put_in_leaves_everything_as_it_was(
    backup: Path, url: str, old: Path, type_in: Type
) -> None:
    """Cut at its middle, with the checksums of that: pg_restore gives up after it has made some tables."""
    def cut(members: dict[str, bytes]) -> None:
        said = json.loads(members["backup.json"])
        members["database"] = data = members["database"][: len(members["database"]) * 2 // 3]
        for member in said["members"]:
            if member["name"] == "database":
                member |= {"size": len(data), "sha256": hashlib.sha256(data).hexdigest()}
        members["backup.json"] = json.dumps(said).encode()

    open_database(url)
    tables, before = database.get_tables(), tree(old)
    said = type_in(old, url, "restore", rewritten(backup, cut), "--move-old-aside")
    assert said.status == 1 and "pg_restore gave up, and nothing was changed. It said:" in said.err
    assert tree(old) == before
    open_database(url)
    assert database.get_tables() == tables and approvals(url)
    assert execute("SELECT COUNT(*) FROM pg_namespace WHERE nspname LIKE 'replaced%'").fetchone() == (0,)


@pytest.mark.parametrize("left", [0.3, 0.9, 0.999])
def test_a_dump_that_was_not_written_whole_gets_no_name(
    old: Path, url: str, tmp_path: Path, type_in: Type, monkeypatch: pytest.MonkeyPatch, left: float
) -> None:
    """As on a disk that takes less than it says: pg_dump is satisfied, and what it left can't be restored."""
    really = postgresql_copy._run

    def cut_off(program: str, where: str | None, *arguments: str) -> None:
        really(program, where, *arguments)
        if program == "pg_dump":
            into = Path(arguments[-1].removeprefix("--file="))
            into.write_bytes(into.read_bytes()[: int(into.stat().st_size * left)])

    monkeypatch.setattr(postgresql_copy, "_run", cut_off)
    said = type_in(old, url, "backup", tmp_path / "backup.zip")
    assert said.status == 1 and "pg_restore gave up" in said.err
    assert not (tmp_path / "backup.zip").exists()


def test_while_somebody_is_connected_the_tables_stay(
    backup: Path, url: str, tmp_path: Path, type_in: Type
) -> None:
    with psycopg.connect(url, application_name="portal"):
        said = type_in(tmp_path / "new", url, "restore", backup, "--move-old-aside")
    assert said.status == 1 and "is in use. Stop the service" in said.err and not (tmp_path / "new").exists()


@pytest.mark.parametrize("program", ["pg_dump", "pg_restore"])
def test_a_program_that_is_missing_is_named_with_its_package(
    backup: Path, old: Path, url: str, empty: str, tmp_path: Path, type_in: Type, monkeypatch: pytest.MonkeyPatch,
    program: str,
) -> None:  # fmt: skip
    monkeypatch.setenv("PATH", str(tmp_path))
    if program == "pg_dump":
        said = type_in(old, url, "backup", tmp_path / "other.zip")
        assert not (tmp_path / "other.zip").exists()
    else:
        said = type_in(tmp_path / "new", empty, "restore", backup)
        assert not (tmp_path / "new").exists()
    assert said.status == 1
    assert said.err.startswith(f"{program} is missing") and "apt-get install postgresql-client" in said.err


def test_no_password_is_on_a_command_line(
    old: Path, url: str, tmp_path: Path, type_in: Type, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Everyone on the machine may read those."""
    programs = tmp_path / "programs"
    programs.mkdir()
    dump = programs / "pg_dump"
    told = "import os, sys\nsys.exit(f'{sys.argv} {os.environ.get(\"PGPASSWORD\")}')\n"
    dump.write_text(f"#!{sys.executable}\n{told}")
    dump.chmod(0o755)
    monkeypatch.setenv("PATH", f"{programs}{os.pathsep}{os.environ['PATH']}")
    assert shutil.which("pg_dump") == str(dump)
    said = type_in(old, f"{url}&password=opensesame", "backup", tmp_path / "backup.zip")
    assert said.status == 1 and said.err.count("opensesame") == 1 and said.err.endswith(" opensesame\n")


def test_a_backup_of_the_other_kind_is_refused(backup: Path, tmp_path: Path, type_in: Type) -> None:
    said = type_in(tmp_path / "new", str(tmp_path / "new" / "portal.db"), "restore", backup)
    assert said.status == 1 and "holds a postgresql database, and PORTAL_DATABASE names a sqlite one" in said.err
    assert not (tmp_path / "new").exists()


def test_copies_of_earlier_versions_stay_behind(old: Path, url: str, tmp_path: Path, type_in: Type) -> None:
    open_database(url)
    execute("CREATE SCHEMA before_20261202t133000z")
    execute("CREATE TABLE before_20261202t133000z.approval AS TABLE approval")
    type_in(old, url, "backup", tmp_path / "backup.zip")
    assert b"before_20261202t133000z" not in zipfile.ZipFile(tmp_path / "backup.zip").read("database")


def test_a_dump_notes_how_long_the_records_were(
    old: Path, backup: Path, url: str, tmp_path: Path, type_in: Type
) -> None:
    said = type_in(old, url, "verify", "--held", backup)
    assert f"{backup}\nIt notes 1 record, of which 1 begins as noted.\nAll of it holds." in said.out
    (tmp_path / "nightly").mkdir()
    (tmp_path / "nightly" / "portal-20200101T000000Z.zip").write_bytes(backup.read_bytes())
    assert type_in(old, url, "backup", tmp_path / "nightly").status == 0
    open_database(url)
    unguard("record_entry")
    execute("DELETE FROM record_entry WHERE project_id = 7 AND sequence = 2")
    close_database()
    said = type_in(old, url, "verify", "--held", backup)
    assert "the record of project 7 has become shorter: it had 2 entries" in said.out
    said = type_in(old, url, "backup", tmp_path / "nightly")
    assert said.status == 1 and "A RECORD IS NOT WHAT IT WAS: the record of project 7 has become shorter" in said.err
