"""Booked visits in words: when, who, to do what, why one can't be kept, whom it suits."""

from dataclasses import dataclass
from datetime import date

from portal.pages.days.visits import visit_words
from portal.pages.outlook import Outlook
from portal.pages.telling.words import said_of_visit
from portal.pages.where_and_when import hours_words
from portal.store.facts import Snapshot, VisitFact
from portal.store.reading.clashes import conflicts_in
from portal.web.desk.conflict_words import conflict_words
from portal.words.capitals import first_upper
from portal.words.dates import local, near_words


@dataclass(frozen=True, slots=True)
class Comes:
    """A booked visit: when and what, and why it can't be kept, where it can't."""

    visit: VisitFact
    day: str
    words: str
    conflicts: list[str]
    said: list[tuple[bool, str]]  # whether it suits whom, in words


def coming(snapshot: Snapshot, outlook: Outlook, today: date, now: int) -> list[Comes]:
    """Those that are not over."""
    zone = snapshot.project.timezone
    clashes: dict[int, list[str]] = {}
    for one in conflicts_in(outlook.schedule, snapshot.project.id):
        clashes.setdefault(one.visit, []).append(conflict_words(one, zone))
    return [
        Comes(visit, f"{_day(visit, zone, today)}, {hours_words(visit, zone)}",
              visit_words(snapshot, visit), clashes.get(visit.id, []),
              [(one.suits, said_of_visit(one)) for one in snapshot.answers_to(visit)])
        for visit in snapshot.visits if visit.ends_at > now
    ]  # fmt: skip


def _day(visit: VisitFact, zone: str, today: date) -> str:
    return first_upper(near_words(local(visit.starts_at, zone).date(), today))
