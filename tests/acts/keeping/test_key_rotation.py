"""Another key takes over: every record tells it, heads of both times verify, and a crash in between is no harm."""

import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.firm.projects import add_project
from portal.acts.keeping import key_rotation
from portal.acts.keeping.key_rotation import rotate_key
from portal.acts.keeping.receipts import receipt_for, signed_head
from portal.acts.keeping.verifying import verify_project
from portal.copying import own_copy
from portal.record.checking.copy_check import verify_copy
from portal.record.checking.verification import verify_export, verify_receipt
from portal.record.log.heads import Signer, key_name
from portal.settings import secret_bytes
from portal.store.engine.database import close_database, execute
from portal.store.rows import record_rows
from portal.store.tables import Project
from tests.demo_house import DemoHouse
from tests.house import NOW

BOTH = [1, 2]  # the demo's projects: each has a record


def signer(demo: DemoHouse) -> Signer:
    return Signer(demo.settings.record_key)


def go_on(demo: DemoHouse) -> None:
    maren, decision = demo.told.household[0], demo.told.decisions[0]
    approve(maren, demo.project, decision, revision=1, option="a", name="Maren Okafor", now=NOW + 60)


def test_receipts_of_both_keys_verify_and_so_does_the_record(demo: DemoHouse) -> None:
    old = signer(demo)
    held = receipt_for(demo.project, 20, old)
    assert rotate_key(demo.settings, NOW) == BOTH
    go_on(demo)
    new = signer(demo)
    assert new.public_key != old.public_key
    verdict = verify_project(demo.project, new, [held.signed])
    assert verdict.ok and "2 signed heads fit" in str(verdict), verdict
    assert verify_receipt(held.file, [old.public_key]).ok
    size = record_rows.count(demo.project)
    assert verify_receipt(receipt_for(demo.project, size, new).file, [new.public_key]).ok
    assert verify_copy(own_copy(demo.project, demo.settings, NOW), [old.public_key]).ok


def test_an_empty_record_begins_with_the_new_key(demo: DemoHouse) -> None:
    calendar = {"week": {"mon": [["08:00", "16:30"]]}, "holidays": None, "days_off": []}
    values = {"name": "Berg house", "address": "9 Quarry Road", "timezone": "America/Chicago", "calendar": calendar}
    empty = add_project(demo.told.office, {**values, "starts_on": date(2027, 1, 4)}, NOW).id
    assert rotate_key(demo.settings, NOW) == BOTH
    assert record_rows.count(empty) == 0
    assert verify_project(empty, signer(demo)).ok


def test_several_rotations_follow_one_another(demo: DemoHouse) -> None:
    held = []
    for _ in range(3):
        found = signed_head(demo.project, signer(demo))
        assert found is not None
        held.append(found)
        rotate_key(demo.settings, NOW)
    assert verify_project(demo.project, signer(demo), held).ok


def test_the_old_key_signs_nothing_after_it(demo: DemoHouse) -> None:
    old = signer(demo)
    rotate_key(demo.settings, NOW)
    verdict = verify_project(demo.project, old)
    assert f"is signed with key {key_name(old.public_key)}" in str(verdict.first_fault)


def test_a_crash_before_the_key_is_in_place_is_finished_by_doing_it_again(
    demo: DemoHouse, monkeypatch: pytest.MonkeyPatch
) -> None:
    def power_lost(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched, pytest.raises(KeyboardInterrupt):
        patched.setattr(Path, "replace", power_lost)
        rotate_key(demo.settings, NOW)
    assert not verify_project(demo.project, signer(demo)).ok, "the record names a key that is not in place"
    size = record_rows.count(demo.project)
    assert rotate_key(demo.settings, NOW + 60) == []
    assert record_rows.count(demo.project) == size
    assert verify_project(demo.project, signer(demo)).ok
    assert not demo.settings.record_key_file.with_name("record-key.next").exists()


def test_a_crash_before_the_records_tell_it_changes_nothing(demo: DemoHouse, monkeypatch: pytest.MonkeyPatch) -> None:
    def power_lost(*_: object) -> None:
        raise KeyboardInterrupt

    before = signer(demo).public_key
    with monkeypatch.context() as patched, pytest.raises(KeyboardInterrupt):
        patched.setattr(key_rotation, "keep", power_lost)
        rotate_key(demo.settings, NOW)
    assert signer(demo).public_key == before and verify_project(demo.project, signer(demo)).ok
    prepared = secret_bytes(demo.settings.record_key_file.with_name("record-key.next"))
    assert rotate_key(demo.settings, NOW) == BOTH
    assert demo.settings.record_key == prepared


def test_the_key_is_readable_by_us_alone(demo: DemoHouse) -> None:
    rotate_key(demo.settings, NOW)
    assert demo.settings.record_key_file.stat().st_mode & 0o777 == 0o600


def test_the_command_does_it_and_names_the_key(demo: DemoHouse) -> None:
    close_database()
    command = [sys.executable, "-m", "portal.cli", "key", "rotate"]
    done = subprocess.run(command, env={"PORTAL_DATA": str(demo.folder)}, capture_output=True, text=True, check=True)
    assert key_name(signer(demo).public_key) in done.stdout and "tell of the change: 2." in done.stdout
    assert verify_project(demo.project, signer(demo)).ok


def test_a_rotation_that_was_changed_is_found(demo: DemoHouse) -> None:
    rotate_key(demo.settings, NOW)
    for (name,) in execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        execute(f'DROP TRIGGER "{name}"')
    execute("DELETE FROM record_entry WHERE kind = 'key_rotated'")
    assert not verify_project(demo.project, signer(demo)).ok


def test_a_copy_made_after_it_does_not_trust_a_key_that_never_was(demo: DemoHouse) -> None:
    from portal.acts.keeping.receipts import record_file

    rotate_key(demo.settings, NOW)
    data = record_file(demo.project, signer(demo))
    assert verify_export(data).ok
    assert not verify_export(data, ["00" * 32]).ok


def test_the_page_of_each_house_is_made_anew(demo: DemoHouse) -> None:
    """Its receipts are signed with another key from then on."""
    before = {row.id: row.changed for row in Project.select()}
    told = rotate_key(demo.settings, NOW)
    assert {row.id: row.changed for row in Project.select()} == before | {one: before[one] + 1 for one in told}
