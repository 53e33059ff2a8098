"""What is erased is no longer in the table's own file: it is written anew."""

from portal.acts.household.crew_notes import erase_crew_note, write_crew_note
from portal.store.engine.database import execute
from portal.store.engine.erasing import scrub
from tests.house import NOW, House

SIZE = "SELECT pg_relation_size('crew_note') + COALESCE(pg_relation_size(NULLIF(reltoastrelid, 0)), 0) FROM pg_class"


def size() -> int:
    (found,) = execute(f"{SIZE} WHERE relname = 'crew_note'").fetchone()
    return int(found)


def test_the_table_of_what_was_erased_is_empty(house: House) -> None:
    note = write_crew_note(house.homeowner, house.project, {"alarm": "4711 " * 150}, now=NOW)
    assert note is not None and size() > 0
    erase_crew_note(house.homeowner, house.project, note.id)
    assert size() == 0 and scrub()
