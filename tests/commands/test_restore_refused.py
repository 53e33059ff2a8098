"""`portal restore` refuses what it can't vouch for, names what is wrong, and leaves everything as it was."""

import hashlib
import json
import os
import tarfile
import zipfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from portal.backup.opened import opened_backup
from portal.store.refusals import Refused
from tests.commands.conftest import Type
from tests.commands.typing_in import tree

Change = Callable[[dict[str, bytes]], object]


def rewritten(backup: Path, change: Change) -> Path:
    """The same backup with other members, as a zip that is whole."""
    with zipfile.ZipFile(backup) as packed:
        members = {name: packed.read(name) for name in packed.namelist()}
    change(members)
    path = backup.with_name("rewritten.zip")
    with zipfile.ZipFile(path, "w") as packed:
        for name, data in members.items():
            packed.writestr(name, data)
    return path


def manifest(packed: dict[str, bytes], **values: Any) -> None:
    packed["backup.json"] = json.dumps(json.loads(packed["backup.json"]) | values).encode()


def listed(name: str, data: bytes = b"x") -> Change:
    """A member of this name, listed as it should be."""

    def change(members: dict[str, bytes]) -> None:
        said = json.loads(members["backup.json"])["members"]
        one = {"name": name, "size": len(data), "sha256": hashlib.sha256(data).hexdigest()}
        manifest(members, members=[*said, one])
        members[name] = data

    return change


CHANGED: dict[str, tuple[Change, str]] = {
    "the photos are gone": (lambda m: m.pop("photos/1.tar"), "photos/1.tar: it should be"),
    "a photo is another": (lambda m: m.update({"photos/1.tar": m["photos/1.tar"].replace(b"JFIF", b"FIFJ", 1)}),
                           "photos/1.tar: it is not what was saved"),
    "the database is gone": (lambda m: m.pop("database"), "database: it should be there once"),
    "the secret is another": (lambda m: m.update(secret=m["secret"][::-1]), "secret: it is not what was saved"),
    "a plan grew": (lambda m: m.update({"data/plans/bath.toml": b"x" * 999}), "data/plans/bath.toml: it is not what"),
    "something was added": (lambda m: m.update({"data/plans/more.toml": b"x"}), "data/plans/more.toml: it should be"),
    "the list is no list": (lambda m: m.update({"backup.json": b"[]"}), "backup.json: it can't be read"),
    "the list is cut": (lambda m: m.update({"backup.json": b'{"portal_backup"'}), "backup.json: it can't be read"),
    "the list is odd": (lambda m: manifest(m, made_at=7), "backup.json: it can't be read"),
    "nothing listed": (lambda m: manifest(m, members=[]), "it should be there once, and listed once"),
    "fewer migrations": (lambda m: manifest(m, migrations=["0001_first"]), "database: it is of another version"),
    "a newer form": (lambda m: manifest(m, portal_backup=99), "made by a newer version of the portal"),
    "newer migrations": (lambda m: manifest(m, migrations=["9999_more"]), "its database has had 9999_more"),
    "of PostgreSQL": (lambda m: manifest(m, database="postgresql"), "holds a postgresql database, and PORTAL_DATABASE"),
    "no backup": (lambda m: m.pop("backup.json"), "it is no backup of the portal"),
}
NAMES = [
    "../outside", "/etc/outside", "data/../outside", "data/../../outside", "data//etc/outside", "data/./plans/x",
    "data/plans/../../../outside", "data\\..\\outside", "data/plans\\..\\..\\outside", "data", "data/", "outside",
    "data/portal.db", "data/portal.db-wal", "data/secret", "data/.hidden", "data/site/p/link", "data/site/index.html",
    "data/site/pages/1/index.html", "photos/0.tar", "photos/../1.tar",
    "photos/1.tar/x", "photos/x.tar", "photos/1",
    "data/site/pages/../photos/x.jpg", "data/replaced-x/y", "data/pl\nans",
]  # fmt: skip


@pytest.fixture
def refused(tmp_path: Path, type_in: Type) -> Callable[[Path], str]:
    """What is said when this file is restored to a new server, after which nothing at all is there."""

    def restore(path: Path) -> str:
        before = tree(tmp_path)
        said = type_in(tmp_path / "new", "restore", path)
        assert said.status == 1 and said.out == "" and said.err.count("\n") == 1
        assert tree(tmp_path) == before
        return said.err

    return restore


@pytest.mark.parametrize("case", CHANGED)
def test_what_was_changed_is_named(backup: Path, refused: Callable[[Path], str], case: str) -> None:
    change, says = CHANGED[case]
    assert says in refused(rewritten(backup, change))


def photos_tar(name: str, kind: bytes = tarfile.REGTYPE, times: int = 1) -> bytes:
    out = BytesIO()
    with tarfile.open(fileobj=out, mode="w") as packed:
        for _ in range(times):
            info = tarfile.TarInfo(name)
            info.type, info.linkname, info.size = kind, "/etc/passwd", 1 if kind == tarfile.REGTYPE else 0
            packed.addfile(info, BytesIO(b"x"))
    return out.getvalue()


PHOTO = f"{'a' * 20}-large.jpg"


@pytest.mark.parametrize(
    "tar",
    [photos_tar("../outside"), photos_tar("/etc/outside"), photos_tar(f"x/{PHOTO}"), photos_tar("index.html"),
     photos_tar(PHOTO, tarfile.SYMTYPE), photos_tar(PHOTO, tarfile.LNKTYPE), photos_tar(PHOTO, tarfile.DIRTYPE),
     photos_tar(PHOTO, tarfile.FIFOTYPE), photos_tar(PHOTO, times=2), b"x", b"x" * 700, photos_tar(PHOTO)[:700]],
)  # fmt: skip
def test_a_tar_that_holds_anything_but_photos_is_refused(
    backup: Path, refused: Callable[[Path], str], tar: bytes
) -> None:
    assert "photos/9.tar: it " in refused(rewritten(backup, listed("photos/9.tar", tar)))


@pytest.mark.parametrize("name", NAMES)
def test_no_member_leads_elsewhere(backup: Path, refused: Callable[[Path], str], name: str) -> None:
    assert "rewritten.zip was cut short or altered:" in refused(rewritten(backup, listed(name)))


def test_a_member_that_is_there_twice_is_refused(backup: Path, refused: Callable[[Path], str]) -> None:
    with zipfile.ZipFile(backup, "a") as packed, pytest.warns(UserWarning, match="Duplicate name"):
        packed.writestr("secret", b"another")
    assert "secret: it should be there once" in refused(backup)


def test_a_member_that_unpacks_to_more_than_it_said_fills_no_disk(
    backup: Path, refused: Callable[[Path], str]
) -> None:
    with zipfile.ZipFile(backup, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("data/plans/zeros.toml", bytes(50_000_000))
    one = {"name": "data/plans/zeros.toml", "size": 4, "sha256": "0" * 64}
    path = rewritten(backup, lambda m: manifest(m, members=[*json.loads(m["backup.json"])["members"], one]))
    assert "zeros.toml: it is not what was saved" in refused(path)


@pytest.mark.parametrize("part", [0, 1, 2, 1000, 0.3, 0.6, 0.9, 0.99, -1, -22])
def test_a_file_that_was_cut_short_is_refused(
    backup: Path, refused: Callable[[Path], str], part: float
) -> None:
    whole = backup.read_bytes()
    backup.write_bytes(whole[: int(part * len(whole)) if isinstance(part, float) else part])
    assert "cut short" in (said := refused(backup)) or part in (0, 1) and "it is no backup" in said


def test_no_changed_byte_goes_unseen(backup: Path) -> None:
    """Wherever in the file: it is refused, or what it holds is the same to the byte (dates and the like)."""
    whole, other = backup.read_bytes(), backup.with_name("other.zip")
    kept = _contents(backup)

    @settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
    @given(st.integers(-3000, len(whole) - 3001), st.integers(1, 255))
    def changed(at: int, by: int) -> None:
        data = bytearray(whole)
        data[at] ^= by
        other.write_bytes(data)
        try:
            assert _contents(other) == kept
        except Refused as refusal:
            assert "Nothing was changed" in str(refusal)

    changed()


def _contents(path: Path) -> dict[str, tuple[int, str]]:
    with opened_backup(path) as backup:
        backup.check()
        return {member.name: (member.size, member.sha256) for member in backup.manifest.members}


@pytest.mark.parametrize("content", [b"", b"PK", b"Dear all,", b"\x1f\x8b\x08", b"PK\x05\x06" + bytes(18)])
def test_a_file_of_another_kind_is_refused(tmp_path: Path, refused: Callable[[Path], str], content: bytes) -> None:
    (tmp_path / "file").write_bytes(content)
    assert "Nothing was changed" in refused(tmp_path / "file")


def test_a_file_that_is_not_there_is_refused(tmp_path: Path, refused: Callable[[Path], str]) -> None:
    assert "none.zip can't be used: No such file" in refused(tmp_path / "none.zip")


def test_another_user_than_the_services_is_refused(
    backup: Path, tmp_path: Path, type_in: Type, monkeypatch: pytest.MonkeyPatch
) -> None:
    """root could write there, and the service could not read it."""
    new = tmp_path / "new"
    new.mkdir()
    if os.geteuid() == 0:
        os.chown(new, 65534, 65534)
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    said = type_in(new, "restore", backup)
    assert said.status == 1 and "belongs to the user" in said.err and "Run this as" in said.err
    assert list(new.iterdir()) == []
