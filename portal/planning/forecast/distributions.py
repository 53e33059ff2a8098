"""Three-point times (low, likely, high) as distributions: moments, draws, and the chance of a path by the textbook.

Beta-PERT has shape 4: alpha 1 + 4 (likely - low) / (high - low), beta 1 + 4 (high - likely) / (high - low), so its mean
is the PERT mean. Check values: scipy.stats.beta and scipy.stats.triang, in tests/published.
"""

import hashlib
from collections.abc import Iterable
from math import erf, sqrt

import numpy as np
from numpy.typing import NDArray

BETA_PERT = "beta_pert"
TRIANGULAR = "triangular"
SHAPES = (BETA_PERT, TRIANGULAR)

Points = tuple[float, float, float]
"""Low, likely, high, in any unit."""
Draws = NDArray[np.float64]


def pert_mean(points: Points) -> float:
    low, likely, high = points
    return (low + 4 * likely + high) / 6


def pert_variance(points: Points) -> float:
    """The textbook's ((high - low) / 6) squared: a short cut, not the variance of the beta distribution."""
    return ((points[2] - points[0]) / 6) ** 2


def triangular_mean(points: Points) -> float:
    return sum(points) / 3


def triangular_variance(points: Points) -> float:
    low, likely, high = points
    return (low**2 + likely**2 + high**2 - low * likely - low * high - likely * high) / 18


def beta_shape(points: Points) -> tuple[float, float]:
    """alpha, beta of the beta-PERT distribution. `high` must be above `low`."""
    low, likely, high = points
    return 1 + 4 * (likely - low) / (high - low), 1 + 4 * (high - likely) / (high - low)


def beta_variance(points: Points) -> float:
    alpha, beta = beta_shape(points)
    return float((points[2] - points[0]) ** 2 * alpha * beta / ((alpha + beta) ** 2 * (alpha + beta + 1)))


def chance_by(path: Iterable[Points], deadline: float) -> float:
    """The textbook's chance that a path is done by the deadline: a normal distribution with the PERT moments.

    One path by itself: where others may become the longest, simulate. (Malcolm et al. 1959, from memory)
    """
    points = list(path)
    mean, variance = sum(map(pert_mean, points)), sum(map(pert_variance, points))
    if not variance:
        return float(mean <= deadline)
    return (1 + erf((deadline - mean) / sqrt(2 * variance))) / 2


def seed_of(*state: object) -> int:
    """A seed that is the same for the same state, on every machine and in every run."""
    return int.from_bytes(hashlib.sha256(repr(state).encode()).digest()[:8])


def draw(points: Points, count: int, seed: int, shape: str = BETA_PERT) -> Draws:
    """`count` draws between low and high. Raises ValueError when the points do not rise or the shape is unknown."""
    low, likely, high = points
    if not low <= likely <= high:
        raise ValueError(f"low, likely, high must rise: {points}")
    if shape not in SHAPES:
        raise ValueError(f"shape: {shape!r} is not known; use {' or '.join(SHAPES)}")
    if low == high:
        return np.full(count, float(low))
    # SFC64: as good as numpy's default here, and a tenth faster.
    generator = np.random.Generator(np.random.SFC64(seed))
    if shape == TRIANGULAR:
        return generator.triangular(low, likely, high, count)
    draws = generator.beta(*beta_shape(points), count)
    draws *= high - low
    draws += low
    return draws
