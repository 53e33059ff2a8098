"""What a division is checked for: its pieces, its seams, and the strips around cut-outs."""

from collections.abc import Iterator, Sequence

from portal.layouts.check import AT_LEAST, AT_MOST, Check, check
from portal.layouts.length import Length
from portal.layouts.seam import words
from portal.layouts.seam.cutouts import Strip
from portal.layouts.seam.dimensions import Run
from portal.layouts.stone.limits import DRAWING


def run_checks(run: Run, left: Sequence[Strip]) -> tuple[Check, ...]:
    """Check what is the same wherever the seams are: the depth of the slab, what is left around cut-outs, and how round
    these are."""
    return (check(words.DEPTH_OUT, words.ALL_PIECES, run.depth, AT_MOST, run.slab_depth), *_strips(run, left),
            *_corners(run))


def _strips(run: Run, left: Sequence[Strip]) -> Iterator[Check]:
    if run.least.strip is not None:
        for each in left:
            yield check(words.STRIP, words.sides(each), each.wide, AT_LEAST, run.least.strip, run.least.source)


def _corners(run: Run) -> Iterator[Check]:
    least = run.least.cutout_radius
    for each in run.cutouts:
        if least is not None and each.radius is not None:
            yield check(words.CUTOUT_RADIUS, each.name, each.radius, AT_LEAST, least, run.least.source)


def division_checks(run: Run, seams: Sequence[Length], pieces: Sequence[Length]) -> tuple[Check, ...]:
    """Check what follows from where the seams are. `pieces`: their lengths, from left to right."""
    return (*_piece_checks(run, pieces), *(each for at in seams for each in _seam_checks(run, at)))


def _piece_checks(run: Run, pieces: Sequence[Length]) -> Iterator[Check]:
    for number, piece in enumerate(pieces, 1):
        yield check(words.LENGTH_OUT, words.piece(number), piece, AT_MOST, run.slab_length)
        if run.least.piece:
            yield check(words.PIECE_LEAST, words.piece(number), piece, AT_LEAST, run.least.piece, run.least.source)


def _seam_checks(run: Run, at: Length) -> Iterator[Check]:
    for each in run.cutouts:
        about = words.seam_and(at, each.name)
        yield check(words.TO_CUTOUT, about, each.away(at), AT_LEAST, run.least.to_cutout, run.least.source)
    if run.dishwasher:
        away, none = run.dishwasher.away(at), Length.of_mm(0, at.unit)
        yield check(words.OFF_DISHWASHER, words.seam_at(at), away, AT_LEAST, none, DRAWING)
