"""How far a plan's times were off: what finished phases took, against what the plan said. So that a firm corrects its
plans by its own work, not by feeling."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import median

from portal.planning.calendar.working_calendar import WorkCalendar

_STEP = 15
"""Minutes to which corrected times are rounded: nobody plans finer."""


@dataclass(frozen=True, slots=True)
class FinishedPhase:
    """A finished phase, by the name that it has in its plan: planned work minutes `low`, `likely`, `high`, and the
    `actual` ones."""

    name: str
    low: int
    likely: int
    high: int
    actual: int

    @property
    def ratio(self) -> float | None:
        """Actual to likely: 1.5 took half as long again. None where nothing was planned."""
        return self.actual / self.likely if self.likely else None

    @property
    def ran(self) -> bool:
        """Whether the time between its start and its finish is the work's: two taps within minutes, or on a day on
        which by the calendar nobody works, say when somebody tapped. It must be a quarter of an hour, or all that was
        planned at best."""
        return self.actual >= min(_STEP, self.low)

    @property
    def within(self) -> bool:
        """Whether the actual work lay between low and high, both included."""
        return self.low <= self.actual <= self.high


@dataclass(frozen=True, slots=True)
class PlanDeviation:
    """All finished phases of one name. `ratio`: the median of actual to likely. `within`: how many of `count` lay
    between low and high. `corrected`: low, likely, high in work minutes that would have fitted."""

    name: str
    count: int
    ratio: float
    within: int
    corrected: tuple[int, int, int]


def actual_work(calendar: WorkCalendar, started: int, finished: int, rests: Iterable[tuple[int, int]] = ()) -> int:
    """Count the work minutes between two instants, without the `rests` (from, to, instants) in which work was
    stopped."""
    rested = sum(
        max(0, calendar.count(max(begin, started), min(end, finished)))
        for begin, end in rests if begin < finished and end > started
    )
    return max(0, calendar.count(started, finished) - rested)


def deviations(finished: Iterable[FinishedPhase]) -> tuple[PlanDeviation, ...]:
    """Measure how far off the plan was, by name of the phase, the furthest off first: half as long as planned is as far
    off as twice as long. Phases without planned work say nothing, nor do those that never
    really ran."""
    by_name: dict[str, list[FinishedPhase]] = {}
    for one in finished:
        if one.ratio is not None and one.ran:
            by_name.setdefault(one.name, []).append(one)
    off = [_off(name, same) for name, same in by_name.items()]
    return tuple(sorted(off, key=lambda one: (-max(one.ratio, 1 / one.ratio if one.ratio else float("inf")), one.name)))


def _off(name: str, same: Sequence[FinishedPhase]) -> PlanDeviation:
    ratio = median(one.actual / one.likely for one in same)
    return PlanDeviation(name, len(same), ratio, sum(one.within for one in same), _corrected(same, ratio))


def _corrected(same: Sequence[FinishedPhase], ratio: float) -> tuple[int, int, int]:
    """The last plan's times scaled by the median, and wide enough for all that happened."""
    last = same[-1]
    actual = [one.actual for one in same]
    likely = _rounded(last.likely * ratio)
    low = min(_rounded(min(last.low * ratio, min(actual))), likely)
    high = max(_rounded(max(last.high * ratio, max(actual))), likely)
    return low, likely, high


def _rounded(minutes: float) -> int:
    return max(_STEP, round(minutes / _STEP) * _STEP)
