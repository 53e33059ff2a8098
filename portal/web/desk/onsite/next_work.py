"""What begins next: when, who comes for it, what stands before it, and the two things to do about it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from portal.pages.in_the_way import DELIVERY, PHASE, InTheWay, holds_in_the_way, left_by_a_release
from portal.pages.outlook import Outlook
from portal.store.facts import PhaseFact, Snapshot, VisitFact
from portal.store.rows import planned_rows
from portal.web.desk.onsite.presses import Press, start_press
from portal.words.capitals import first_upper
from portal.words.dates import local, near_words, short_clock

_MOST = 3


@dataclass(frozen=True, slots=True)
class NextWork:
    """`when`: of its visit, else of today's plan. `stands`: what is in its way, empty for nothing. `press`: its start,
    where it is not held and what comes before it is done; else `release`: whether it waits for approvals, and can be
    let start without."""

    phase: PhaseFact
    when: str
    who: str
    stands: list[InTheWay]
    press: Press | None
    release: bool
    visit: VisitFact | None


def next_work(snapshot: Snapshot, outlook: Outlook, today: date, now: int) -> list[NextWork]:
    """The phases that begin next: the first, and besides it those that are free to start at once. At most three."""
    waiting = [phase for phase in snapshot.phases if phase.state == "waiting"]
    waiting.sort(key=lambda one: (outlook.booked.of(one.id).early_start, one.id))
    found = [_next(snapshot, outlook, phase, today, now) for phase in waiting]
    return [one for at, one in enumerate(found) if not at or one.press][:_MOST]


def _next(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date, now: int) -> NextWork:
    holds = list(holds_in_the_way(snapshot, phase))
    left = [one for one in left_by_a_release(snapshot, phase, now) if one not in holds]
    ahead = (one for one in snapshot.visits if one.phase_id == phase.id and one.ends_at > now)
    visit = min(ahead, key=lambda one: (one.starts_at, one.id), default=None)
    return NextWork(
        phase, _when(snapshot, outlook, phase, visit, today), phase.crew or "Nobody is named for it",
        [*holds, *left, *_not_ordered(snapshot, phase)],
        None if holds or any(one.kind == PHASE for one in left) else start_press(snapshot, phase, now),
        bool(snapshot.holding(phase)), visit,
    )


def _not_ordered(snapshot: Snapshot, phase: PhaseFact) -> Iterator[InTheWay]:
    """What the plan wants ordered for it: it keeps nobody from starting, and stands among what is in the way."""
    for row in planned_rows.orders(snapshot.project.id):
        if phase.id in row.phases:
            yield InTheWay(DELIVERY, row.id, f"Not ordered yet: {row.item}.")


def _when(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, visit: VisitFact | None, today: date) -> str:
    if visit is None:
        return f"By today’s plan {near_words(outlook.starts[phase.id], today)}, no visit is booked"
    starts = local(visit.starts_at, snapshot.project.timezone)
    return first_upper(f"{near_words(starts.date(), today)}, {short_clock(starts)}")
