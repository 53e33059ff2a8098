"""What keeps a phase from starting, and what it waits for besides: said of a refused start, after a release, and after
an approval."""

from collections.abc import Iterator
from dataclasses import dataclass

from portal.store.facts import PhaseFact, Snapshot
from portal.words.dates import when_words
from portal.words.lists import listed, quoted
from portal.words.plurals import plural

DECISION, PLANNED_QUESTION, PHASE, CURE, DELIVERY = "decision", "planned_question", "phase", "cure", "delivery"


@dataclass(frozen=True, slots=True)
class InTheWay:
    """One thing that stands before a phase: its kind, the id of it (of a cure, that of the phase that it follows), and
    the sentence that says so."""

    kind: str
    id: int
    words: str


def holds_in_the_way(snapshot: Snapshot, phase: PhaseFact) -> Iterator[InTheWay]:
    """What a start is refused for: decisions that are not approved, and questions that the plan wants asked first."""
    for one in snapshot.holding(phase):
        name = f"Decision {one.number}, {quoted([one.question])},"
        mended = "was withdrawn and still holds it: ask it again." if one.withdrawn else "must be approved first."
        yield InTheWay(DECISION, one.id, f"{name} {mended}")
    yield from _planned(snapshot, phase)


def approvals_missing(snapshot: Snapshot, phase: PhaseFact) -> str:
    """Say for which approvals the phase waits: `“Which edge?” and “Which sink?” are approved`. Empty for
    none."""
    missing = [f"{quoted([one.question])}{', asked anew,' if one.withdrawn else ''}" for one in snapshot.holding(phase)]
    return f"{listed(missing)} {plural(len(missing), 'is', 'are')} approved" if missing else ""


def left_by_a_release(snapshot: Snapshot, phase: PhaseFact, now: int) -> Iterator[InTheWay]:
    """What a release of the phase does not lift. `now` in seconds."""
    yield from _planned(snapshot, phase)
    for before, wait in phase.after:
        other = snapshot.phase(before)
        if other.finished_at is None:
            yield InTheWay(PHASE, other.id, f"Before it comes {quoted([other.name])}, which is not finished.")
        elif other.finished_at + wait * 60 > now:
            until = when_words(other.finished_at + wait * 60, snapshot.project.timezone)
            yield InTheWay(CURE, other.id, f"The wait after {quoted([other.name])} is over on {until}.")
    for delivery in snapshot.deliveries:
        if phase.id in delivery.phases and delivery.arrived_at is None:
            yield InTheWay(DELIVERY, delivery.id, f"It waits for what is ordered: {delivery.item}.")


def release_words(snapshot: Snapshot, phase: PhaseFact) -> str:
    """Say from which decisions a release would let the phase go. Empty where none holds it."""
    asked = quoted(one.question for one in snapshot.holding(phase))
    return f"This lets it start without an approval of {asked}." if asked else ""


def _planned(snapshot: Snapshot, phase: PhaseFact) -> Iterator[InTheWay]:
    for one in snapshot.unasked(phase):
        yield InTheWay(PLANNED_QUESTION, one.id, f"The plan wants {quoted([one.question])} asked first, or dropped.")
