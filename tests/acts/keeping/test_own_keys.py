"""Keys belong to a database: others are known for what they are, in words that say which file to put back."""

import os
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from portal.acts.firm.projects import add_project
from portal.acts.keeping.key_rotation import rotate_key
from portal.acts.keeping.own_keys import (
    KeyMissing,
    KeyUnreadable,
    OtherRecordKey,
    OtherSecret,
    check_keys,
    keys_refusal,
    signer,
)
from portal.record.log.heads import Signer, key_name
from portal.settings import Settings
from portal.store.engine.database import execute, open_database
from portal.store.engine.migrate import migrate
from portal.store.tables import FirmKeys, Link
from tests.demo_house import DemoHouse, settings_at
from tests.house import NOW, House, lay_keys

Other = Callable[[Path], object]
GONE: Other = Path.unlink


def another(path: Path) -> None:
    path.write_text("ab" * 32)


def spoiled(path: Path) -> None:
    path.write_text("opensesame")


def as_before(demo: DemoHouse) -> None:
    """As the database of a version that did not note its keys."""
    FirmKeys.delete().execute()


def test_a_new_database_has_both_made(tmp_path: Path) -> None:
    settings = settings_at(tmp_path)
    open_database(settings.database)
    migrate()
    check_keys(settings)
    kept = FirmKeys.get()
    assert kept.record_key == Signer(settings.record_key).public_key == signer(settings).public_key
    assert settings.secret.hex() not in kept.secret_digest and len(kept.secret_digest) == 64
    assert [path.stat().st_mode & 0o777 for path in (settings.secret_file, settings.record_key_file)] == [0o600] * 2


@pytest.mark.parametrize("noted", [True, False])
@pytest.mark.parametrize(
    ("file", "change", "kind", "says"),
    [
        ("record-key", GONE, KeyMissing, "record-key is not there: the record key that this database was begun with"),
        ("record-key", spoiled, KeyUnreadable, "record-key must hold 64 hex digits"),
        ("secret", GONE, KeyMissing, "secret is not there: the secret that this database was begun with"),
        ("secret", spoiled, KeyUnreadable, "secret must hold 64 hex digits"),
        ("secret", another, OtherSecret, "secret holds another secret than the one that the links of this database"),
    ],
)
def test_what_is_wrong_is_said_with_the_file_and_nothing_is_made(
    demo: DemoHouse, noted: bool, file: str, change: Other, kind: type, says: str
) -> None:
    """Links tell of which secret they were made, so that of an older database is known, too."""
    if not noted:
        as_before(demo)
    change(demo.folder / file)
    refusal = keys_refusal(demo.settings)
    assert type(refusal) is kind and says in str(refusal) and str(demo.folder / file) in str(refusal)
    assert "opensesame" not in str(refusal) and "portal key replace-lost" in str(refusal)
    assert (demo.folder / file).exists() is (change is not GONE)
    assert FirmKeys.select().count() == noted


def test_another_record_key_is_named_beside_the_right_one(demo: DemoHouse) -> None:
    own = key_name(signer(demo.settings).public_key)
    another(demo.settings.record_key_file)
    found = key_name(Signer(bytes.fromhex("ab" * 32)).public_key)
    with pytest.raises(OtherRecordKey, match=f"holds the key {found}, .* signed with the key {own}"):
        signer(demo.settings)
    assert isinstance(keys_refusal(demo.settings), OtherRecordKey)


def test_an_older_database_takes_the_keys_that_are_there_once(demo: DemoHouse) -> None:
    as_before(demo)
    check_keys(demo.settings)
    another(demo.settings.record_key_file)
    assert isinstance(keys_refusal(demo.settings), OtherRecordKey)


def test_an_older_database_whose_key_was_rotated_knows_it_by_its_records(demo: DemoHouse) -> None:
    before = demo.settings.record_key_file.read_text()
    rotate_key(demo.settings, NOW)
    after = demo.settings.record_key_file.read_text()
    as_before(demo)
    demo.settings.record_key_file.write_text(before)
    assert isinstance(keys_refusal(demo.settings), OtherRecordKey)
    demo.settings.record_key_file.write_text(after)
    assert keys_refusal(demo.settings) is None


def test_an_older_database_goes_by_the_link_that_was_made_last(demo: DemoHouse) -> None:
    """Where the secret was made anew once before, the links before that don't open any more."""
    as_before(demo)
    first = Link.select().order_by(Link.id).first()
    execute("UPDATE link SET digest = ? WHERE id = ?", "0" * 64, first.id)
    assert keys_refusal(demo.settings) is None


def test_a_house_without_a_record_has_its_first_key_made(house: House, tmp_path: Path) -> None:
    """As when projects came from elsewhere: nothing was signed yet, so no key can be missing."""
    settings = settings_at(tmp_path)
    lay_keys(tmp_path)
    settings.record_key_file.unlink()
    check_keys(settings)
    assert settings.record_key_file.exists()
    settings.record_key_file.unlink()
    assert isinstance(keys_refusal(settings), KeyMissing), "from then on it is the database's own"


def test_a_key_that_was_put_back_is_known_at_once(demo: DemoHouse) -> None:
    held = demo.settings.secret_file.read_text()
    another(demo.settings.secret_file)
    assert keys_refusal(demo.settings)
    demo.settings.secret_file.write_text(held)
    assert keys_refusal(demo.settings) is None


def test_a_file_that_can_not_be_read_is_said(demo: DemoHouse, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(path: Path, *_: object) -> str:
        raise PermissionError(13, os.strerror(13), str(path))

    monkeypatch.setattr(Path, "read_text", refused)
    assert "record-key can't be read: Permission denied." in str(keys_refusal(demo.settings))


def test_while_a_key_takes_over_the_one_that_the_records_tell_of_signs(
    demo: DemoHouse, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The power went before it had its place: service and backup go on, and a house that begins now is signed right."""
    def power_lost(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched, pytest.raises(KeyboardInterrupt):
        patched.setattr(Path, "replace", power_lost)
        rotate_key(demo.settings, NOW)
    following = Signer(bytes.fromhex(demo.settings.next_record_key_file.read_text()))
    assert keys_refusal(demo.settings) is None
    assert signer(demo.settings).public_key == following.public_key
    _begin_a_house(demo)
    assert rotate_key(demo.settings, NOW) == []
    assert signer(demo.settings).public_key == following.public_key and keys_refusal(demo.settings) is None


def _begin_a_house(demo: DemoHouse) -> None:
    calendar = {"week": {"mon": [["08:00", "16:30"]]}, "holidays": None, "days_off": []}
    values = {"name": "Berg house", "address": "9 Quarry Road", "timezone": "America/Chicago", "calendar": calendar,
              "starts_on": date(2027, 1, 4), "contract_cents": 100}
    add_project(demo.told.office, values, NOW)


def test_what_is_kept_of_the_secret_does_not_tell_it(demo: DemoHouse) -> None:
    settings = Settings.read({"PORTAL_DATA": str(demo.folder)})
    assert FirmKeys.get().secret_digest not in (settings.secret.hex(), settings.record_key.hex())
