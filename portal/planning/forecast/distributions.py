"""Three-point times (low, likely, high) as distributions to draw from.

Beta-PERT has shape 4: alpha 1 + 4 (likely - low) / (high - low), beta 1 + 4 (high - likely) / (high - low), so its mean
is the PERT mean, (low + 4 likely + high) / 6. Check values: scipy.stats.beta and scipy.stats.triang, in
tests/published.
"""

import hashlib

import numpy as np
from numpy.typing import NDArray

BETA_PERT = "beta_pert"
TRIANGULAR = "triangular"
SHAPES = (BETA_PERT, TRIANGULAR)

Points = tuple[float, float, float]
"""Low, likely, high, in any unit."""
Draws = NDArray[np.float64]
"""In the unit of the points."""


def beta_shape(points: Points) -> tuple[float, float]:
    """Give alpha and beta of the beta-PERT distribution, between 1 and 5. `high` must be above `low`."""
    low, likely, high = points
    return 1 + 4 * (likely - low) / (high - low), 1 + 4 * (high - likely) / (high - low)


def seed_of(*state: object) -> int:
    """Give a seed (64 bits) that is the same for values with the same `repr`, on every machine and in every run."""
    return int.from_bytes(hashlib.sha256(repr(state).encode()).digest()[:8])


def draw(points: Points, count: int, seed: int, shape: str = BETA_PERT) -> Draws:
    """Draw `count` times between low and high; the same seed draws the same. `shape`: one of SHAPES. Where low is high,
    each draw is that. Raises ValueError when the points do not rise or the shape is unknown."""
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
