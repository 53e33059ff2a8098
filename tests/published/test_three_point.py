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
    draw,
)
from portal.planning.forecast.simulation import simulate, simulate_with
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Phase, Plan, Predecessor
from tests.planning.houses import CREW_WEEK
from tests.published.examples import ALWAYS, HILLIER_THREE_POINT, START, hours, names, read_table, solve

RUNS = 200_000
CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
MONDAY = date(2026, 12, 7)
ROW: Points = (5, 8, 17)


def test_hillier_three_point_times_have_the_published_mean() -> None:
    """E4: Hillier & Lieberman, "Reliable Construction Co.": the critical path has the mean 44."""
    found = solve(HILLIER_THREE_POINT)
    assert hours(found.finish - START) == 44
    critical = [found.plan.by_id[phase] for phase in found.critical_paths[0]]
    points: list[Points] = [(one.low / 60, one.likely / 60, one.high / 60) for one in critical]
    assert names(found) == ["A-B-C-E-F-J-L-N"]
    draws = np.array([draw(one, RUNS, seed) for seed, one in enumerate(points)])
    assert draws.mean(axis=1).sum() == pytest.approx(44, abs=0.02), "the beta-PERT mean is the PERT mean"


def test_beta_pert_row_against_scipy() -> None:
    """(5, 8, 17): alpha 2, beta 4, mean 9, variance 32/7 (not the short cut 4.0); quantiles of scipy.stats.beta."""
    assert beta_shape(ROW) == (2, 4)
    draws = draw(ROW, RUNS, seed=1)
    _agrees(draws, 9, 32 / 7, (6.3468, 8.7657, 12.0067))
    assert stats.kstest(draws, stats.beta(2, 4, loc=5, scale=12).cdf).statistic < 1.63 / sqrt(RUNS)


def test_triangular_row_against_scipy() -> None:
    """(5, 8, 17): mean 10, variance 6.5; quantiles of scipy.stats.triang."""
    draws = draw(ROW, RUNS, seed=1, shape=TRIANGULAR)
    _agrees(draws, 10, 6.5, (6.8974, 9.6515, 13.7137))
    assert stats.kstest(draws, stats.triang(0.25, loc=5, scale=12).cdf).statistic < 1.63 / sqrt(RUNS)


def _agrees(draws: np.ndarray, mean: float, variance: float, quantiles: tuple[float, float, float]) -> None:
    assert draws.mean() == pytest.approx(mean, abs=0.02)
    assert draws.var() == pytest.approx(variance, rel=0.01)
    assert np.quantile(draws, (0.1, 0.5, 0.9)) == pytest.approx(quantiles, abs=0.04)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.floats(0, 500), min_size=3, max_size=3).map(sorted).filter(lambda p: p[2] - p[0] > 0.1),
    st.sampled_from([BETA_PERT, TRIANGULAR]),
)
def test_draws_have_the_law_of_scipy(points: list[float], shape: str) -> None:
    low, likely, high = points
    draws = draw((low, likely, high), 20_000, seed=3, shape=shape)
    law = stats.triang((likely - low) / (high - low), loc=low, scale=high - low)
    if shape == BETA_PERT:
        law = stats.beta(*beta_shape((low, likely, high)), loc=low, scale=high - low)
        assert law.mean() == pytest.approx((low + 4 * likely + high) / 6, abs=1e-9), "PERT (Malcolm et al. 1959)"
    assert low <= draws.min() and draws.max() <= high
    assert draws.mean() == pytest.approx(law.mean(), abs=5 * law.std() / sqrt(len(draws)))
    assert draws.std() == pytest.approx(law.std(), rel=0.05)


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
    assert by_deadline <= 0.8413, "others can only make it later than the critical path alone, Phi((47 - 44) / 3)"
    assert np.quantile(weeks, (0.1, 0.5, 0.8, 0.9)) == pytest.approx(quantiles, abs=0.1)  # given to one decimal


@pytest.mark.parametrize(("chains", "bias"), [(2, 1 / sqrt(pi)), (3, 0.8463)])
def test_chains_that_merge_finish_later_than_each(chains: int, bias: float) -> None:
    """Merge bias (Clark 1961; order statistics): the latest of 2 alike takes mu + 0.5642 sigma, of 3 mu + 0.8463 sigma.

    A chain of sixteen alike, symmetric phases is as good as normal.
    """
    length, points = 16, (120, 360, 600)
    phases = [
        Phase(100 * chain + n, f"{chain}.{n}", *points, after=(Predecessor(100 * chain + n - 1),) if n else ())
        for chain in range(chains) for n in range(length)
    ]
    plan = Plan(tuple(phases), ALWAYS, START)
    minutes = simulate(plan, START, 40_000, TRIANGULAR).finishes - START
    mean, deviation = 360 * length, stats.triang(0.5, loc=120, scale=480).std() * sqrt(length)
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
    both = Phase(3, "both", 0, 0, 0, after=(Predecessor(1), Predecessor(2)))
    phases = (Phase(1, "one", 1, 1, 1), Phase(2, "two", 1, 1, 1), both)
    plan = Plan(phases, calendar, starts)
    return simulate_with(plan, starts, np.array([first, second, 0 * first], np.int64), {}).finishes


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
