"""Three-point times as distributions to draw from. Their laws are checked against scipy in tests/published."""

import subprocess
import sys

import numpy as np
import pytest

from portal.planning.forecast.distributions import BETA_PERT, SHAPES, TRIANGULAR, beta_shape, draw, seed_of

ROW = (300.0, 480.0, 1_020.0)


@pytest.mark.parametrize(
    ("points", "alpha", "beta"),
    [
        ((5, 8, 17), 2, 4),  # 1 + 4 * 3/12, 1 + 4 * 9/12
        ((0, 0, 10), 1, 5),
        ((0, 10, 10), 5, 1),
        ((2, 4, 6), 3, 3),
    ],
)
def test_the_likely_time_leans_the_distribution(points: tuple[float, float, float], alpha: float, beta: float) -> None:
    assert beta_shape(points) == (alpha, beta)


@pytest.mark.parametrize("shape", SHAPES)
def test_draws_lie_between_low_and_high_and_mostly_near_the_likely(shape: str) -> None:
    draws = draw(ROW, 20_000, seed=5, shape=shape)
    assert len(draws) == 20_000
    assert 300 <= draws.min() < 330 and 900 < draws.max() <= 1_020
    counts, edges = np.histogram(draws, bins=12)
    peak = int(np.argmax(counts))
    assert edges[peak] - 60 <= 480 <= edges[peak + 1] + 60, "the mode, to a bin of an hour"


def test_the_same_seed_draws_the_same_and_another_something_else() -> None:
    assert np.array_equal(draw(ROW, 50, seed=5), draw(ROW, 50, seed=5))
    assert not np.array_equal(draw(ROW, 50, seed=5), draw(ROW, 50, seed=6))
    assert not np.array_equal(draw(ROW, 50, seed=5), draw(ROW, 50, seed=5, shape=TRIANGULAR))
    assert np.array_equal(draw(ROW, 50, seed=5), draw(ROW, 50, seed=5, shape=BETA_PERT)), "which is the usual"


def test_a_time_without_doubt_is_drawn_as_it_is() -> None:
    assert draw((60, 60, 60), 3, seed=1).tolist() == [60.0, 60.0, 60.0]


@pytest.mark.parametrize("points", [(2, 1, 3), (1, 3, 2), (3, 2, 1)])
def test_points_that_do_not_rise_are_refused(points: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="low, likely, high must rise"):
        draw(points, 3, seed=1)


def test_an_unknown_shape_is_refused_with_those_that_are_known() -> None:
    with pytest.raises(ValueError, match="shape: 'square' is not known; use beta_pert or triangular"):
        draw(ROW, 3, seed=1, shape="square")


def test_a_seed_is_that_of_the_state_and_of_nothing_else() -> None:
    assert seed_of(1, (60, 90)) == seed_of(1, (60, 90))
    assert len({seed_of(1, (60, 90)), seed_of(1, (60, 91)), seed_of(2, (60, 90)), seed_of("1", (60, 90))}) == 4
    assert 0 <= seed_of() < 2**64


def test_a_seed_is_the_same_in_every_run() -> None:
    """Python salts its own hashes anew in each process; a forecast must not change overnight."""
    code = "from portal.planning.forecast.distributions import seed_of; print(seed_of('delivery', 4, (1, 2, 3)))"
    runs = {
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip()
        for _ in range(2)
    }
    assert runs == {str(seed_of("delivery", 4, (1, 2, 3)))}
