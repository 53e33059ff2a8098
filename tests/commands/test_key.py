"""`portal key`: its name, another key, and the way back for who lost it; what other commands say meanwhile."""

import hashlib
import json
import shutil
from pathlib import Path

import pytest

from portal.acts.crews.crew_links import crew_holder_of, make_crew_link
from portal.acts.crews.crews import add_crew
from portal.acts.firm import lost_keys
from portal.acts.keeping.receipts import receipt_for
from portal.record.checking.verification import verify_receipt
from portal.record.log.heads import Signer, key_name
from portal.store.engine.database import open_database
from portal.store.rows import record_rows
from portal.store.tables import Link
from tests.commands.conftest import Type
from tests.commands.test_restore_refused import manifest, rewritten
from tests.demo_house import DemoHouse
from tests.house import NOW


def name_in(folder: Path, file: str = "record-key") -> str:
    return key_name(Signer(bytes.fromhex((folder / file).read_text())).public_key)


def test_it_names_the_key_for_the_papers(old: DemoHouse, type_in: Type) -> None:
    said = type_in(old.folder, "key")
    assert said.status == 0 and said.out.splitlines()[0] == name_in(old.folder)
    assert type_in(old.folder / "mistyped", "key").status == 1 and not (old.folder / "mistyped").exists()


def test_it_is_rotated_and_named(old: DemoHouse, type_in: Type) -> None:
    before = name_in(old.folder)
    said = type_in(old.folder, "key", "rotate")
    assert said.status == 0 and name_in(old.folder) != before
    assert f"tell of the change: 2. They are signed with key {name_in(old.folder)}" in said.out
    assert type_in(old.folder, "verify").out.count("All of it holds.") == 2


@pytest.mark.parametrize("file", ["record-key", "secret"])
@pytest.mark.parametrize("lost", [True, False])
def test_with_other_keys_commands_refuse_and_name_the_file(
    old: DemoHouse, tmp_path: Path, type_in: Type, file: str, lost: bool
) -> None:
    assert type_in(old.folder, "publish", "--all").status == 0
    shutil.copytree(old.folder / "site", tmp_path / "site", symlinks=True)
    (old.folder / file).unlink()
    if not lost:
        (old.folder / file).write_text("ab" * 32)
    for command in (["verify"], ["backup", tmp_path / "x.zip"], ["publish", "--all"], ["tick"], ["key"],
                    ["link", "new", "1", "1"], ["export", "1", tmp_path / "copy.zip"], ["key", "rotate"]):  # fmt: skip
        said = type_in(old.folder, *command)
        assert said.status == 1 and f"{old.folder / file} " in said.err, command
    assert (old.folder / file).exists() is not lost
    assert not (tmp_path / "x.zip").exists() and not (tmp_path / "copy.zip").exists()
    assert sorted(p.name for p in (old.folder / "site").rglob("*")) == sorted(
        p.name for p in (tmp_path / "site").rglob("*"))


def test_a_lost_record_key_is_replaced_and_every_record_says_so(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    open_database(old.settings.database)
    held, before = receipt_for(1, 20, Signer(old.settings.record_key)), name_in(old.folder)
    (tmp_path / "receipt.json").write_bytes(held.file)
    (old.folder / "record-key").unlink()
    said = type_in(old.folder, "key", "replace-lost")
    assert said.status == 1 and "The secret is lost" not in said.out
    assert "The record key is lost. A new one would sign from here on, and an entry on every record" in said.out
    assert "Nothing was changed." in said.err and not (old.folder / "record-key").exists()

    said = type_in(old.folder, "key", "replace-lost", "--yes")
    assert said.status == 0 and "Records that tell of it: 2." in said.out and name_in(old.folder) in said.out
    said = type_in(old.folder, "verify", "--held", tmp_path / "receipt.json")
    assert said.status == 0, said
    assert f"says that the key {before} was lost: it does not vouch for key {name_in(old.folder)}." in said.out
    assert verify_receipt(held.file, [held.signed.public_key]).ok, "what it signed can be checked as before"
    assert type_in(old.folder, "tick").status == 0 and type_in(old.folder, "backup", tmp_path / "b.zip").status == 0

    path = tmp_path / "copy.zip"
    assert type_in(old.folder, "export", "1", path).status == 0
    assert type_in(old.folder, "verify", path, "--key", name_in(old.folder)).status == 0
    said = type_in(old.folder, "verify", path, "--key", before)
    assert said.status == 1 and f"the key {before} that you trust was lost before entry " in said.out


def test_a_lost_secret_ends_all_links_and_new_ones_work(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    crew = add_crew(old.told.office, {"name": "Chimney crew"}, NOW).id
    of_crew = make_crew_link(old.told.office, crew, day=None, secret=old.settings.secret, now=NOW)
    (old.folder / "secret").write_text("ab" * 32)
    said = type_in(old.folder, "key", "replace-lost")
    assert said.status == 1 and f"The one that lies in {old.folder / 'secret'} now would take its place." in said.out
    assert "Every private link would end" in said.out and "record key" not in said.out
    said = type_in(old.folder, "key", "replace-lost", "--yes")
    assert said.status == 0 and "Ended: " in said.out and "private links. Make new ones" in said.out
    open_database(old.settings.database)
    assert Link.select().where(Link.revoked_at.is_null()).count() == 0
    assert crew_holder_of(of_crew, NOW) is None
    assert len(record_rows.of_kind(1, "secret_lost")) == len(record_rows.of_kind(2, "secret_lost")) == 1
    said = type_in(old.folder, "link", "new", "1", "1")
    assert said.status == 0
    link = said.out.strip().rstrip("/").rsplit("/", 1)[1]
    assert (old.folder / "site" / "p" / link / "index.html").exists()
    assert type_in(old.folder, "verify").status == 0


def test_both_lost_at_once_and_what_was_interrupted_is_finished(
    old: DemoHouse, type_in: Type, monkeypatch: pytest.MonkeyPatch
) -> None:
    for file in ("record-key", "secret"):
        (old.folder / file).unlink()

    def power_lost(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(lost_keys.record_rows, "keep_keys", power_lost)
        assert type_in(old.folder, "key", "replace-lost", "--yes").status == 130
    made = name_in(old.folder)
    said = type_in(old.folder, "key", "replace-lost", "--yes")
    assert said.status == 0 and name_in(old.folder) == made
    assert type_in(old.folder, "verify").out.count("All of it holds.") == 2


def test_nothing_is_replaced_that_is_not_lost(old: DemoHouse, type_in: Type) -> None:
    before = (old.folder / "record-key").read_text()
    said = type_in(old.folder, "key", "replace-lost", "--yes")
    assert said.status == 1 and "Nothing is lost" in said.err and "portal key rotate" in said.err
    assert (old.folder / "record-key").read_text() == before
    (old.folder / "record-key").write_text("half a ke")
    said = type_in(old.folder, "key", "replace-lost", "--yes")
    assert said.status == 1 and "holds no key, and may be what is left of one. Move it away" in said.err
    assert (old.folder / "record-key").read_text() == "half a ke"


def test_a_restored_backup_brings_keys_that_fit_or_says_so(
    old: DemoHouse, backup: Path, tmp_path: Path, type_in: Type
) -> None:
    assert type_in(tmp_path / "new", "restore", backup).status == 0
    assert type_in(tmp_path / "new", "key").out == type_in(old.folder, "key").out
    assert type_in(tmp_path / "new", "tick").status == 0

    def other_secret(members: dict[str, bytes]) -> None:
        """As an earlier version could have saved it, which made a new one where it was missing."""
        members["secret"] = b"ab" * 32 + b"\n"
        listed = json.loads(members["backup.json"])["members"]
        digest = hashlib.sha256(members["secret"]).hexdigest()
        said = [one | {"sha256": digest, "size": 65} if one["name"] == "secret" else one for one in listed]
        manifest(members, members=said)

    said = type_in(tmp_path / "other", "restore", rewritten(backup, other_secret))
    assert said.status == 1 and "Restored, as of" in said.out
    assert f"The backup holds other keys than those of its database. {tmp_path / 'other' / 'secret'} holds" in said.err
    assert not (tmp_path / "other" / "site").exists(), "links that open nothing are not published"
