"""The page on checking the record is right: its scripts and commands are run as they stand, with general tools only."""

import io
import json
import re
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any

import pytest

from portal.content import piece
from portal.copying import own_copy
from portal.record.log.canonical import canonical
from portal.record.log.heads import key_name
from portal.record.papers.export import export_file
from portal.store.rows import record_rows
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.record.chains import told, with_new_key
from tests.record.example import SIGNER, receipt_file, record_file

PAGE = (Path(__file__).parents[3] / "content" / "guide" / "check-the-record.md").read_text(encoding="utf-8")
SECTIONS = dict(re.findall(r"^## (.+?)\n(.*?)(?=^## |\Z)", PAGE, flags=re.MULTILINE | re.DOTALL))


def code(section: str, number: int = 0) -> str:
    """An indented block of a section, without its indent."""
    blocks = re.findall(r"(?:^(?: {4}.*)?\n)*^ {4}.*\n", SECTIONS[section], flags=re.MULTILINE)
    return re.sub(r"^ {4}", "", blocks[number], flags=re.MULTILINE).strip("\n")


def run(folder: Path, *command: str) -> str:
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=60, check=False)
    return done.stdout + done.stderr


def steps(folder: Path, receipt: bytes) -> list[str]:
    """What each step of the page answers for a receipt."""
    (folder / "receipt.json").write_bytes(receipt)
    scripts = [code("Step 1: take the receipt apart"), code("Step 3: from the entry to the root")]
    commands = [code("Step 2: the hash of the entry"), code("Step 4: the signature"), code("Step 4: the signature", 1)]
    apart = run(folder, sys.executable, "-W", "ignore", "-c", scripts[0])
    entry = run(folder, "bash", "-c", commands[0])
    climbed = run(folder, sys.executable, "-W", "ignore", "-c", scripts[1])
    return [apart, entry, climbed, *(run(folder, "bash", "-c", command) for command in commands[1:])]


def test_the_worked_example_comes_out_as_the_page_says(tmp_path: Path) -> None:
    receipt = code("A worked example").encode()
    assert receipt == receipt_file()
    apart, entry, climbed, signature, key = steps(tmp_path, receipt)
    promised = re.findall(r"^- Step .*", SECTIONS["A worked example"], flags=re.MULTILINE)
    assert apart == ""
    assert f"`{entry.split()[0]}`" in promised[0]
    root, same = climbed.splitlines()
    assert f"`{root}`" in promised[1] and same == "same root" and f"`{same}`" in promised[1]
    assert signature.strip() == "Signature Verified Successfully" and f"`{signature.strip()}`" in promised[2]
    assert f"`{key[:4]}-{key[4:8]}-{key[8:12]}-{key[12:16]}`" in promised[2]


@pytest.mark.parametrize(("change", "failing"), [
    (lambda receipt: receipt["entry"]["body"].update(option="a"), 2),
    (lambda receipt: receipt["head"].update(at="2026-11-30T08:00:02Z"), 3),
    (lambda receipt: receipt["proof"].reverse(), 2),
])
def test_a_changed_receipt_fails_at_a_step_of_the_page(tmp_path: Path, change: Any, failing: int) -> None:
    receipt = json.loads(receipt_file())
    change(receipt)
    answers = steps(tmp_path, canonical(receipt))
    assert ("NOT THE SAME ROOT" in answers[2]) is (failing == 2)
    assert ("Successfully" in answers[3]) is (failing != 3)


def test_receipts_of_longer_records_pass_the_steps_too(tmp_path: Path) -> None:
    record = told()
    for sequence in (3, 9):
        receipt = record.receipt(sequence, signer=SIGNER).file
        _, entry, climbed, signature, _ = steps(tmp_path, receipt)
        assert entry.split()[0] == record.entries[sequence - 1].hash
        assert "same root" in climbed and "Successfully" in signature


def record_says(folder: Path, data: bytes, *names: str) -> str:
    (folder / "record.json").write_bytes(data)
    return run(folder, sys.executable, "-W", "ignore", "-c", code("The whole record"), *names)


def test_the_whole_record_passes_the_script_and_a_changed_one_does_not(tmp_path: Path) -> None:
    assert record_says(tmp_path, record_file()) == "3 entries: same root\n"
    value = json.loads(record_file())
    value["entries"][2]["body"]["phase"] = 5
    assert record_says(tmp_path, canonical(value)) == "3 entries: NOT THE SAME ROOT\n"
    del value["entries"][1]
    assert record_says(tmp_path, canonical(value)) == "entry 2 does not follow the one before\n"
    value["entries"].pop()
    assert record_says(tmp_path, canonical(value)) == "3 entries: NOT THE SAME ROOT\n"


def test_the_head_of_the_record_passes_step_4_and_an_old_receipt_is_compared(tmp_path: Path) -> None:
    (tmp_path / "old.json").write_bytes(receipt_file())
    (tmp_path / "other.json").write_bytes(told().receipt(3, signer=SIGNER).file)
    said = record_says(tmp_path, record_file(), "old.json", "other.json")
    assert "old.json belongs to this record\nother.json DOES NOT BELONG TO THIS RECORD\n" in said
    assert "Successfully" in run(tmp_path, "bash", "-c", code("Step 4: the signature"))
    assert run(tmp_path, "bash", "-c", code("Step 4: the signature", 1))[:4] == key_name(SIGNER.public_key)[:4]


def test_both_signatures_under_a_change_of_keys_are_checked_by_its_section(tmp_path: Path) -> None:
    record, heads = with_new_key()
    (tmp_path / "record.json").write_bytes(
        export_file(record.project, [entry.canonical for entry in record.entries], heads[1:])
    )
    section = "If we changed our key"
    said = run(tmp_path, sys.executable, "-W", "ignore", "-c", code(section))
    assert said == "entry 5 changes the key\n"
    assert run(tmp_path, "bash", "-c", code(section, 1)).count("Signature Verified Successfully") == 2
    changed = (tmp_path / "rotation.json").read_bytes().replace(b"09:00:00Z", b"09:00:01Z")
    (tmp_path / "rotation.json").write_bytes(changed)
    assert "Successfully" not in run(tmp_path, "bash", "-c", code(section, 1))


def test_a_whole_copy_passes_the_commands_of_the_page_and_a_changed_photo_does_not(
    demo: DemoHouse, tmp_path: Path
) -> None:
    with zipfile.ZipFile(io.BytesIO(own_copy(demo.project, demo.settings, NOW))) as archive:
        archive.extractall(tmp_path)
    (tmp_path / "record.json").write_bytes((tmp_path / "record" / "record.json").read_bytes())
    said = f"{record_rows.count(demo.project)} entries: same root\n"
    assert record_says(tmp_path, (tmp_path / "record.json").read_bytes()) == said
    files, signature = code("Your own copy"), code("Your own copy", 1)
    assert run(tmp_path, "bash", "-c", files) == ""
    assert "Successfully" in run(tmp_path, "bash", "-c", signature)
    shown = run(tmp_path, "bash", "-c", code("Step 1: take the receipt apart", 1)).split()[0]
    entries = json.loads((tmp_path / "record.json").read_bytes())["entries"]
    asked = next(entry for entry in entries if "check_code" in entry["body"])
    assert asked["body"]["check_code"] == shown
    guidance = json.loads((tmp_path / "decisions" / "1" / "shown-1.json").read_bytes())["guidance"]
    section = "The words beside a question, and photos of what was open"
    lines = [line.split("  wording/") for line in run(tmp_path, "bash", "-c", code(section)).splitlines()]
    assert [guidance, f"{guidance}.md"] in lines and all(name == f"{code}.md" for code, name in lines)
    photo = next((tmp_path / "photos").glob("*-large.jpg")).name
    assert f"photos/{photo}" in run(tmp_path, "bash", "-c", code(section, 1))
    next((tmp_path / "photos").iterdir()).write_bytes(b"another")
    assert "FAILED" in run(tmp_path, "bash", "-c", files)


def test_the_page_shows_its_code_whole() -> None:
    shown = piece("guide", "check-the-record")
    assert shown is not None
    assert shown.html.count("<pre>") == 14 and "b\"\\0\"" in shown.html.replace("&quot;", '"')
