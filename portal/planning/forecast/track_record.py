"""Kept forecasts against what happened: how often "safely by" held, and how far "likely by" was off."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from statistics import median

MADE_AHEAD = 7 * 24 * 60
"""Minutes before the finish by which a forecast must have been made to count: on the eve anyone can tell."""


@dataclass(frozen=True, slots=True)
class KeptForecast:
    """What a forecast said at the instant `made_at`: of a phase (its id), or with `phase` None of the whole project,
    the instants by which it is likely and safely finished."""

    made_at: int
    phase: int | None
    likely_by: int
    safely_by: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """A kept forecast and the instant of the actual finish."""

    kept: KeptForecast
    finished: int

    @property
    def safe(self) -> bool:
        """Whether it was finished by "safely by"."""
        return self.finished <= self.kept.safely_by

    @property
    def late(self) -> int:
        """Minutes after "likely by"; below 0: before."""
        return self.finished - self.kept.likely_by


@dataclass(frozen=True, slots=True)
class TrackRecord:
    """`safe` of `count` were finished by "safely by" (four in five is as promised), `likely` of them by "likely by"
    (one in two). `late`: the median of minutes after "likely by"; `off`: the median of minutes to either side."""

    count: int
    safe: int
    likely: int
    late: float
    off: float


def outcomes(
    kept: Iterable[KeptForecast], finished: Mapping[int | None, int], ahead: int = MADE_AHEAD
) -> tuple[Outcome, ...]:
    """Pair each finish with the last forecast that was made at least `ahead` minutes (by the clock) before it.
    `finished`: instants by phase id, None for the project. What was never forecast that early is left out."""
    last: dict[int | None, KeptForecast] = {}
    for one in kept:
        end = finished.get(one.phase)
        if end is not None and one.made_at <= end - ahead:
            known = last.get(one.phase)
            if known is None or known.made_at < one.made_at:
                last[one.phase] = one
    return tuple(Outcome(one, finished[phase]) for phase, one in last.items())


def track_record(found: Iterable[Outcome]) -> TrackRecord | None:
    """Sum up how well forecasts held. None while there is nothing to compare."""
    all_of_them = tuple(found)
    if not all_of_them:
        return None
    late = [one.late for one in all_of_them]
    return TrackRecord(
        len(late), sum(one.safe for one in all_of_them), sum(minutes <= 0 for minutes in late),
        median(late), median(map(abs, late)),
    )
