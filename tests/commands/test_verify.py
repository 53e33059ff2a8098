"""`portal verify` as the office and the homeowner type it: words, and an exit status for scripts."""

from pathlib import Path

import pytest

from portal import cli
from portal.acts.receipts import receipt_for, record_file
from portal.record.heads import Signer, key_name
from portal.store.database import execute
from tests.demo_house import DemoHouse


@pytest.fixture
def here(demo: DemoHouse, monkeypatch: pytest.MonkeyPatch) -> DemoHouse:
    monkeypatch.setenv("PORTAL_DATA", str(demo.folder))
    return demo


def receipt(demo: DemoHouse, sequence: int, folder: Path) -> Path:
    path = folder / f"receipt-{sequence}.json"
    path.write_bytes(receipt_for(demo.project, sequence, Signer(demo.settings.record_key)).file)
    return path


def test_all_projects_are_checked_and_each_is_named(here: DemoHouse, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["verify"]) == 0
    said = capsys.readouterr().out
    assert said.count("All of it holds.") == 2
    assert "Project 1\nThe record of project 1 has 32 entries" in said and "Project 2\n" in said


def test_a_fault_is_said_and_ends_with_status_1(here: DemoHouse, capsys: pytest.CaptureFixture[str]) -> None:
    execute("UPDATE decision SET state = 'approved' WHERE number = 1")
    assert cli.main(["verify", "1"]) == 1
    assert "This does not hold: decision 1 is marked as approved" in capsys.readouterr().out
    assert cli.main(["verify", "2"]) == 0
    assert cli.main(["verify"]) == 1


def test_a_project_that_is_not_there_is_refused(here: DemoHouse, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["verify", "99"]) == 1
    assert "no such project" in capsys.readouterr().err


def test_a_receipt_is_checked_anywhere_and_its_key_by_name(
    here: DemoHouse, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path, name = receipt(here, 20, tmp_path), key_name(Signer(here.settings.record_key).public_key)
    monkeypatch.setenv("PORTAL_DATA", str(tmp_path / "nowhere"))
    assert cli.main(["verify", str(path), "--key", name]) == 0
    assert f"signed with key {name}, as you expected" in capsys.readouterr().out
    assert cli.main(["verify", str(path), "--key", "0000-0000-0000-0000"]) == 1
    assert "none of those that you trust" in capsys.readouterr().out
    assert not (tmp_path / "nowhere").exists()


def test_a_held_receipt_is_compared_with_the_record(
    here: DemoHouse, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = receipt(here, 20, tmp_path)
    assert cli.main(["verify", "1", "--held", str(path)]) == 0
    assert "2 signed heads fit the entries" in capsys.readouterr().out
    (tmp_path / "letter.txt").write_text("Dear all")
    assert cli.main(["verify", "1", "--held", str(tmp_path / "letter.txt")]) == 1
    assert "holds no signed head" in capsys.readouterr().err


def test_a_record_file_and_a_changed_one(here: DemoHouse, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "record.json"
    path.write_bytes(record_file(here.project, Signer(here.settings.record_key)))
    assert cli.main(["verify", str(path)]) == 0
    path.write_bytes(path.read_bytes().replace(b"Maren", b"Karen"))
    assert cli.main(["verify", str(path)]) == 1
    assert "entry 3 does not follow entry 2" in capsys.readouterr().out


@pytest.mark.parametrize("content", [b"", b"{}", b"hello", b"PK\x03\x04", b'{"receipt":1}', b"[1]", b"\xff"])
def test_a_file_of_another_kind_is_refused_in_words(
    tmp_path: Path, content: bytes, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_bytes(content)
    assert cli.main(["verify", str(tmp_path / "file")]) == 1
    assert "This does not hold:" in capsys.readouterr().out
    assert cli.main(["verify", str(tmp_path / "missing")]) == 1
