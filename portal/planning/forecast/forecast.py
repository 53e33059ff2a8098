"""The forecast: when everything, and each phase, is likely and safely finished, and what that hangs on."""

from dataclasses import dataclass
from datetime import date
from math import ceil

import numpy as np
from numpy.typing import NDArray

from portal.planning.forecast.criticality import criticality
from portal.planning.forecast.distributions import BETA_PERT
from portal.planning.forecast.simulation import Futures, simulate
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import DONE, Phase, Plan

FUTURES = 10_000
"""Drawn for a forecast: a share of them is exact to a percentage point (standard error at most 0.5 %)."""
LIKELY = 0.5
SAFE = 0.8
"""Share of the futures in which it is finished by "likely by", and by "safely by"."""


@dataclass(frozen=True, slots=True)
class PhaseForecast:
    """Of one phase (its id): the instants by which it is finished in half, and in four fifths, of the futures; the
    share of futures in which it drives the finish."""

    phase: int
    likely_by: int
    safely_by: int
    critical: float


@dataclass(frozen=True, slots=True)
class Forecast:
    """What a simulation of so many `futures` says at `made_at` (an instant). `likely_by` (P50), `safely_by` (P80):
    instants; `likely_on`, `safely_on`: their dates. `sure`: the share of futures that finish by the end of the day on
    which the plan itself does; `chance`: by the end of the promised day, None without a promise. `decisions`,
    `deliveries`: the share of futures in which each is on the critical path, by id. `phases` without those that are
    done, in the plan's order."""

    made_at: int
    futures: int
    likely_by: int
    safely_by: int
    likely_on: date
    safely_on: date
    sure: float
    promised_on: date | None
    chance: float | None
    phases: tuple[PhaseForecast, ...]
    decisions: dict[int, float]
    deliveries: dict[int, float]


def forecast(
    plan: Plan, now: int, promised: date | None = None, futures: int = FUTURES, shape: str = BETA_PERT
) -> Forecast:
    """Forecast the plan as it stands at the instant `now`; the same plan, `now` and promise give the same forecast.
    `promised`: the day that was promised for the finish; `futures`: how many are drawn; `shape`: of the times,
    one of distributions.SHAPES.

    Raises LoopError, UnknownPredecessor, CalendarError as the schedule does; ValueError for a wrong count or shape.
    """
    drawn = simulate(plan, now, futures, shape)
    likely, safely = quantile(drawn.finishes, LIKELY), quantile(drawn.finishes, SAFE)
    shares = criticality(drawn)
    return Forecast(
        now, futures, likely, safely, finish_day(plan, likely), finish_day(plan, safely),
        _share_by(drawn.finishes, plan, finish_day(plan, schedule(plan, now).finish)), promised,
        None if promised is None else _share_by(drawn.finishes, plan, promised),
        _phases(drawn, shares.phases), shares.decisions, shares.deliveries,
    )


def quantile(values: NDArray[np.int64], share: float) -> int:
    """Give the smallest of the values by which at least this `share` (0 to 1) of them has come: the empirical quantile
    without interpolation, so that a date in an answer is one that can happen."""
    at = max(0, ceil(share * len(values)) - 1)
    return int(np.partition(values, at)[at])


def finish_day(plan: Plan, instant: int) -> date:
    """Give the local day at whose end it is finished: midnight still belongs to the day that it ends."""
    return plan.calendar.day_of(instant - 1)


def _share_by(values: NDArray[np.int64], plan: Plan, day: date) -> float:
    return int(np.count_nonzero(values <= plan.calendar.day_end(day))) / len(values)


def _phases(drawn: Futures, critical: dict[int, float]) -> tuple[PhaseForecast, ...]:
    return tuple(
        PhaseForecast(one.id, _finished_by(drawn, one, LIKELY), _finished_by(drawn, one, SAFE), critical[one.id])
        for one in drawn.plan.phases if one.state != DONE
    )


def _finished_by(drawn: Futures, phase: Phase, share: float) -> int:
    """The instant by which a phase is finished in a share of the futures. The later in work time is the later on the
    clock, so one instant is looked up, not thousands."""
    position = drawn.plan.network.position[phase.id]
    moments = drawn.moments.get(position)
    if moments is None:
        return drawn.plan.calendar.finish_of(quantile(drawn.finish[position], share))
    return quantile(moments, share)
