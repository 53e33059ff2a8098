"""What both skins say where an act asks first: what is open, and what the tap would do to the finish, in words."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date

from portal.acts.refusals import OutOfTurn
from portal.pages.in_the_way import InTheWay
from portal.pages.undoing.out_of_turn import effect_words, open_words
from portal.planning.calendar.week import CalendarError
from portal.planning.conflicts.out_of_turn import StillOpen
from portal.planning.moves.what_if import FinishDays, if_finished, if_started
from portal.planning.schedule.plan import PlanError
from portal.store.facts import Snapshot
from portal.store.reading.out_of_turn import TO_FINISH, TO_START, Asked
from portal.store.reading.project_plan import minutes, plan_of
from portal.store.reading.snapshot import read_snapshot
from portal.words.dates import local


@dataclass(frozen=True, slots=True)
class Tap:
    """`finishes`: the phase is finished; else it starts. `words`: what is said of it, now and at another time."""

    asked: Asked
    finishes: bool
    now: str
    then: str


STARTS = Tap(TO_START, False, "Started now", "Started then")
FINISHES = Tap(TO_FINISH, True, "Finished now", "Finished then")


@dataclass(frozen=True, slots=True)
class AskedFirst:
    """`obstacles`: each with its sentence. `effect`: a sentence, or empty. `days`: None where none can be computed."""

    obstacles: list[InTheWay]
    effect: str
    days: FinishDays | None


def asked_first(snapshot: Snapshot, phase: int, tap: Tap, now: int, at: int | None = None) -> AskedFirst:
    """What a tap is asked about: `phase` (its id) starts, or is finished, `at` or now (seconds)."""
    try:
        plan = plan_of(snapshot)
        found = tap.asked(plan, phase, minutes(now if at is None else at))
        return _said(snapshot, found, phase, tap, now, at)
    except (CalendarError, PlanError, OverflowError):
        return AskedFirst([], "", None)


@contextmanager
def asking(project_id: int, phase: int, tap: Tap, at: int | None, now: int) -> Iterator[None]:
    """Put the words to the facts of OutOfTurn, as the API answers it."""
    try:
        yield
    except OutOfTurn as refusal:
        said = _said(read_snapshot(project_id), refusal.details.pop("open"), phase, tap, now, at)
        refusal.details["obstacles"] = [{"kind": one.kind, "id": one.id, "words": one.words} for one in said.obstacles]
        refusal.details["finish"] = None if said.days is None else {
            "stands": _iso(said.days.stands), "would_be": _iso(said.days.would_be), "words": said.effect,
        }
        raise


def _said(
    snapshot: Snapshot, found: tuple[StillOpen, ...], phase: int, tap: Tap, now: int, at: int | None
) -> AskedFirst:
    if not found:
        return AskedFirst([], "", None)
    days = (if_finished if tap.finishes else if_started)(
        plan_of(snapshot), phase, minutes(now if at is None else at), minutes(now))
    today = local(now, snapshot.project.timezone).date()
    words = effect_words(days, today, tap.now if at is None else tap.then)
    return AskedFirst(list(open_words(snapshot, found)), words, days)


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
