"""What is for the crew only is nowhere but in its table, and once it is erased not even in the database's files."""

import sqlite3
from datetime import date
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest

from portal import copying
from portal.acts.actor import Actor
from portal.acts.household import crew_notes
from portal.acts.household.crew_notes import erase_crew_note, forget_crew_notes, write_crew_note
from portal.acts.household.handovers import accept_handover, offer_handover
from portal.acts.household.messages import send_message
from portal.acts.keeping.receipts import record_file
from portal.acts.keeping.verifying import verify_project
from portal.pages.publishing.publish import Publisher
from portal.record.log.heads import Signer
from portal.store.engine.database import database, execute, is_sqlite, write
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import FieldRefused, NotFound
from portal.store.tables import CrewNote, Person, Phase, Project
from tests.acts.kept import kinds
from tests.demo_house import demo_house
from tests.house import NOW, House

KEYS, DOG, SPOT, ALARM = "Zinnober-pot-keys", "Zinnober-dog-bites", "Zinnober-drive", "Zinnober-4711"
NOTE: dict[str, Any] = {
    "keys": KEYS, "pets": DOG, "parking": SPOT, "alarm": ALARM, "away_from": date(2029, 2, 13),
    "away_to": date(2029, 2, 14),
}  # fmt: skip
WORDS = (b"Zinnober", b"2029-02-1", b"Feb 13", b"Feb 14", b"Feb\xc2\xa013")
DAY = 86_400


def note(house: House, **changed: Any) -> CrewNote:
    found = write_crew_note(house.homeowner, house.project, NOTE | changed, now=NOW)
    assert found is not None
    return found


def holding(folder: Path) -> list[str]:
    """The files below a folder that hold one of the words."""
    files = [one for one in folder.rglob("*") if one.is_file()]
    return [one.name for one in files if any(word in one.read_bytes() for word in WORDS)]


def test_each_person_has_one_and_it_is_changed_in_place(house: House) -> None:
    first = note(house)
    again = note(house, keys="With the neighbor", away_to=None)
    assert (again.id, again.version, again.keys, again.away_to) == (first.id, 2, "With the neighbor", None)
    write_crew_note(house.co_owner, house.project, {"pets": "A cat"}, now=NOW)
    assert CrewNote.select().count() == 2 and kinds(house.project) == []


def test_with_nothing_in_it_it_is_gone(house: House) -> None:
    note(house)
    assert write_crew_note(house.homeowner, house.project, {"keys": " \n"}, now=NOW) is None
    assert not CrewNote.select().exists()
    assert write_crew_note(house.homeowner, house.project, {}, now=NOW) is None


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"away_from": None}, "away_from"), ({"away_to": date(2029, 2, 12)}, "away_to"), ({"alarm": "x" * 1001}, "alarm")],
)
def test_what_can_not_be_is_refused_and_the_old_one_stays(house: House, wrong: dict[str, Any], field: str) -> None:
    note(house)
    with pytest.raises(FieldRefused) as refusal:
        note(house, **wrong)
    assert refusal.value.field == field and CrewNote.get().alarm == ALARM


def test_of_another_person_it_does_not_exist_for_the_household(house: House) -> None:
    found = note(house)
    with pytest.raises(NotFound):
        erase_crew_note(house.co_owner, house.project, found.id)
    erase_crew_note(house.office, house.project, found.id)
    assert not CrewNote.select().exists()


def test_no_file_holds_it_but_the_database(tmp_path: Path) -> None:
    """The site, the record, the own copy, notices, kept answers: each made anew while the note is there."""
    demo = demo_house(tmp_path / "demo")
    settings, row = demo.settings, Person.get(Person.project == demo.project)
    maren = Actor(row.role, row.id, row.name, demo.project)
    write_crew_note(maren, demo.project, NOTE, now=NOW)
    send_message(maren, demo.project, text="A step creaks", room=None, photo=None, now=NOW)
    publisher = Publisher(settings.site, settings.secret, background=False)
    assert publisher.publish_each([demo.project]) == []
    made = settings.data / "made"
    made.mkdir()
    with ZipFile(BytesIO(copying.own_copy(demo.project, settings, NOW))) as copy:
        copy.extractall(made / "own-copy")
    (made / "record").write_bytes(record_file(demo.project, Signer(settings.record_key)))
    (made / "snapshot").write_text(repr(read_snapshot(demo.project)))
    for table in database.get_tables():
        if table != "crew_note":
            (made / f"table-{table}").write_text(repr(execute(f'SELECT * FROM "{table}"').fetchall()))
    assert [one for one in holding(settings.data) if not one.startswith("portal.db")] == []
    assert verify_project(demo.project, Signer(settings.record_key)).ok
    assert holding(settings.data), "the test would find it"


def test_what_is_erased_is_gone_from_the_files(house: House, tmp_path: Path) -> None:
    if not is_sqlite():
        pytest.skip("of PostgreSQL, test_erasing.py tells")
    folder = Path(database.obj.database).parent
    found = note(house)
    for turn in range(40):  # pages fill up, cells move
        write_crew_note(house.co_owner, house.project, {"pets": f"A cat {turn} " * 60}, now=NOW)
        note(house, parking=f"{SPOT} {turn} " * 50)
    assert holding(folder)
    erase_crew_note(house.homeowner, house.project, found.id)
    assert holding(folder) == []
    assert CrewNote.get().pets.startswith("A cat 39"), "that of the other one stays"


def test_who_is_still_reading_keeps_it_in_the_log_until_the_next_tick(house: House) -> None:
    if not is_sqlite():
        pytest.skip("about the write-ahead log of SQLite")
    path = Path(database.obj.database)
    found = note(house)
    reader = sqlite3.connect(path)
    reader.execute("BEGIN")
    reader.execute("SELECT * FROM crew_note").fetchall()
    execute("PRAGMA busy_timeout = 50")
    erase_crew_note(house.homeowner, house.project, found.id)
    assert holding(path.parent)
    reader.close()
    forget_crew_notes(NOW)
    assert holding(path.parent) == []


def test_what_was_taken_back_erases_nothing(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    found = note(house)
    scrubbed: list[int] = []
    monkeypatch.setattr(crew_notes, "scrub", lambda: scrubbed.append(1))
    with pytest.raises(ZeroDivisionError), write():
        erase_crew_note(house.homeowner, house.project, found.id)
        raise ZeroDivisionError
    assert CrewNote.select().exists() and scrubbed == []


def test_two_weeks_after_the_end_nobody_needs_it(house: House) -> None:
    note(house)
    write_crew_note(house.other_homeowner, house.other_project, {"pets": "A parrot"}, now=NOW)
    Project.update(closed_at=NOW).where(Project.id == house.project).execute()
    assert forget_crew_notes(NOW + 14 * DAY - 1) == 0
    assert forget_crew_notes(NOW + 14 * DAY) == 1
    assert [one.pets for one in CrewNote.select()] == ["A parrot"]


def test_a_house_that_is_handed_over_whole_is_at_its_end(house: House) -> None:
    note(house)
    Phase.update(finished_at=NOW, state="done").where(Phase.project == house.project).execute()
    floor = offer_handover(house.manager, house.project, phase=house.phases["floor"], note="", items=[], now=NOW)
    accept_handover(house.homeowner, house.project, floor.id, name="Maren Okafor", seen=0, now=NOW)
    assert forget_crew_notes(NOW + 99 * DAY) == 0, "a phase is not the house"
    whole = offer_handover(house.manager, house.project, phase=None, note="", items=[], now=NOW)
    assert forget_crew_notes(NOW + 99 * DAY) == 0, "not accepted yet"
    accept_handover(house.homeowner, house.project, whole.id, name="Maren Okafor", seen=0, now=NOW)
    assert forget_crew_notes(NOW + 14 * DAY) == 1
