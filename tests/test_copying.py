"""A copy is handed out only if it passes the check that its reader would make, and written whole or not at all."""

from pathlib import Path

import pytest

from portal import cli
from portal.copying import CopyDoesNotHold, PhotoMissing, own_copy, write_whole
from portal.record.checking.copy_check import verify_copy
from portal.store.engine.database import execute
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.pages.own_copy.lived_in import unpacked
from tests.unguarded import unguard


def test_a_copy_cut_off_anywhere_does_not_hold(demo: DemoHouse) -> None:
    data = own_copy(demo.project, demo.settings, NOW)
    for end in range(0, len(data), 9973):
        assert not verify_copy(data[:end]).ok


def test_what_does_not_hold_is_not_handed_out(demo: DemoHouse) -> None:
    unguard("revision")
    execute("UPDATE revision SET shown = '{}' WHERE id = 1")
    with pytest.raises(CopyDoesNotHold, match="is not what was shown"):
        own_copy(demo.project, demo.settings, NOW)


def test_a_missing_photo_is_said(demo: DemoHouse) -> None:
    photo = next((demo.settings.photos_of(1)).iterdir())
    photo.unlink()
    with pytest.raises(PhotoMissing, match=photo.name):
        own_copy(demo.project, demo.settings, NOW)


def test_the_command_writes_it_whole_and_it_verifies(
    demo: DemoHouse, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PORTAL_DATA", str(demo.folder))
    path = tmp_path / "okafor.zip"
    assert cli.main(["export", "1", str(path)]) == 0
    assert path.stat().st_mode & 0o077 == 0, "it holds a household's address"
    assert cli.main(["verify", str(path)]) == 0
    assert "All of it holds." in capsys.readouterr().out
    assert cli.main(["export", "1", str(tmp_path / "nowhere" / "a.zip")]) == 1
    assert "can't be written" in capsys.readouterr().err
    assert cli.main(["export", "77"]) == 1


def test_a_file_that_can_not_be_written_leaves_the_old_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "copy.zip"
    path.write_bytes(b"old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("portal.copying.os.fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old" and list(tmp_path.iterdir()) == [path]


def test_a_project_with_nothing_in_it_has_a_copy_too(demo: DemoHouse) -> None:
    files = unpacked(own_copy(2, demo.settings, NOW))
    assert "index.html" in files and verify_copy(own_copy(2, demo.settings, NOW)).ok
