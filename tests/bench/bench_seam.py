"""Where the seams of a run with four cut-outs can stand, exact, against a brute force that tries every 1/4 in.

The brute force is what one writes without thinking: every pair of places on the grid, in numpy at once, and of each
seam those of which some pair passes. It is not exact, and answers nothing else. For the curious also all divisions of
the run, checked, weighed and ranked.
"""

import sys
from itertools import pairwise

import numpy as np

from portal.layouts import seam
from portal.layouts.seam.dimensions import Run
from portal.layouts.seam.places import placing, ways
from tests.bench.ratios import at_most, closing, in_turn, timed

QUARTER = 6.35
RUN = {
    "length": "270 in", "depth": "25-1/2 in", "thickness": "30 mm", "material": "granite",
    "slab": {"length": "118 in", "depth": "60 in"}, "dishwasher": {"from_left": "64 in", "width": "24 in"},
    "minimums": {"to_cutout": "4 in", "piece": "12 in", "source": "the fabricator"},
    "cutouts": [{"name": "bar sink", "from_left": "12 in", "width": "16 in"},
                {"name": "sink", "from_left": "90 in", "width": "33 in"},
                {"name": "cooktop", "from_left": "160 in", "width": "36 in"},
                {"name": "hot plate", "from_left": "220 in", "width": "12 in"}],
}


def brute(run: Run) -> tuple[np.ndarray, np.ndarray]:
    """Of each of two seams the places on the grid where it can stand."""
    end, keep = float(run.length.mm), float(run.least.to_cutout.mm)
    shortest, longest = float(run.least.piece.mm if run.least.piece else 0), float(run.slab_length.mm)
    at = np.arange(QUARTER, end, QUARTER)
    free = np.ones(len(at), dtype=bool)
    for each in run.cutouts:
        free &= (at <= float(each.left.mm) - keep) | (at >= float(each.right.mm) + keep)
    if run.dishwasher:
        free &= (at <= float(run.dishwasher.left.mm)) | (at >= float(run.dishwasher.right.mm))
    pieces = at[:, None], at[None, :] - at[:, None], end - at[None, :]
    fits = free[:, None] & free[None, :]
    for piece in pieces:
        fits &= (piece >= shortest) & (piece <= longest)
    return at[fits.any(axis=1)], at[fits.any(axis=0)]


def exact(run: Run) -> object:
    """Nothing of an earlier round is kept."""
    placing.cache_clear()
    ways.cache_clear()
    return placing(run)


def main() -> int:
    run = seam.from_json(RUN)
    found, tried = placing(run), brute(run)
    assert found and found.strict and run.seams == 2
    for ours, grid in zip(found.places, tried, strict=True):  # the same answer, but for its ends
        inside = np.any([(grid >= float(low) - 1e-6) & (grid <= float(high) + 1e-6) for low, high in ours], axis=0)
        assert inside.all() and len(ours) == 1 + sum(other - one > 1.5 * QUARTER for one, other in pairwise(grid))
    medians = in_turn(31, {
        "ours": timed(lambda: exact(run)), "brute": timed(lambda: brute(run)), "all": timed(lambda: seam.layouts(run)),
    })
    print(f"# {len(seam.layouts(run))} divisions, checked and ranked: {medians['all'] / medians['brute']:.1f}")
    return closing([at_most("seam places to brute force at 1/4 in", medians["ours"] / medians["brute"], 3)])


if __name__ == "__main__":
    sys.exit(main())
