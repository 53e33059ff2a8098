"""What the household tells the crew and nobody else: when they are away, keys, pets, parking, alarm.

No entry of the record tells of it, not even that there is something: a record can't be erased, and that a house stands
empty is worth something to a thief. What is erased is gone from the database's files.
"""

from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.limits import take
from portal.acts.written import written
from portal.store.engine import database
from portal.store.engine.erasing import scrub
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows.editable import in_project
from portal.store.rows.household import crew_note_rows
from portal.store.tables import CrewNote

TEXTS = ("keys", "pets", "parking", "alarm")
DAYS = ("away_from", "away_to")
LONGEST = 1000
KEPT_AFTER = 14 * 24 * 3600
"""Seconds after a house is closed, or handed over whole and accepted: then nobody has to go in any more."""


def count_crew_note(sender: str, now: int) -> None:
    """By the sender's key. Raises TooOften."""
    take("crew_notes", sender, now)


@act("write_crew_note")
def write_crew_note(actor: Actor, project_id: int, values: dict[str, Any], now: int) -> CrewNote | None:
    """All that this person tells the crew, in place of what they told before: `TEXTS` as texts, `DAYS` as dates or
    None. With nothing in it, it is erased, and None comes back."""
    said: dict[str, Any] = {name: written(name, values.get(name) or "", longest=LONGEST) for name in TEXTS}
    said |= {name: values.get(name) for name in DAYS}
    _check_days(said)
    database.after_commit(scrub)
    if any(said.values()):
        return crew_note_rows.write(project_id, actor.id, said, now)
    before = crew_note_rows.of_person(actor.id)
    if before is not None:
        crew_note_rows.erase(before.id)
    return None


@act("erase_crew_note")
def erase_crew_note(actor: Actor, project_id: int, note_id: int) -> None:
    """Of the household, each their own."""
    note = in_project(CrewNote, project_id, note_id)
    if not actor.is_staff and note.person_id != actor.id:
        raise NotFound(what="note for the crew")
    crew_note_rows.erase(note_id)
    database.after_commit(scrub)


def forget_crew_notes(now: int) -> int:
    """Erase what nobody needs any more; returns how many. Each tick does it, and what could not be overwritten yet."""
    with database.write():
        gone = crew_note_rows.forget_of_finished(now - KEPT_AFTER)
    scrub()
    return gone


def _check_days(said: dict[str, Any]) -> None:
    first, last = said["away_from"], said["away_to"]
    if last is not None and first is None:
        raise FieldRefused("away_from", "Give the first day, too.")
    if first is not None and last is not None and last < first:
        raise FieldRefused("away_to", "The last day lies before the first one. Look at both.")
