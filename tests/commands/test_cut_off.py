"""An end that was cut off, and a record that was written anew, are found: by the backup of tonight, and by whatever
somebody holds: a backup, a copy, a receipt, a letter."""

import json
import re
import shutil
import zipfile
from email.message import EmailMessage
from email.policy import SMTP
from pathlib import Path

import pytest

from portal.acts.keeping.own_keys import signer
from portal.acts.keeping.receipts import receipt_for, record_file, signed_head
from portal.backup.dated import dated_name
from portal.backup.last import disputed
from portal.record.log.heads import Signer, key_name
from portal.record.log.merkle import Frontier, leaf_hash
from portal.record.papers.head_line import head_line
from portal.store.engine.database import close_database, execute, open_database
from portal.store.rows import record_rows
from tests.commands.conftest import Type
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.record.chains import told
from tests.unguarded import unguard

DAY = 24 * 3600


def cut_off(demo: DemoHouse, entries: int = 2) -> None:
    """As whoever holds the database could: the entries, their nodes and the edge, so that the rest verifies."""
    open_database(demo.settings.database)
    for table in ("record_entry", "record_node", "record_edge"):
        unguard(table)
    _left(1, record_rows.count(1) - entries)
    close_database()


def written_anew(demo: DemoHouse) -> None:
    """Longer than before, and another."""
    open_database(demo.settings.database)
    unguard("record_entry")
    execute("UPDATE record_entry SET canonical = ? WHERE project_id = 1 AND sequence = 7", b'{"kind":"asked"}')
    close_database()


def _left(project: int, size: int) -> None:
    frontier, nodes = Frontier(), []
    for row in record_rows.every(project):
        if row.sequence <= size:
            frontier, made = frontier.added(leaf_hash(row.canonical))
            nodes += made
            last = row
    execute("DELETE FROM record_entry WHERE project_id = ? AND sequence > ?", project, size)
    execute("DELETE FROM record_node WHERE project_id = ?", project)
    for (level, place), made in nodes:
        execute("INSERT INTO record_node (project_id, level, place, hash) VALUES (?, ?, ?, ?)",
                project, level, place, made)  # fmt: skip
    at = json.loads(last.canonical)["at"]
    execute("UPDATE record_edge SET size = ?, peaks = ?, hash = ?, at = ? WHERE project_id = ?",
            size, frontier.packed, last.hash, at, project)  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "backups").mkdir()
    return tmp_path / "backups"


@pytest.fixture
def yesterday(backup: Path, folder: Path) -> Path:
    path = folder / dated_name(NOW - DAY)
    shutil.copy(backup, path)
    (folder / dated_name(NOW - 90 * DAY)).write_bytes(b"old")
    for ago in range(2, 9):
        (folder / dated_name(NOW - ago * DAY)).write_bytes(b"old")
    return path


def test_the_backup_of_tonight_is_compared_with_the_one_before(
    old: DemoHouse, yesterday: Path, folder: Path, type_in: Type
) -> None:
    said = type_in(old.folder, "backup", folder, "--keep-days", 30)
    assert said.status == 0 and said.err == "" and "removed" in said.out
    cut_off(old)
    tomorrow = folder / dated_name(NOW)
    tomorrow.unlink()
    before = sorted(folder.iterdir())
    said = type_in(old.folder, "backup", folder, "--keep-days", 1)
    assert said.status == 1 and tomorrow.exists() and "read back and checked" in said.out
    assert "A RECORD IS NOT WHAT IT WAS: the record of project 1 has become shorter: it had " in said.err
    had, has = map(int, re.findall(r"it had (\d+) entries on .*, and has (\d+) now. Its end was cut off", said.err)[0])
    assert has == had - 2 and f"{yesterday} holds what is missing." in said.err
    assert "removed" not in said.out and sorted(folder.iterdir()) == sorted([*before, tomorrow])
    tomorrow.rename(folder / dated_name(NOW - 60))  # the night after next: the newest holds the shorter record
    again = type_in(old.folder, "backup", folder, "--keep-days", 1)
    assert again.status == 1 and again.err == said.err and "removed" not in again.out
    assert disputed(old.settings) == yesterday
    tomorrow.rename(folder / dated_name(NOW - 30))
    yesterday.rename(folder.parent / "restored-since.zip")
    said = type_in(old.folder, "backup", folder, "--keep-days", 30)
    assert said.status == 0 and said.err == "" and disputed(old.settings) is None


def test_a_record_that_was_written_anew_is_said(old: DemoHouse, yesterday: Path, folder: Path, type_in: Type) -> None:
    written_anew(old)
    said = type_in(old.folder, "backup", folder, "--keep-days", 1)
    assert said.status == 1 and "and no longer begins with them: it was changed or written anew." in said.err


def test_a_backup_before_that_is_damaged_is_said(old: DemoHouse, yesterday: Path, folder: Path, type_in: Type) -> None:
    yesterday.write_bytes(yesterday.read_bytes()[:-400])
    said = type_in(old.folder, "backup", folder, "--keep-days", 1)
    assert said.status == 1 and "THE BACKUP BEFORE THIS ONE CAN'T BE COMPARED: " in said.err
    assert "removed" not in said.out


def former(backup: Path, path: Path) -> Path:
    """The same backup in form 1, which did not note how long the records were."""
    with zipfile.ZipFile(backup) as read, zipfile.ZipFile(path, "w") as written:
        for info in read.infolist():
            data = read.read(info)
            if info.filename == "backup.json":
                manifest = json.loads(data) | {"portal_backup": 1}
                data = json.dumps({name: value for name, value in manifest.items() if name in FORM_1}).encode()
            written.writestr(info, data)
    return path


FORM_1 = {"portal_backup", "made_at", "database", "migrations", "base_url", "members"}


@pytest.mark.parametrize("form", [1, 2])
def test_a_backup_is_held_against_the_records(
    old: DemoHouse, backup: Path, tmp_path: Path, type_in: Type, form: int
) -> None:
    held = former(backup, tmp_path / "former.zip") if form == 1 else backup
    said = type_in(old.folder, "verify", "--held", held)
    assert said.status == 0 and f"{held}\nIt notes 2 records, of which 2 begin as noted.\nAll of it holds." in said.out
    cut_off(old)
    said = type_in(old.folder, "verify", "--held", held)
    assert said.status == 1 and "This does not hold: the record of project 1 has become shorter" in said.out
    assert type_in(old.folder, "verify", "2", "--held", held).status == 0, "of that one, nothing was cut off"


def letter(line: str, *, quoted: bool = False) -> bytes:
    mail = EmailMessage(policy=SMTP)
    mail["Subject"] = "Okafor house"
    words = line.split(" ")
    wrapped = "\n".join((" ".join(words[:5]), *words[5:]))
    text = f"Hello Maren,\n\nKeep this.\n\n{wrapped}\n\nBrackwater"
    mail.set_content("\n".join(f"> {row}" for row in text.split("\n")) if quoted else text, cte="quoted-printable")
    return mail.as_bytes()


def holdings(demo: DemoHouse, folder: Path) -> dict[str, Path]:
    """What a household may hold of the record as it is now."""
    open_database(demo.settings.database)
    key = signer(demo.settings)
    head = signed_head(1, key)
    assert head is not None
    found = {
        "receipt.json": receipt_for(1, 20, key).file, "record.json": record_file(1, key),
        "letter.eml": letter(head_line(head)), "answer.eml": letter(head_line(head), quoted=True),
        "letter.txt": f"as it was pasted:   {head_line(head)} and more".encode(),
    }  # fmt: skip
    close_database()
    for name, data in found.items():
        (folder / name).write_bytes(data)
    return {name: folder / name for name in found}


def test_whatever_a_household_holds_shows_that_the_end_was_cut_off(
    old: DemoHouse, tmp_path: Path, type_in: Type
) -> None:
    held = holdings(old, tmp_path)
    assert type_in(old.folder, "export", "1", tmp_path / "copy.zip").status == 0
    held["copy.zip"] = tmp_path / "copy.zip"
    for path in held.values():
        said = type_in(old.folder, "verify", "1", "--held", path)
        assert said.status == 0 and "2 signed heads fit the entries" in said.out, path
    cut_off(old)
    for path in held.values():
        said = type_in(old.folder, "verify", "1", "--held", path)
        assert said.status == 1 and re.search(r"only \d+ are here: entries are missing at the end", said.out), path


def test_a_letter_alone_says_what_it_is(old: DemoHouse, tmp_path: Path, type_in: Type) -> None:
    held = holdings(old, tmp_path)
    said = type_in(old.folder, "verify", held["letter.eml"])
    (had,) = re.findall(r"The record of project 1 had (\d+) entries on ", said.out)
    assert said.status == 0
    held["letter.txt"].write_text(held["letter.txt"].read_text().replace(f"1 1 {had} ", f"1 1 {int(had) - 1} "))
    said = type_in(old.folder, "verify", held["letter.txt"])
    assert said.status == 1 and f"the line over {int(had) - 1} entries is not signed with key" in said.out
    said = type_in(old.folder, "verify", "1", "--held", held["letter.txt"])
    assert said.status == 1 and "its signature does not hold: the file was changed." in said.out


def test_a_receipt_of_a_foreign_key_is_named_as_foreign_and_not_as_our_fault(
    old: DemoHouse, tmp_path: Path, type_in: Type
) -> None:
    foreign = Signer(bytes(range(5, 37)))
    path = tmp_path / "receipt.json"
    path.write_bytes(told(1).receipt(3, signer=foreign).file)
    said = type_in(old.folder, "verify", "1", "--held", path)
    own = key_name(Signer(bytes.fromhex((old.folder / "record-key").read_text())).public_key)
    project, file = said.out.strip().split("\n\n")
    assert said.status == 1 and project.endswith("All of it holds.")
    assert file.startswith(f"{path}\n") and (
        f"it is not signed by this firm's key, {own}, but by {key_name(foreign.public_key)}, which never signed here. "
        "The record here is not at fault." in file
    )
