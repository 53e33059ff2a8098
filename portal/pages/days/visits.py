"""Visits as they are announced, each with the word whether it can be kept and, if not, what is expected instead."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from portal.pages.outlook import Outlook
from portal.pages.unkept_visits import Unkept, unkept
from portal.pages.where_and_when import hours_words, in_room
from portal.planning.conflicts.unkept_visits import own_conflicts
from portal.store.facts import PhaseFact, Snapshot, VisitFact
from portal.store.reading.desk_lines import owed
from portal.words.capitals import first_upper
from portal.words.dates import seconds
from portal.words.plurals import counted

FREE = "They can come"
_NOT_BEGUN = "The work has not begun"
_SO_FAR = {
    "under_way": "Under way", "stopped": "The work rests", "inspection": "The work waits for its inspection",
    "done": "Done",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Announced:
    """A `visit` and whether it can be kept: `unkept` says why not, None where it can. `so_far`: what has come of it,
    once its hour has; `waits`: what its work waits for all the same; clauses without a full stop, or ""."""

    visit: VisitFact
    unkept: Unkept | None
    waits: str
    so_far: str

    @property
    def who(self) -> str:
        """The crew, and where none is named what they come for."""
        return self.visit.crew.strip() or self.visit.purpose.strip() or "Somebody"

    @property
    def standing(self) -> str:
        """Whether it can be kept, in a sentence or two."""
        if self.unkept:
            return f"Can’t come: {self.unkept.why}. {self.unkept.then}".rstrip()
        return f"{self.so_far or self.waits or FREE}."


def announced(snapshot: Snapshot, outlook: Outlook, visits: Iterable[VisitFact]) -> list[Announced]:
    """Say of each visit whether it can be kept, in the order of their hours."""
    visits = sorted(visits, key=lambda one: (one.starts_at, one.id))
    if not visits:
        return []
    found = []
    now = outlook.booked.now * 60
    today = outlook.booked.plan.calendar.day_of(outlook.booked.now)
    why = unkept(snapshot, own_conflicts(outlook.booked), today)
    for visit in visits:
        phase = next((one for one in snapshot.phases if one.id == visit.phase_id), None)
        waits = waits_words(snapshot, phase) if phase and visit.ends_at > now else ""
        found.append(Announced(visit, why.get(visit.id), waits, so_far(visit, phase, now)))
    return found


def so_far(visit: VisitFact, phase: PhaseFact | None, now: int) -> str:
    """Say what has come of a visit once its hour has, at `now` (seconds). Empty before, and where they may just be
    late."""
    over = visit.ends_at <= now
    if visit.starts_at > now or (phase is None and not over):
        return ""
    if phase is None:
        return "That is over"
    return _SO_FAR.get(phase.state, _NOT_BEGUN if over else "")


def is_missed(visit: VisitFact, phase: PhaseFact | None, now: int) -> bool:
    """Whether it is over at `now` (seconds) and its work has not begun."""
    return so_far(visit, phase, now) == _NOT_BEGUN


def visits_on(snapshot: Snapshot, day: date) -> list[VisitFact]:
    """Give those of which any part falls on the day; one that ends at midnight does not reach the next."""
    zone = ZoneInfo(snapshot.project.timezone)
    begins, ends = (seconds(datetime.combine(one, time(), zone)) for one in (day, day + timedelta(days=1)))
    return [one for one in snapshot.visits if one.starts_at < ends and max(one.ends_at, one.starts_at + 1) > begins]


def visit_words(snapshot: Snapshot, visit: VisitFact) -> str:
    """Say who comes and what for: `Carpenters: Set the base cabinets (Kitchen).`"""
    return f"{visit.crew}: {visit.purpose}{in_room(snapshot, visit.phase_id)}."


def visit_sentence(snapshot: Snapshot, one: Announced) -> str:
    """Say from when to when, who, what for, and whether it can be kept."""
    hours = hours_words(one.visit, snapshot.project.timezone)
    return f"{first_upper(hours)}, {visit_words(snapshot, one.visit)} {one.standing}"


def waits_words(snapshot: Snapshot, phase: PhaseFact) -> str:
    """Say what a phase waits for from the household, or from us before that: `Waits for your answer`. Empty where
    nothing holds it."""
    holding = snapshot.holding(phase)
    if any(one.withdrawn for one in holding) or (snapshot.unasked(phase) and not holding):
        return "Waits for a question that we have yet to ask"
    if any(owed(one) for one in holding):
        return "Waits for our answer"
    if not holding:
        return ""
    return f"Waits for {'your answer' if len(holding) == 1 else counted(len(holding), 'answer')}"
