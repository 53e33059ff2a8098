"""The forecast: when everything, and each phase, is likely and safely finished, and what that hangs on."""

from dataclasses import dataclass
from datetime import date
from math import ceil

import numpy as np
from numpy.typing import NDArray

from portal.planning.forecast import criticality
from portal.planning.forecast.distributions import BETA_PERT
from portal.planning.forecast.simulation import Futures, simulate
from portal.planning.schedule.plan import DONE, Plan

FUTURES = 10_000
LIKELY = 0.5
SAFE = 0.8


@dataclass(frozen=True, slots=True)
class PhaseForecast:
    """Instants by which the phase is finished in half, and in four fifths, of the futures; the share of futures in
    which it drives the finish."""

    phase: int
    likely_by: int
    safely_by: int
    critical: float


@dataclass(frozen=True, slots=True)
class Forecast:
    """`likely_by` (P50), `safely_by` (P80): instants; `likely_on`, `safely_on`: their dates. `chance`: the share of
    futures that finish by the end of the promised day, None without a promise. `decisions`, `deliveries`: the share of
    futures in which each is on the critical path, by id. `phases` without those that are done, in the plan's order."""

    made_at: int
    futures: int
    likely_by: int
    safely_by: int
    likely_on: date
    safely_on: date
    promised_on: date | None
    chance: float | None
    phases: tuple[PhaseForecast, ...]
    decisions: dict[int, float]
    deliveries: dict[int, float]


def forecast(
    plan: Plan, now: int, promised: date | None = None, futures: int = FUTURES, shape: str = BETA_PERT
) -> Forecast:
    """The same plan, `now` and promise give the same forecast.

    Raises LoopError, UnknownPredecessor, CalendarError as the schedule does; ValueError for a wrong count or shape.
    """
    found = simulate(plan, now, futures, shape)
    finishes = found.finishes
    likely, safely = by_share(finishes, LIKELY), by_share(finishes, SAFE)
    shares = criticality.shares(found)
    return Forecast(
        now, futures, likely, safely, finish_day(plan, likely), finish_day(plan, safely), promised,
        None if promised is None else chance_by(finishes, plan.calendar.day_end(promised)),
        _phases(found, shares.phases), shares.decisions, shares.deliveries,
    )


def by_share(values: NDArray[np.int64], share: float) -> int:
    """The smallest of the values by which at least this share of them has come."""
    at = _place(share, len(values))
    return int(np.partition(values, at)[at])


def chance_by(values: NDArray[np.int64], deadline: int) -> float:
    return int(np.count_nonzero(values <= deadline)) / len(values)


def finish_day(plan: Plan, instant: int) -> date:
    """The day at whose end it is finished: midnight still belongs to the day that it ends."""
    return plan.calendar.day_of(instant - 1)


def _phases(found: Futures, critical: dict[int, float]) -> tuple[PhaseForecast, ...]:
    return tuple(
        PhaseForecast(phase.id, *_likely_and_safely(found, found.plan.network.position[phase.id]), critical[phase.id])
        for phase in found.plan.phases if phase.state != DONE
    )


def _likely_and_safely(found: Futures, position: int) -> tuple[int, int]:
    """Sorts the row where it lies: nobody needs the futures in order any more."""
    clock = found.clock.get(position)
    row = found.finish[position] if clock is None else clock
    row.sort()
    likely, safely = (int(row[_place(share, found.count)]) for share in (LIKELY, SAFE))
    if clock is not None:
        return found.minutes.begin + likely, found.minutes.begin + safely
    calendar, first = found.plan.calendar, found.minutes.first
    return calendar.finish_of(first + likely), calendar.finish_of(first + safely)


def _place(share: float, count: int) -> int:
    return max(0, ceil(share * count) - 1)
