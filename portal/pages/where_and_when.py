"""Where a phase is and from when to when a visit is, as every page and notice says it."""

from portal.store.facts import Snapshot, VisitFact
from portal.words.dates import clock_words, day_words, local


def hours_words(visit: VisitFact, zone: str) -> str:
    """Say the hours of a visit by the clocks of the house: `8:00 am to 4:30 pm`; an end on another day is named."""
    starts, ends = local(visit.starts_at, zone), local(visit.ends_at, zone)
    end = clock_words(ends) if starts.date() == ends.date() else f"{day_words(ends.date())}, {clock_words(ends)}"
    return f"{clock_words(starts)} to {end}"


def in_room(snapshot: Snapshot, phase_id: int | None) -> str:
    """Say the room of a phase after its name: ` (Kitchen)`. Empty for a phase in no room, and for None."""
    phase = next((phase for phase in snapshot.phases if phase.id == phase_id), None)
    return "" if phase is None or phase.room_id is None else f" ({snapshot.room_name(phase.room_id)})"
