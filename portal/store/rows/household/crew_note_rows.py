"""What is for the crew only. Nothing but the desk and the writer's own form reads it."""

from typing import Any

from portal.store.engine.database import execute
from portal.store.tables import CrewNote, Person

_FORGET = """DELETE FROM crew_note WHERE project_id IN (SELECT p.id FROM project p WHERE p.closed_at <= ?
    UNION SELECT h.project_id FROM handover h WHERE h.phase_id IS NULL AND h.accepted_at <= ?)"""


def of_person(person_id: int) -> CrewNote | None:
    found: CrewNote | None = CrewNote.get_or_none(CrewNote.person == person_id)
    return found


def of_project(project_id: int) -> list[CrewNote]:
    """Of each person who has written any, with the person."""
    notes = CrewNote.select(CrewNote, Person).join(Person).where(CrewNote.project == project_id)
    return list(notes.order_by(Person.id))


def write(project_id: int, person_id: int, values: dict[str, Any], now: int) -> CrewNote:
    """In place of what they had written."""
    said = {**values, "changed_at": now}
    changing = CrewNote.update(**said, version=CrewNote.version + 1).where(CrewNote.person == person_id)
    if not changing.execute():
        CrewNote.create(project=project_id, person=person_id, **said)
    found: CrewNote = CrewNote.get(CrewNote.person == person_id)
    return found


def erase(note_id: int) -> None:
    CrewNote.delete().where(CrewNote.id == note_id).execute()


def forget_of_finished(since: int) -> int:
    """Erase those of houses that were closed, or handed over whole and accepted, by then; returns how many."""
    return int(execute(_FORGET, since, since).rowcount)
