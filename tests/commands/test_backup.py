"""`portal backup`: what the owner of a firm has in hand when the server is gone; and when none could be made."""

import os
import shutil
import stat
import tarfile
import zipfile
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest

from portal.backup import contents, making, packing
from portal.backup.workroom import PREFIX
from portal.settings import Settings
from portal.store.engine.database import open_database
from portal.store.tables import Approval, Photo
from tests.commands.conftest import Type
from tests.commands.typing_in import tree
from tests.demo_house import DemoHouse
from tests.served import ApiClient


def test_a_new_server_carries_on(old: DemoHouse, backup: Path, tmp_path: Path, type_in: Type) -> None:
    """Every link shows the page with its photos, every approval is there, tokens work, and the records verify."""
    from portal.app import create_app

    approvals = [(row.decision_id, row.option, row.name, row.at) for row in _rows(old.folder, Approval)]
    new = tmp_path / "new"
    said = type_in(new, "restore", backup)
    assert (said.status, said.err) == (0, "")
    assert "Records verified: 2, of which 2 hold.\nPages published: 2.\n" in said.out
    assert type_in(new, "verify").status == 0
    client = create_app(Settings.read({"PORTAL_DATA": str(new), "PORTAL_BASE_URL": "http://localhost"})).test_client()
    for link in old.told.links:
        assert client.get(f"/p/{link}/").status_code == 200
        assert (new / "site" / "p" / link / "index.html").is_file()
        for photo in _rows(new, Photo):
            assert client.get(f"/p/{link}/photos/{photo.name}-large.jpg").status_code == 200
    assert ApiClient(client, old.told.tokens["manager"]).get("projects/1").status_code == 200
    assert approvals and approvals == [(row.decision_id, row.option, row.name, row.at) for row in _rows(new, Approval)]
    for same in ("secret", "record-key", "plans/bath.toml"):
        assert (new / same).read_bytes() == (old.folder / same).read_bytes()


def _rows(folder: Path, table: type) -> list:
    open_database(str(folder / "portal.db"))
    return list(table.select())


def test_only_its_owner_may_read_it_and_it_says_so(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    before = os.umask(0)
    said = type_in(old.folder, "backup", tmp_path / "backup.zip")
    os.umask(before)
    assert stat.S_IMODE((tmp_path / "backup.zip").stat().st_mode) == 0o600
    assert "with 4 photos, read back and checked." in said.out
    assert "It holds secrets" in said.out and "(0600)" in said.out


def test_what_is_derived_or_passing_stays_behind(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    assert type_in(old.folder, "publish", "--all").status == 0
    photos = old.folder / "photos" / "1"
    for passing in (old.folder / "portal.db.before-20261201T000000Z", photos / "new.123.part", old.folder / ".demo"):
        passing.write_bytes(b"passing")
    (old.folder / "papers").mkdir()
    (old.folder / "papers" / "again").symlink_to(old.folder / "papers")
    (old.folder / "papers" / "licence.pdf").write_bytes(b"whatever else the firm put there")
    type_in(old.folder, "backup", tmp_path / "backup.zip")
    names = set(zipfile.ZipFile(tmp_path / "backup.zip").namelist())
    assert names == {"backup.json", "database", "secret", "data/record-key", "data/plans/bath.toml",
                     "data/papers/licence.pdf", "photos/1.tar"}
    with tarfile.open(fileobj=BytesIO(zipfile.ZipFile(tmp_path / "backup.zip").read("photos/1.tar"))) as packed:
        assert set(packed.getnames()) == {path.name for path in photos.glob("*.jpg")} and len(packed.getnames()) == 8


def test_photos_on_another_disk_are_followed(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    (old.folder / "photos").rename(tmp_path / "large")
    (old.folder / "photos").symlink_to(tmp_path / "large")
    assert "with 4 photos" in type_in(old.folder, "backup", tmp_path / "backup.zip").out


def test_photos_that_were_not_brought_home_yet_are_saved_as_if_they_were(
    old: DemoHouse, tmp_path: Path, type_in: Type
) -> None:
    """A backup comes before an upgrade; and a published copy is as good as an original that was lost."""
    assert type_in(old.folder, "publish", "--all").status == 0
    shutil.rmtree(old.folder / "photos")
    said = type_in(old.folder, "backup", tmp_path / "backup.zip")
    assert (said.status, said.err) == (0, "") and "with 4 photos" in said.out
    assert type_in(tmp_path / "new", "restore", tmp_path / "backup.zip").status == 0
    assert len(list((tmp_path / "new" / "photos" / "1").glob("*.jpg"))) == 8
    assert len(list((tmp_path / "new" / "site" / "pages" / "1" / "photos").glob("*.jpg"))) == 8


def test_settings_that_point_elsewhere_are_followed(
    old: DemoHouse, tmp_path: Path, type_in: Type, monkeypatch: pytest.MonkeyPatch
) -> None:
    elsewhere = {"PORTAL_DATABASE": tmp_path / "db" / "firm.sqlite", "PORTAL_SECRET_FILE": tmp_path / "keys" / "one"}
    for (setting, there), name in zip(elsewhere.items(), ("portal.db", "secret"), strict=True):
        there.parent.mkdir()
        (old.folder / name).rename(there)
        monkeypatch.setenv(setting, str(there))
    assert type_in(old.folder, "backup", tmp_path / "backup.zip").status == 0
    for setting, there in elsewhere.items():
        monkeypatch.setenv(setting, str(tmp_path / "other" / there.name))
    assert type_in(tmp_path / "new", "restore", tmp_path / "backup.zip").status == 0
    assert (tmp_path / "other" / "one").read_bytes() == elsewhere["PORTAL_SECRET_FILE"].read_bytes()
    assert type_in(tmp_path / "new", "verify").out.count("All of it holds.") == 2
    assert sorted(path.name for path in (tmp_path / "new").iterdir()) == ["photos", "plans", "record-key", "site"]


def test_a_backup_takes_the_place_of_the_one_before(old: DemoHouse, backup: Path, type_in: Type) -> None:
    (old.folder / "plans" / "bath.toml").write_text('title = "A better bath"\n')
    assert type_in(old.folder, "backup", backup).status == 0
    assert b"better" in zipfile.ZipFile(backup).read("data/plans/bath.toml")
    backup.write_bytes(backup.read_bytes()[:-400])
    assert type_in(old.folder, "backup", backup).status == 0  # a damaged one all the more


def test_what_is_no_backup_is_not_overwritten(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    letter, pictures = tmp_path / "letter.txt", tmp_path / "pictures.zip"
    letter.write_text("Dear all")
    with zipfile.ZipFile(pictures, "w") as packed:
        packed.writestr("sink.jpg", b"")
    for path in (letter, pictures):
        before = path.read_bytes()
        said = type_in(old.folder, "backup", path)
        assert said.status == 1 and f"can't be written to {path}: there is something else" in said.err
        assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("where", "says"),
    [("old/backup.zip", "it would be lost with the data"), ("old/plans/x.zip", "it would be lost with the data"),
     ("nowhere/backup.zip", "there is no folder")],
)
def test_a_place_that_is_of_no_use_is_refused(
    old: DemoHouse, tmp_path: Path, type_in: Type, where: str, says: str
) -> None:
    before = tree(tmp_path)
    said = type_in(old.folder, "backup", tmp_path / where)
    assert said.status == 1 and says in said.err
    assert set(tree(tmp_path)) - set(before) <= {"old/portal.db-wal", "old/portal.db-shm"}


@pytest.mark.parametrize("lost", ["portal.db", "secret"])
def test_wrong_settings_are_seen_and_make_nothing(
    old: DemoHouse, tmp_path: Path, type_in: Type, lost: str
) -> None:
    (old.folder / lost).rename(tmp_path / lost)
    said = type_in(old.folder, "backup", tmp_path / "backup.zip")
    assert said.status == 1 and f"{lost} is not there, so a backup would be of no use" in said.err
    assert not (old.folder / lost).exists() and not (tmp_path / "backup.zip").exists()


def test_a_damaged_database_makes_no_backup(old: DemoHouse, backup: Path, tmp_path: Path, type_in: Type) -> None:
    before = backup.read_bytes()
    with (old.folder / "portal.db").open("r+b") as database:
        database.seek(100_000)
        database.write(b"\xff" * 200_000)
    said = type_in(old.folder, "backup", backup)
    assert said.status == 1 and "portal.db is damaged" in said.err
    assert backup.read_bytes() == before and not list(tmp_path.glob(f"{PREFIX}*"))


def test_a_file_that_goes_meanwhile_fails_no_backup(
    old: DemoHouse, tmp_path: Path, type_in: Type, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As `portal tick` drops a photo that nothing names, or the office puts a plan away."""
    unnamed = old.folder / "photos/1" / f"{'f' * 20}-large.jpg"
    unnamed.write_bytes(b"of an update that was removed")
    write = packing.write_tar

    def written(paths: Iterator[Path], into: object) -> None:
        found = list(paths)
        unnamed.unlink(missing_ok=True)
        write(iter(found), into)

    monkeypatch.setattr(packing, "write_tar", written)
    going, look = [old.folder / "plans" / "bath.toml"], contents.files_of

    def looked(settings: Settings) -> Iterator[tuple[str, Path]]:
        found = list(look(settings))
        for path in going:
            assert path in [there for _, there in found]
            path.unlink()
        yield from found

    monkeypatch.setattr(contents, "files_of", looked)
    said = type_in(old.folder, "backup", tmp_path / "backup.zip")
    assert (said.status, said.err) == (0, "") and "with 4 photos" in said.out
    assert type_in(tmp_path / "new", "restore", tmp_path / "backup.zip").status == 0


def test_a_key_that_changes_meanwhile_is_not_saved_beside_another_database(
    old: DemoHouse, tmp_path: Path, type_in: Type, monkeypatch: pytest.MonkeyPatch
) -> None:
    copied: list[Path] = []
    following = old.folder / "record-key.next"

    def copy(into: Path) -> None:
        making_copy(into)
        copied.append(into)
        if len(copied) == 1:
            following.write_text("ab" * 32)

    making_copy = making.copy_database
    monkeypatch.setattr(making, "copy_database", copy)
    assert type_in(old.folder, "backup", tmp_path / "backup.zip").status == 0
    assert len(copied) == 2
    assert zipfile.ZipFile(tmp_path / "backup.zip").read("data/record-key.next") == following.read_bytes()
    monkeypatch.setattr(making, "copy_database", lambda into: (making_copy(into), following.write_bytes(os.urandom(8))))
    said = type_in(old.folder, "backup", tmp_path / "other.zip")
    assert said.status == 1 and "The keys are being changed just now" in said.err
    assert not (tmp_path / "other.zip").exists()
