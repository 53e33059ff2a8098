"""Three-point times against published answers and scipy (check-values section 1)."""

from datetime import date
from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.forecast.distributions import (
    BETA_PERT,
    TRIANGULAR,
    Points,
    beta_shape,
    beta_variance,
    chance_by,
    draw,
    pert_mean,
    pert_variance,
    triangular_mean,
    triangular_variance,
)
from portal.planning.forecast.simulation import play, simulate
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Link, Phase, Plan
from tests.planning.houses import CREW_WEEK
from tests.published.examples import ALWAYS, HILLIER_THREE_POINT, START, hours, names, read_table, solve

RUNS = 200_000
CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
MONDAY = date(2026, 12, 7)
ROW: Points = (5, 8, 17)


def path(times: str) -> list[Points]:
    return [(float(a), float(b), float(c)) for a, b, c in (one.split(",") for one in times.split())]


def test_hillier_three_point_times_have_the_published_moments() -> None:
    """E4: Hillier & Lieberman, "Reliable Construction Co.": mean 44, variance 9, P(T <= 47) = Phi(1) = 0.8413."""
    found = solve(HILLIER_THREE_POINT)
    assert hours(found.finish - START) == 44
    critical = [found.plan.by_id[phase] for phase in found.critical_paths[0]]
    points: list[Points] = [(one.low / 60, one.likely / 60, one.high / 60) for one in critical]
    assert names(found) == ["A-B-C-E-F-J-L-N"]
    assert sum(map(pert_mean, points)) == pytest.approx(44)
    assert sum(map(pert_variance, points)) == pytest.approx(9)
    assert chance_by(points, 47) == pytest.approx(0.8413, abs=5e-5)


def test_stevenson_paths_are_each_reckoned_with() -> None:
    """E6: Stevenson, Operations Management, problem 7; the chances per path and their product by scipy."""
    activities = dict(zip("ABCDEFGHI", path("5,6,7 8,8,11 6,8,11 9,12,15 5,6,9 5,6,7 2,3,7 4,4,5 5,7,8"), strict=True))
    means = [round(pert_mean(points), 2) for points in activities.values()]
    assert means == [6, 8.5, 8.17, 12, 6.33, 6, 3.5, 4.17, 6.83]
    variances = [round(pert_variance(points), 3) for points in activities.values()]
    assert variances == [0.111, 0.25, 0.694, 1.0, 0.444, 0.111, 0.694, 0.028, 0.25]
    chances = []
    for letters, mean, deviation, chance in (
        ("ACE", 20.50, 1.118, 0.9991), ("DFG", 21.50, 1.344, 0.9686), ("BHI", 19.50, 0.726, 1.0)
    ):
        points = [activities[letter] for letter in letters]
        assert sum(map(pert_mean, points)) == pytest.approx(mean)
        assert sqrt(sum(map(pert_variance, points))) == pytest.approx(deviation, abs=5e-4)
        chances.append(chance_by(points, 24))
        assert chances[-1] == pytest.approx(chance, abs=5e-5)
    assert np.prod(chances) == pytest.approx(0.9678, abs=1e-4)  # 0.96775; the row was made of rounded moments
    assert min(chances) > np.prod(chances), "one path alone promises too much"


def test_taylor_path_has_the_published_chance() -> None:
    """E7: Taylor, Introduction to Management Science, ch. 8: path 1-3-5-7, mean 24, P(T <= 28) = 0.9633."""
    points = path("5,8,17 3,5,7 4,6,8 3,4,5")
    assert sum(map(pert_mean, points)) == pytest.approx(24)
    assert sum(map(pert_variance, points)) == pytest.approx(5)
    assert chance_by(points, 28) == pytest.approx(0.96318, abs=5e-6)
    assert round(chance_by(points, 28), 4) == pytest.approx(0.9633, abs=2e-4)  # the book looks 1.79 up in a table


def test_a_path_without_doubt_is_done_or_not() -> None:
    assert chance_by([(3, 3, 3)], 3) == 1.0
    assert chance_by([(3, 3, 3)], 2.9) == 0.0


def test_beta_pert_row_against_scipy() -> None:
    """(5, 8, 17): alpha 2, beta 4, mean 9, variance 32/7 (not the short cut 4.0); quantiles of scipy.stats.beta."""
    assert beta_shape(ROW) == (2, 4)
    assert pert_mean(ROW) == 9
    assert pert_variance(ROW) == 4
    assert beta_variance(ROW) == pytest.approx(32 / 7)
    draws = draw(ROW, RUNS, seed=1)
    _agrees(draws, 9, 32 / 7, (6.3468, 8.7657, 12.0067))
    assert stats.kstest(draws, stats.beta(2, 4, loc=5, scale=12).cdf).statistic < 1.63 / sqrt(RUNS)


def test_triangular_row_against_scipy() -> None:
    """(5, 8, 17): mean 10, variance 6.5; quantiles of scipy.stats.triang."""
    assert triangular_mean(ROW) == 10
    assert triangular_variance(ROW) == 6.5
    draws = draw(ROW, RUNS, seed=1, shape=TRIANGULAR)
    _agrees(draws, 10, 6.5, (6.8974, 9.6515, 13.7137))
    assert stats.kstest(draws, stats.triang(0.25, loc=5, scale=12).cdf).statistic < 1.63 / sqrt(RUNS)


def _agrees(draws: np.ndarray, mean: float, variance: float, quantiles: tuple[float, float, float]) -> None:
    assert draws.mean() == pytest.approx(mean, abs=0.02)
    assert draws.var() == pytest.approx(variance, rel=0.01)
    assert np.quantile(draws, (0.1, 0.5, 0.9)) == pytest.approx(quantiles, abs=0.04)


@settings(max_examples=40)
@given(st.lists(st.floats(0, 500), min_size=3, max_size=3).map(sorted).filter(lambda p: p[2] - p[0] > 0.1))
def test_moments_are_those_of_scipy(points: list[float]) -> None:
    low, likely, high = points
    beta = stats.beta(*beta_shape((low, likely, high)), loc=low, scale=high - low)
    triangular = stats.triang((likely - low) / (high - low), loc=low, scale=high - low)
    assert pert_mean((low, likely, high)) == pytest.approx(beta.mean(), abs=1e-9)
    assert beta_variance((low, likely, high)) == pytest.approx(beta.var(), rel=1e-6)
    assert triangular_mean((low, likely, high)) == pytest.approx(triangular.mean(), abs=1e-9)
    assert triangular_variance((low, likely, high)) == pytest.approx(triangular.var(), rel=1e-4, abs=1e-6)


@pytest.mark.parametrize(
    ("shape", "mean", "deviation", "chance", "quantiles"),
    [
        (BETA_PERT, 44.33, 2.94, 0.816, (40.6, 44.2, 46.8, 48.2)),
        (TRIANGULAR, 46.23, 3.70, 0.594, (41.5, 46.1, 49.4, 51.1)),
    ],
)
def test_hillier_simulated(
    shape: str, mean: float, deviation: float, chance: float, quantiles: tuple[float, ...]
) -> None:
    """E4 by simulation with numpy's Generator, 400,000 runs: tolerance 0.05 weeks and 0.005."""
    plan = read_table(HILLIER_THREE_POINT)
    weeks = (simulate(plan, plan.starts, RUNS, shape).finishes - START) / 60
    assert weeks.mean() == pytest.approx(mean, abs=0.05)
    assert weeks.std() == pytest.approx(deviation, abs=0.05)
    by_deadline = np.count_nonzero(weeks <= 47) / RUNS
    assert by_deadline == pytest.approx(chance, abs=0.005)
    assert by_deadline <= 0.8413, "other paths can only make it later than the critical path alone"
    assert np.quantile(weeks, (0.1, 0.5, 0.8, 0.9)) == pytest.approx(quantiles, abs=0.1)  # given to one decimal


@pytest.mark.parametrize(("chains", "bias"), [(2, 1 / sqrt(pi)), (3, 0.8463)])
def test_chains_that_merge_finish_later_than_each(chains: int, bias: float) -> None:
    """Merge bias (Clark 1961; order statistics): the latest of 2 alike takes mu + 0.5642 sigma, of 3 mu + 0.8463 sigma.

    A chain of sixteen alike, symmetric phases is as good as normal.
    """
    length, points = 16, (120, 360, 600)
    phases = [
        Phase(100 * chain + n, f"{chain}.{n}", *points, after=(Link(100 * chain + n - 1),) if n else ())
        for chain in range(chains) for n in range(length)
    ]
    plan = Plan(tuple(phases), ALWAYS, START)
    minutes = simulate(plan, START, 40_000, TRIANGULAR).finishes - START
    mean, deviation = 360 * length, sqrt(triangular_variance(points) * length)
    assert minutes.mean() == pytest.approx(mean + bias * deviation, abs=0.02 * deviation)
    assert minutes.mean() > schedule(plan, START).finish - START, "plain PERT is too early where paths merge"


def test_the_later_of_two_uniform_times_takes_two_thirds() -> None:
    """Merge bias, exact (order statistics; Clark 1961): two U(0, 1) merge at 2/3, not at 1/2. With every pair of n even
    steps handed in, each as likely, the mean of the later is (n + 1)(4 n - 1) / (6 n) steps."""
    n = 1_000
    steps = np.arange(1, n + 1)
    first, second = (grid.ravel() for grid in np.meshgrid(steps, steps))
    minutes = _merged(first, second) - START
    assert minutes.mean() == pytest.approx((n + 1) * (4 * n - 1) / (6 * n), rel=1e-12)
    assert minutes.mean() / n == pytest.approx(2 / 3, abs=1e-3)


@pytest.mark.parametrize("calendar", [ALWAYS, CREW], ids=["day and night", "crew hours"])
def test_the_later_of_two_paths_of_one_or_three_days_takes_two_and_a_half(calendar: WorkCalendar) -> None:
    """Merge bias, exact: two paths of 1 or 3 days, each at 1/2, merge at 2.5 days and not at 2. The four futures."""
    day, starts = sum(end - start for start, end in calendar.periods_on(MONDAY)), calendar.periods_on(MONDAY)[0][0]
    first, second = day * np.array([1, 1, 3, 3]), day * np.array([1, 3, 1, 3])
    days = [calendar.count(starts, int(end)) / day for end in _merged(first, second, calendar, starts)]
    assert days == [1, 3, 3, 3]
    assert np.mean(days) == 2.5


def _merged(
    first: np.ndarray, second: np.ndarray, calendar: WorkCalendar = ALWAYS, starts: int = START
) -> np.ndarray:
    """When both phases, of so many minutes, and the moment that follows both are over: one a future."""
    phases = (Phase(1, "one", 1, 1, 1), Phase(2, "two", 1, 1, 1), Phase(3, "both", 0, 0, 0, after=(Link(1), Link(2))))
    plan = Plan(phases, calendar, starts)
    return play(plan, starts, np.array([first, second, 0 * first], np.int32), {}).finishes


@pytest.mark.parametrize("shape", [BETA_PERT, TRIANGULAR])
def test_the_later_of_two_phases_has_the_exact_mean(shape: str) -> None:
    """The mean of the later of two is the integral of 1 - F(x) squared, F by scipy."""
    low, likely, high = 300, 480, 1020
    alpha, beta = beta_shape((low, likely, high))
    law = stats.beta(alpha, beta, loc=low, scale=high - low)
    if shape == TRIANGULAR:
        law = stats.triang((likely - low) / (high - low), loc=low, scale=high - low)
    exact = low + integrate.quad(lambda x: 1 - law.cdf(x) ** 2, low, high)[0]
    plan = Plan((Phase(1, "one", low, likely, high), Phase(2, "two", low, likely, high)), ALWAYS, START)
    minutes = simulate(plan, START, RUNS, shape).finishes - START
    assert minutes.mean() == pytest.approx(exact, abs=1.5)
