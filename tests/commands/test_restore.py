"""`portal restore`: in the place of what is there only when told so, all or nothing, and brought forward."""

import sqlite3
import zipfile
from collections.abc import Iterator
from contextlib import closing
from itertools import count
from pathlib import Path

import pytest

from portal.backup.contents import ASIDE
from portal.store.engine.database import close_database, execute, open_database
from portal.store.engine.migrate import migrate
from tests.commands.conftest import Type
from tests.commands.typing_in import tree
from tests.demo_house import DemoHouse
from tests.store.engine.test_migrate import first_version  # noqa: F401 - a fixture: a database of the first version

ASKED = "--move-old-aside"


@pytest.fixture
def started(tmp_path: Path, type_in: Type) -> Path:
    """A new server that was started before anybody thought of the backup."""
    new = tmp_path / "new"
    assert type_in(new, "publish", "--all").status == 0
    (new / "record-key").write_text("cd" * 32)
    (new / "plans").mkdir()
    (new / "plans" / "own.toml").write_text("new")
    return new


def test_what_is_there_already_is_not_touched(backup: Path, started: Path, type_in: Type) -> None:
    before = tree(started)
    said = type_in(started, "restore", backup)
    assert said.status == 1 and said.out == ""
    assert f"There is something already: {started}/portal.db" in said.err and ASKED in said.err
    assert tree(started) == before


def test_told_so_it_is_moved_aside_whole(backup: Path, started: Path, type_in: Type) -> None:
    before = tree(started)
    said = type_in(started, "restore", backup, ASKED)
    assert said.status == 0 and "Records verified: 2, of which 2 hold." in said.out
    (aside,) = started.glob(f"{ASIDE}*")
    assert f"What was there before lies in {aside}.\n" in said.out
    assert aside.stat().st_mode & 0o777 == 0o700
    assert (aside / "plans" / "own.toml").read_text() == "new"
    assert (aside / "secret").read_bytes() == before["secret"]
    with closing(sqlite3.connect(aside / "portal.db")) as old:
        assert old.execute("SELECT COUNT(*) FROM project").fetchone() == (0,)
    assert sorted(path.name for path in (started / "plans").iterdir()) == ["bath.toml"]
    assert type_in(started, "verify").out.count("All of it holds.") == 2


def test_what_was_moved_aside_is_not_saved_with_the_next_backup(
    backup: Path, started: Path, tmp_path: Path, type_in: Type
) -> None:
    type_in(started, "restore", backup, ASKED)
    type_in(started, "backup", tmp_path / "next.zip")
    assert not [name for name in zipfile.ZipFile(tmp_path / "next.zip").namelist() if ASIDE in name]


def test_while_somebody_has_the_database_open_it_stays(backup: Path, started: Path, type_in: Type) -> None:
    with closing(sqlite3.connect(started / "portal.db")) as serving:
        serving.execute("SELECT COUNT(*) FROM project").fetchone()
        said = type_in(started, "restore", backup, ASKED)
        assert said.status == 1 and "is in use. Stop the service" in said.err
        assert not list(started.glob(f"{ASIDE}*")) and not list(started.glob(".portal-work-*"))
    assert type_in(started, "restore", backup, ASKED).status == 0


def test_whatever_rename_fails_those_before_it_are_undone(
    backup: Path, started: Path, type_in: Type, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As when the disk goes read-only in the middle of it: at the first rename, at the second, and so on."""
    before, rename = _without_log(started), Path.rename
    for failing in count(1):
        renames = count(1)

        def once(path: Path, target: Path, failing: int = failing, renames: Iterator[int] = renames) -> Path:
            if next(renames) == failing:
                raise OSError(30, "Read-only file system", str(path))
            return rename(path, target)

        with monkeypatch.context() as patched:
            patched.setattr(Path, "rename", once)
            said = type_in(started, "restore", backup, ASKED)
        if said.status == 0:
            break
        assert "Nothing was restored, and all is as it was:" in said.err and "Read-only file system" in said.err
        assert _without_log(started) == before
    assert failing > 9, "four old things and five new ones"


def _without_log(folder: Path) -> dict[str, bytes | None]:
    """The old database leaves the write-ahead mode, which its head says, and nothing else of it changes."""
    found = tree(folder)
    with closing(sqlite3.connect(folder / "portal.db")) as database:
        dump = "\n".join(database.iterdump()).encode()
    return {name: data for name, data in found.items() if not name.startswith("portal.db-")} | {"portal.db": dump}


def test_the_file_may_lie_where_it_is_restored(backup: Path, tmp_path: Path, type_in: Type) -> None:
    new = tmp_path / "new"
    new.mkdir()
    backup.rename(new / "backup.zip")
    assert type_in(new, "restore", new / "backup.zip").status == 0
    assert (new / "backup.zip").exists()


def test_an_empty_site_made_for_the_web_server_is_kept(backup: Path, tmp_path: Path, type_in: Type) -> None:
    """deploy/portal.service makes it with the web server's group, which what is restored there has to inherit."""
    site = tmp_path / "new" / "site"
    site.mkdir(parents=True)
    site.chmod(0o2750)
    node = site.stat().st_ino
    assert type_in(tmp_path / "new", "restore", backup).status == 0
    assert site.stat().st_ino == node
    photos = site / "pages" / "1" / "photos"
    assert photos.stat().st_mode & 0o2000 and all(path.stat().st_mode & 0o040 for path in photos.iterdir())
    assert (tmp_path / "new" / "portal.db").stat().st_mode & 0o077 == 0


@pytest.fixture
def of_the_first_version(first_version: Path, tmp_path: Path, type_in: Type) -> Path:  # noqa: F811
    """A backup made by this program of data that it has not migrated yet, as before an upgrade."""
    data = tmp_path / "first"
    data.mkdir()
    first_version.rename(data / "portal.db")
    (data / "secret").write_text("ab" * 32)
    said = type_in(data, "backup", tmp_path / "first.zip")
    assert said.status == 0
    return tmp_path / "first.zip"


def test_an_earlier_version_is_brought_forward(of_the_first_version: Path, tmp_path: Path, type_in: Type) -> None:
    said = type_in(tmp_path / "new", "restore", of_the_first_version)
    assert "Brought forward to this version: 0002_actuals, " in said.out
    open_database(str(tmp_path / "new" / "portal.db"))
    assert migrate() == []
    assert execute("SELECT name FROM approval").fetchall() == [("Maren Okafor",)]
    assert not list((tmp_path / "new").glob("portal.db.before-*"))


def test_a_record_that_does_not_hold_is_restored_and_said(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    open_database(str(old.folder / "portal.db"))
    execute("UPDATE decision SET state = 'approved' WHERE number = 1")
    close_database()
    type_in(old.folder, "backup", tmp_path / "backup.zip")
    said = type_in(tmp_path / "new", "restore", tmp_path / "backup.zip")
    assert said.status == 1 and "Records verified: 2, of which 1 hold." in said.out
    assert "The record of project 1 does not hold" in said.err and "decision 1 is marked as approved" in said.err
    assert "Pages published: 2." in said.out


def test_another_address_is_pointed_out(
    backup: Path, tmp_path: Path, type_in: Type, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PORTAL_BASE_URL", "https://new.example.org")
    said = type_in(tmp_path / "new", "restore", backup)
    assert "links that begin with http://localhost, and PORTAL_BASE_URL is https://new.example.org here" in said.out
    assert said.status == 0


def test_a_change_of_keys_that_was_cut_off_can_be_finished(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    (old.folder / "record-key.next").write_text("ab" * 32)
    type_in(old.folder, "backup", tmp_path / "backup.zip")
    said = type_in(tmp_path / "new", "restore", tmp_path / "backup.zip")
    assert "To finish that: portal key rotate" in said.out
    assert (tmp_path / "new" / "record-key.next").read_text() == "ab" * 32


@pytest.fixture(autouse=True)
def closed() -> Iterator[None]:
    yield
    close_database()
