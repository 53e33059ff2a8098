"""A backup that lacks a photo is written, is called incomplete in its name and in words, and ends no other."""

import hashlib
import json
import shutil
import zipfile
from pathlib import Path

import pytest

from portal.backup.dated import ALWAYS, dated_name, end_old, incomplete_name
from portal.backup.last import none_since
from tests.commands.conftest import Type
from tests.demo_house import DemoHouse, settings_at
from tests.house import NOW

DAY = 24 * 3600


def spoiled(old: DemoHouse, how: str) -> str:
    """The photo that was lost, as a backup names it."""
    lost = sorted((old.folder / "photos" / "1").glob(f"*-{'small' if how == 'small' else 'large'}.jpg"))[0]
    if how in ("missing", "small"):
        lost.unlink()
    elif how == "folder":
        shutil.rmtree(lost.parent)
    else:
        data = bytearray(lost.read_bytes())
        data[len(data) // 2] ^= 1
        lost.write_bytes(data)
    return f"photos/1/{lost.name}"


@pytest.mark.parametrize("how", ["missing", "changed", "folder", "small"])
def test_it_is_written_and_says_what_it_lacks(old: DemoHouse, tmp_path: Path, type_in: Type, how: str) -> None:
    lost = spoiled(old, how)
    said = type_in(old.folder, "backup", tmp_path / "backup.zip")
    assert said.status == 1 and not (tmp_path / "backup.zip").exists()
    assert f"with {0 if how == 'folder' else 3} photos" in said.out
    assert lost in said.err and "The backup is incomplete, and its name says so." in said.err
    path = tmp_path / "backup-incomplete.zip"
    listed = json.loads(zipfile.ZipFile(path).read("backup.json"))
    assert lost in listed["changed" if how == "changed" else "missing"]
    assert len(listed["changed"]) + len(listed["missing"]) == (4 if how == "folder" else 1)
    restored = type_in(tmp_path / "new", "restore", path)
    assert "The backup is incomplete: " in restored.err and lost in restored.err
    assert "Pages published: 2." in restored.out
    left = {"missing": 3, "changed": 4, "folder": 0, "small": 4}[how]
    assert len(list((tmp_path / "new" / "photos").glob("1/*-large.jpg"))) == left


def test_it_takes_no_whole_ones_place_and_counts_as_none(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    backup = tmp_path / "backup.zip"
    assert type_in(old.folder, "backup", backup).status == 0
    whole, made = backup.read_bytes(), (old.folder / ".last-backup").read_text()
    spoiled(old, "missing")
    for _ in range(2):  # another incomplete one may be there
        assert type_in(old.folder, "backup", backup).status == 1
    assert backup.read_bytes() == whole
    assert (old.folder / ".last-backup").read_text() == made
    assert none_since(settings_at(old.folder), NOW + 3 * DAY) == NOW


def test_a_night_whose_backup_is_incomplete_ends_no_older_one(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    folder = tmp_path / "backups"
    folder.mkdir()
    for ago in range(1, 60):
        (folder / dated_name(NOW - ago * DAY)).write_bytes(b"old")
    spoiled(old, "changed")
    assert type_in(old.folder, "backup", folder, "--keep-days", 30).status == 1
    names = {path.name for path in folder.iterdir()}
    assert len(names) == 60 and "portal-20261202T133000Z-incomplete.zip" in names


def test_the_newest_that_stay_are_whole_ones(tmp_path: Path) -> None:
    """Weeks of incomplete nights must not end the last whole backups once a photo is found again."""
    whole = [tmp_path / dated_name(NOW - ago * DAY) for ago in range(40, 60)]
    incomplete = [incomplete_name(tmp_path / dated_name(NOW - ago * DAY)) for ago in range(40)]
    for path in (*whole, *incomplete):
        path.write_bytes(b"old")
    ended = end_old(tmp_path, 30, NOW)
    assert set(ended) == {*whole[ALWAYS:], *incomplete[31:]}


def test_a_published_copy_stands_in_for_an_original(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    assert type_in(old.folder, "publish", "--all").status == 0
    for how in ("missing", "changed"):
        spoiled(old, how)
    said = type_in(old.folder, "backup", tmp_path / "backup.zip")
    assert (said.status, said.err) == (0, "") and "with 4 photos" in said.out
    assert type_in(tmp_path / "new", "restore", tmp_path / "backup.zip").status == 0
    again = type_in(tmp_path / "new", "backup", tmp_path / "again.zip")
    assert (again.status, again.err) == (0, "")


def test_a_backup_of_an_earlier_form_is_restored_and_its_photos_come_home(
    old: DemoHouse, tmp_path: Path, type_in: Type
) -> None:
    """Form 1 had each photo as a member of its own, from where the site shows it."""
    assert type_in(old.folder, "backup", tmp_path / "backup.zip").status == 0
    listed = json.loads(zipfile.ZipFile(tmp_path / "backup.zip").read("backup.json"))
    members = [one for one in listed["members"] if not one["name"].startswith("photos/")]
    photos = {f"data/site/pages/1/photos/{path.name}": path.read_bytes() for path in
              (old.folder / "photos" / "1").glob("*.jpg")}  # fmt: skip
    members += [{"name": name, "size": len(data), "sha256": hashlib.sha256(data).hexdigest()}
                for name, data in photos.items()]  # fmt: skip
    first = {name: listed[name] for name in ("made_at", "database", "migrations", "base_url")} | {
        "portal_backup": 1, "members": members
    }  # fmt: skip
    with zipfile.ZipFile(tmp_path / "backup.zip") as saved, zipfile.ZipFile(tmp_path / "first.zip", "w") as earlier:
        for name in [one["name"] for one in members if one["name"] not in photos]:
            earlier.writestr(name, saved.read(name))
        for name, data in photos.items():
            earlier.writestr(name, data)
        earlier.writestr("backup.json", json.dumps(first))
    said = type_in(tmp_path / "new", "restore", tmp_path / "first.zip")
    assert (said.status, said.err) == (0, "")
    assert {path.name: path.read_bytes() for path in (tmp_path / "new" / "photos" / "1").glob("*.jpg")} == {
        name.rpartition("/")[2]: data for name, data in photos.items()
    }
