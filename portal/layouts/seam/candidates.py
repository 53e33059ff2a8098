"""Which divisions are looked at: those that suggest themselves, those that are proposed, and of all that fit a few."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

from portal.layouts.length import Length
from portal.layouts.seam.dimensions import Run
from portal.layouts.seam.places import Interval, Placing, met, placing, ways

Seams = tuple[Length, ...]
_STEPS = {True: Fraction(254, 80), False: Fraction(1)}
"""What one marks by, in mm: 1/8 in, or 1 mm."""
_APART = Fraction(25)
"""In mm: nearer than that nobody chooses between two places."""


def candidates(run: Run) -> Iterator[Seams]:
    """Give each division once. Some may not fit: what was asked once can be asked again, and what is proposed is
    answered."""
    found: dict[Seams, None] = {}
    fitting = placing(run)
    if fitting:
        for each in (fitting, _roomiest(run, fitting)):
            found |= dict.fromkeys(_lengths(run, seams) for seams in _fitting(run, each, ()))
        for at in run.proposed:
            found |= dict.fromkeys(_lengths(run, seams) for seams in _with(run, fitting, at.mm))
    found |= dict.fromkeys(combinations(_obvious(run), run.seams))
    found |= dict.fromkeys((at,) for at in run.proposed)
    yield from found


def _lengths(run: Run, seams: tuple[Fraction, ...]) -> Seams:
    return tuple(Length.of_mm(at, run.length.unit) for at in seams)


def _fitting(run: Run, fitting: Placing, before: tuple[Fraction, ...]) -> Iterator[tuple[Fraction, ...]]:
    """Seam by seam from the left, in each interval that is left for it: as even as can be, and in its middle; of a
    single seam both ends, too."""
    number = len(before)
    if number == fitting.seams:
        yield before
        return
    even = run.length.mm * (number + 1) / (fitting.seams + 1)
    for low, high in fitting.after(before):
        marked = [_marked(min(max(even, low), high), (low, high), run)]
        middle = _marked((low + high) / 2, (low, high), run)
        if fitting.seams <= 2 and abs(middle - marked[0]) >= _APART:
            marked.append(middle)
        if fitting.seams == 1:
            marked += [low, high]
        for at in dict.fromkeys(marked):
            yield from _fitting(run, fitting, (*before, at))


def _roomiest(run: Run, fitting: Placing) -> Placing:
    """The ways that keep all seams as far from every cut-out as can be, to what one marks by."""
    step = _STEPS[run.length.unit.is_inch]
    low, high = 0, int(run.length.mm // step) + 1
    while run.cutouts and high - low > 1:
        middle = (low + high) // 2
        found = _keeping(run, fitting, middle * step)
        fitting, low, high = (found, middle, high) if found else (fitting, low, middle)
    return fitting


def _keeping(run: Run, fitting: Placing, more: Fraction) -> Placing | None:
    """The ways that keep so much more than the least from every cut-out; None where there are none."""
    keep = Length.of_mm(run.least.to_cutout.mm + more, run.length.unit)
    return ways(replace(run, least=replace(run.least, to_cutout=keep)), fitting.seams, fitting.strict)


def _with(run: Run, fitting: Placing, at: Fraction) -> Iterator[tuple[Fraction, ...]]:
    """One of the seams as proposed, the others as even as can be, where they find a place."""
    for number, places in enumerate(fitting.places):
        if met(places, ((at, at),)):
            wanted = [run.length.mm * (each + 1) / (fitting.seams + 1) for each in range(fitting.seams)]
            yield fitting.around(number, at, wanted)


def _marked(at: Fraction, interval: Interval, run: Run) -> Fraction:
    """The place nearest to it that one marks easily; itself where none lies within."""
    step = _STEPS[run.length.unit.is_inch]
    near = round(at / step) * step
    return near if interval[0] <= near <= interval[1] else at


def _obvious(run: Run) -> list[Length]:
    """Even pieces, the longest that a slab gives from either end, as near a cut-out as is allowed, proposals."""
    places = {run.length * Fraction(part, run.seams + 1) for part in range(1, run.seams + 1)}
    for count in range(1, run.seams + 1):
        places |= {run.slab_length * count, run.length - run.slab_length * count}
    for cutout in run.cutouts:
        places |= {cutout.left - run.least.to_cutout, cutout.right + run.least.to_cutout}
    within = Length.of_mm(0)
    return sorted(at for at in places | set(run.proposed) if within < at < run.length)
