"""The booked day of a phase in words, and whether it can hold."""

from datetime import date

from portal.pages.outlook import Outlook
from portal.store.facts import Snapshot
from portal.words.dates import dated_words, local


def booked_words(snapshot: Snapshot, outlook: Outlook, phase: int, today: date) -> str:
    """`booked for Thu Dec 3`; of several visits the next. Empty where none is booked from today on."""
    zone, possible = snapshot.project.timezone, outlook.starts[phase]
    days = [local(visit.starts_at, zone).date() for visit in snapshot.visits if visit.phase_id == phase]
    booked = min((day for day in days if day >= today), default=None)
    if booked is None:
        return ""
    words = f"booked for {dated_words(booked, today)}"
    return f"{words}, but it can’t start before {dated_words(possible, today)}" if booked < possible else words
