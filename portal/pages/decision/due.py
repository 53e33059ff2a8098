"""By when an answer is needed, at the head of a decision: the date, what waits for it, and how far away that is."""

from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from portal.drawings.charts.dimension import dimension
from portal.pages.outlook import Outlook
from portal.store.facts import DecisionFact, PhaseFact, Snapshot
from portal.words.capitals import first_upper
from portal.words.dates import dated_words, local, near_words
from portal.words.plurals import counted


@dataclass(frozen=True, slots=True)
class Due:
    """`lead` is the answer in words, `rest` what more there is to say; `drawing` shows the days until then."""

    lead: str
    rest: str
    late: bool
    drawing: Markup | None


def due_of(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> Due:
    """Of an open question. While we owe an answer first, a delay is ours, and nothing is late."""
    needed_by = outlook.needed_by.get(decision.id)
    waits = _waiting(snapshot, outlook, decision)
    if decision.state == "asked_back":
        return Due("First we owe you an answer.", _then(needed_by, today), late=False, drawing=None)
    if needed_by is None:
        return Due("No date depends on this yet.", "But please don’t leave it lying.", late=False, drawing=None)
    late = needed_by < today
    if late:
        lateness = outlook.lateness.get(decision.id)
        lead = f"Late: it was due {dated_words(needed_by, today)}."
        rest = first_upper(lateness.cost_short(today)) if lateness else ""
    else:
        lead, far = _ahead(needed_by, today)
        rest = " ".join(filter(None, (far, _work(snapshot, waits, today))))
    comes = _booked(snapshot, waits[0], today) if waits else None
    return Due(lead, rest, late, Markup(dimension(today, needed_by, comes)))


def _then(needed_by: date | None, today: date) -> str:
    if needed_by is None:
        return "Then we need yours."
    if needed_by < today:
        return f"We needed yours by {dated_words(needed_by, today)}; until then, the delay is ours."
    return f"Then we need yours by {near_words(needed_by, today)}."


def _ahead(needed_by: date, today: date) -> tuple[str, str]:
    """By when, and how far away that is."""
    days = (needed_by - today).days
    if days < 2:
        return f"Answer {'' if days == 0 else 'by '}{near_words(needed_by, today)}.", ""
    return f"Answer by {dated_words(needed_by, today)},", f"in {counted(days, 'day')}."


def _waiting(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact) -> list[PhaseFact]:
    """What may not start before, the first first."""
    held = [phase for phase in map(snapshot.phase, decision.holds) if phase.started_at is None]
    free = {phase.id for phase in held for one in phase.releases if one.decision_id == decision.id}
    return sorted((one for one in held if one.id not in free), key=lambda one: outlook.starts[one.id])


def _work(snapshot: Snapshot, waits: list[PhaseFact], today: date) -> str:
    if not waits:
        return ""
    first, more = waits[0], len(waits) - 1
    booked = _booked(snapshot, first, today)
    others = f" and {more} more" if more else ""
    on = f" on {dated_words(booked, today)}" if booked else ""
    return f"Next comes “{first.name}”{on}{others}."


def _booked(snapshot: Snapshot, phase: PhaseFact, today: date) -> date | None:
    """The next day on which it is booked."""
    zone = snapshot.project.timezone
    days = (local(visit.starts_at, zone).date() for visit in snapshot.visits if visit.phase_id == phase.id)
    return min((day for day in days if day >= today), default=None)
