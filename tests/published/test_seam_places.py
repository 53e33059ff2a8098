"""Where seams can stand, against a brute force that shares no code with the product.

The oracle counts in whole nanometers. It tries every sixteenth of an inch along the run, and every place that an exact
end can have: an edge of the run or of what a seam keeps away from, and from each so many longest or shortest pieces on
either side (a division that can't be pushed further has all its seams there). Nothing that fits may be missed, nothing
that doesn't fit may pass.
"""

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from random import Random
from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts import seam
from portal.layouts.seam.places import placing

SIXTEENTH, MM = 1_587_500, 1_000_000
Points = np.ndarray


@dataclass(frozen=True)
class Case:
    """Lengths in nanometers. `cutouts`: left and right ends; `washer`: those of a dishwasher."""

    length: int
    slab: int
    keep: int
    least: int
    cutouts: tuple[tuple[int, int], ...]
    washer: tuple[int, int] | None

    @property
    def fewest(self) -> int:
        return -(-self.length // self.slab) - 1

    def json(self) -> dict[str, Any]:
        def text(nm: int) -> str:
            return f"{nm // SIXTEENTH // 16}-{nm // SIXTEENTH % 16}/16 in" if nm % SIXTEENTH == 0 else f"{nm / MM} mm"

        def stretch(ends: tuple[int, int]) -> dict[str, str]:
            return {"from_left": text(ends[0]), "width": text(ends[1] - ends[0])}

        return {
            "length": text(self.length), "depth": "25 in", "thickness": "30 mm", "material": "granite",
            "slab": {"length": text(self.slab), "depth": "60 in"},
            "minimums": {"to_cutout": text(self.keep), "source": "a sheet"} | (
                {"piece": text(self.least)} if self.least else {}),
            "cutouts": [{"name": f"cut-out {number}", **stretch(ends)} for number, ends in enumerate(self.cutouts)],
            "dishwasher": stretch(self.washer) if self.washer else None,
        }

    def points(self) -> Points:
        """Every place to try, in order."""
        ends = {0, self.length, *(self.washer or ())}
        ends |= {each for left, right in self.cutouts for each in (left - self.keep, right + self.keep)}
        steps = [longest * self.slab + shortest * self.least for longest in range(4) for shortest in range(4)]
        exact = {end + sign * step for end in ends for step in steps for sign in (1, -1)}
        grid = np.arange(0, self.length, SIXTEENTH)
        found = np.unique(np.concatenate([grid, np.array(sorted(exact))]))
        return found[(found > 0) & (found < self.length)]

    def free(self, points: Points, strict: bool) -> Points:
        allowed = np.ones(len(points), dtype=bool)
        for left, right in self.cutouts:
            allowed &= (points <= left - self.keep) | (points >= right + self.keep)
        if strict and self.washer:
            allowed &= (points <= self.washer[0]) | (points >= self.washer[1])
        return allowed

    def projected(self, count: int, strict: bool, points: Points) -> list[Points]:
        """For each seam, at which points it can stand so that all others can stand somewhere."""
        free = self.free(points, strict)
        forward, back = self._chain(points, free, count), self._chain(
            self.length - points[::-1], free[::-1], count)  # the same, mirrored
        return [one & other[::-1] for one, other in zip(forward, reversed(back), strict=True)]

    def _chain(self, points: Points, free: Points, count: int) -> list[Points]:
        found, before, possible = [], np.array([0]), np.array([True])
        for _ in range(count):
            marks = np.concatenate([[0], np.cumsum(possible)])
            low = np.searchsorted(before, points - self.slab, "left")
            high = np.searchsorted(before, points - max(self.least, 1), "right")
            before, possible = points, free & (marks[high] > marks[np.minimum(low, high)])
            found.append(possible)
        return found

    def keeps_all(self, seams: list[Fraction]) -> bool:
        """Whether a division keeps every rule."""
        pieces = [right - left for left, right in pairwise([0, *seams, self.length])]
        return all(max(self.least, 1) <= piece <= self.slab for piece in pieces) and all(
            at <= left - self.keep or at >= right + self.keep for at in seams for left, right in self.cutouts)


def random_case(seed: int) -> Case:
    """A run in inches or in mm, or some of both, as slabs are in one and shops in the other. Drawn evenly, since the
    runs that are hard to divide are no extremes."""
    chance = Random(seed)
    inch = 16 * SIXTEENTH
    unit, other = chance.choice([(SIXTEENTH, SIXTEENTH), (MM, MM), (SIXTEENTH, MM), (MM, SIXTEENTH)])

    def size(least: int, most: int, of: int = unit) -> int:
        return chance.randint(least * inch // of + 1, most * inch // of) * of

    slab = size(40, 130, other)
    length = size(slab // inch, 3 * slab // inch)
    cutouts, at = [], 0
    for _ in range(chance.randint(0, 4)):
        left = at + size(0, max(length // inch // 4, 2))
        right = left + size(5, 45)
        if right <= length:
            cutouts.append((left, right))
            at = right
    washer = size(0, length // inch) if chance.random() < 0.5 else None
    return Case(length, slab, size(0, 9, other), chance.choice([0, size(0, 30)]), tuple(cutouts),
                None if washer is None else (washer, washer + 24 * inch))


CASES = st.integers(0, 2**32).map(random_case).filter(lambda case: case.fewest in (1, 2))


@settings(max_examples=20)
@given(CASES)
def test_nothing_that_fits_is_missed_and_nothing_that_does_not_fit_passes(case: Case) -> None:
    run = seam.from_json(case.json())
    points = case.points()
    feasible = {(count, strict): all(each.any() for each in case.projected(count, strict, points))
                for count in (case.fewest, case.fewest + 1) for strict in (True, False)}
    expected = next((key for key, fits in feasible.items() if fits), None)
    found = placing(run)
    assert (found and (found.seams, found.strict)) == expected
    layouts = seam.layouts(run)
    passing = [layout for layout in layouts if layout.ok]
    assert bool(passing) == (expected is not None)
    if expected:
        assert min(len(layout.seams) for layout in passing) == expected[0]
        assert any(not layout.noted for layout in passing) >= expected[1]


@settings(max_examples=20)
@given(CASES)
def test_each_seam_can_stand_exactly_where_the_others_can_still_be_placed(case: Case) -> None:
    found = placing(seam.from_json(case.json()))
    if found is None:
        return
    points = case.points()
    for ours, possible in zip(found.places, case.projected(found.seams, found.strict, points), strict=True):
        inside = np.zeros(len(points), dtype=bool)
        for low, high in ours:
            ends = [int(low * MM), int(high * MM)]
            assert [low * MM, high * MM] == ends and set(ends) <= set(points[possible].tolist())
            inside |= (points >= ends[0]) & (points <= ends[1])
        assert (inside == possible).all()


@settings(max_examples=20)
@given(CASES)
def test_what_comes_first_keeps_all_but_a_mark_of_the_most_that_can_be_kept_from_every_cut_out(case: Case) -> None:
    """With an eighth of an inch or a millimeter more than it keeps, nothing fits any more."""
    run = seam.from_json(case.json())
    best, found = seam.layouts(run)[0], placing(run)
    if not (best.ok and found and found.strict and case.cutouts and best.seams):
        return
    assert best.from_cutouts is not None
    step = 2 * SIXTEENTH if run.length.unit.is_inch else MM
    more = replace(case, keep=int(best.from_cutouts.mm * MM) + step)
    assert not all(each.any() for each in more.projected(found.seams, True, more.points()))


@settings(max_examples=20)
@given(CASES)
def test_a_seam_alone_can_stand_where_the_division_still_keeps_every_rule(case: Case) -> None:
    for layout in seam.layouts(seam.from_json(case.json()))[:3]:
        seams = [at.mm * MM for at in layout.seams]
        for number, ours in enumerate(layout.alone):
            left = seams[number - 1] if number else 0
            right = seams[number + 1] if number + 1 < len(seams) else case.length
            for at in range(int(left) + 1, int(right), max(int(right - left) // 200, 1)):
                moved = [*seams[:number], Fraction(at), *seams[number + 1:]]
                free = case.keeps_all(moved) and not (layout.placing and layout.placing.strict and case.washer and
                                                      case.washer[0] < at < case.washer[1])
                assert free == any(low.mm * MM <= at <= high.mm * MM for low, high in ours)


@settings(max_examples=20)
@given(CASES)
def test_a_division_passes_if_and_only_if_it_keeps_every_rule(case: Case) -> None:
    for layout in seam.layouts(seam.from_json(case.json())):
        assert layout.ok == case.keeps_all([at.mm * MM for at in layout.seams]), (layout.title, layout.reason)
