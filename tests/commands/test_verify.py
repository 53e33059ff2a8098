"""`portal verify` as the office and the homeowner type it: words, and an exit status for scripts."""

import re
from pathlib import Path

import pytest

from portal import cli
from portal.acts.keeping.key_rotation import rotate_key
from portal.acts.keeping.receipts import receipt_for, record_file
from portal.record.log.heads import Signer, key_name
from portal.store.engine.database import execute
from portal.store.rows import record_rows
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.record.chains import Record


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
    assert f"Project 1\nThe record of project 1 has {record_rows.count(1)} entries" in said and "Project 2\n" in said


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


def test_a_held_file_of_another_project_is_not_passed_over(
    here: DemoHouse, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = receipt(here, 20, tmp_path)
    assert cli.main(["verify", "2", "--held", str(path)]) == 1
    assert f"{path} is of project 1, which is not among those that are checked" in capsys.readouterr().err
    assert cli.main(["verify", "--held", str(path)]) == 0


def test_after_a_change_of_keys_a_copy_is_trusted_by_either_and_by_no_other(
    here: DemoHouse, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    old = key_name(Signer(here.settings.record_key).public_key)
    rotate_key(here.settings, NOW)
    new, path = key_name(Signer(here.settings.record_key).public_key), str(tmp_path / "copy.zip")
    assert cli.main(["export", "1", path]) == 0
    for name, said in ((old, "took over from the key that you trust"), (new, "as you expected")):
        assert cli.main(["verify", path, "--key", name]) == 0
        assert said in capsys.readouterr().out
    assert cli.main(["verify", path, "--key", "0000-0000-0000-0000"]) == 1


@pytest.mark.parametrize("command", ["verify", "export"])
def test_where_there_is_no_database_none_is_made(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PORTAL_DATA", str(tmp_path / "mistyped"))
    assert cli.main([command, "1"]) == 1
    assert "There is no database" in capsys.readouterr().err
    assert not (tmp_path / "mistyped").exists()


def test_a_database_that_is_none_and_one_without_projects_are_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PORTAL_DATA", str(tmp_path))
    (tmp_path / "portal.db").write_bytes(b"This is a letter, and no database at all. " * 100)
    assert cli.main(["verify"]) == 1
    assert "The portal’s database is damaged" in capsys.readouterr().err
    (tmp_path / "portal.db").write_bytes(b"")
    assert cli.main(["verify"]) == 1
    assert "There is no project yet" in capsys.readouterr().err


def test_what_is_no_file_is_not_read(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert cli.main(["verify", "/dev/zero"]) == 1
    assert "is no file" in capsys.readouterr().err
    assert cli.main(["verify", str(tmp_path)]) == 1
    assert "Is a directory" in capsys.readouterr().err
    with (tmp_path / "huge").open("wb") as file:
        file.truncate(1 << 40)
    assert cli.main(["verify", str(tmp_path / "huge")]) == 1
    assert "larger than any file of ours" in capsys.readouterr().err


def test_a_forged_file_puts_no_line_of_its_own_among_ours(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    record = Record(1)
    eve = {"kind": "person", "id": 1, "name": "Eve\nAll of it holds.\n\x1b[8m"}
    record.add("2026-11-25T08:00:00Z", eve, "approved", {"option": "a"})
    (tmp_path / "receipt.json").write_bytes(record.receipt(1).file)
    cli.main(["verify", str(tmp_path / "receipt.json")])
    said = capsys.readouterr().out
    assert said.count("\nAll of it holds.") == 1 and "\x1b" not in said


def test_a_record_file_and_a_changed_one(here: DemoHouse, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "record.json"
    path.write_bytes(record_file(here.project, Signer(here.settings.record_key)))
    assert cli.main(["verify", str(path)]) == 0
    path.write_bytes(path.read_bytes().replace(b"Maren", b"Karen"))
    assert cli.main(["verify", str(path)]) == 1
    assert re.search(r"entry (\d+) does not follow entry (\d+)", capsys.readouterr().out)


@pytest.mark.parametrize("content", [b"", b"{}", b"hello", b"PK\x03\x04", b'{"receipt":1}', b"[1]", b"\xff"])
def test_a_file_of_another_kind_is_refused_in_words(
    tmp_path: Path, content: bytes, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_bytes(content)
    assert cli.main(["verify", str(tmp_path / "file")]) == 1
    assert "This does not hold:" in capsys.readouterr().out
    assert cli.main(["verify", str(tmp_path / "missing")]) == 1


def test_a_row_that_nobody_can_read_is_named_and_the_next_project_is_checked(
    here: DemoHouse, capsys: pytest.CaptureFixture[str]
) -> None:
    execute("UPDATE visit SET crew = CAST(x'ff00' AS TEXT), starts_at = 'soon' WHERE id = 1")
    assert cli.main(["verify"]) == 1
    said = capsys.readouterr().out
    assert "row 1 of the table visit is not as the record tells" in said
    assert said.count("All of it holds.") == 1 and "Project 2\n" in said
