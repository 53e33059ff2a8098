"""What is under way, what ends first before all else; and what a photo shows that nobody has written of."""

from datetime import date

from portal.pages.outlook import Outlook
from portal.store.facts import PhaseFact, Snapshot
from portal.words.dates import day_words
from portal.words.plurals import counted

STATES = ("under_way", "inspection", "stopped")
"""Work that has begun and is not done, in the order in which it is shown."""


def under_way(snapshot: Snapshot, outlook: Outlook) -> list[PhaseFact]:
    """All of it: what ends first stands first, what rests last."""
    found = [phase for phase in snapshot.phases if phase.state in STATES]
    return sorted(found, key=lambda one: (STATES.index(one.state), outlook.booked.of(one.id).early_finish, one.id))


def photo_words(snapshot: Snapshot, outlook: Outlook) -> str:
    """The work that a photo is most likely of: `Set the base cabinets, kitchen.` Empty where none has begun."""
    found = under_way(snapshot, outlook)
    if not found:
        return ""
    room = "" if found[0].room_id is None else f", {snapshot.room_name(found[0].room_id).lower()}"
    return f"{found[0].name}{room}."


def bare_words(photos: int, today: date) -> str:
    """What is said of photos of a house in which nothing is under way: `A photo of Mon Nov 30.`"""
    return f"{'A photo' if photos == 1 else counted(photos, 'photo')} of {day_words(today)}."
