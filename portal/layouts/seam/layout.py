"""The ways to divide a run, checked and ranked.

No rule says where a seam must be (NSI manual); the distance to cut-outs is the fabricator's.
"""

from itertools import combinations, pairwise
from typing import Any, ClassVar

from portal.layouts.check import AT_LEAST, AT_MOST, Check, check
from portal.layouts.layout import Mark, Words
from portal.layouts.length import Length
from portal.layouts.seam import words
from portal.layouts.seam.dimensions import Run
from portal.layouts.seam.division import Division, Piece
from portal.layouts.stone import DRAWING, weight


class SeamLayout(Division):
    """A way to divide a run, in the words of `seam.words`."""

    words: ClassVar[Words] = words

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Give each seam from the left end."""
        return tuple(Mark(words.seam(number), words.LEFT_END, at) for number, at in enumerate(self.seams, 1))

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it; `pieces` from left to right, by length and weight."""
        pieces = [{"length": piece.length.to_json(), "weight": piece.weight.to_json()} for piece in self.pieces]
        return super().to_json() | {"marks": [mark.to_json() for mark in self.marks], "pieces": pieces}


def layouts(run: Run) -> list[SeamLayout]:
    """Find the fewest seams that the slab allows, at each place that suggests itself, and at each that is proposed.

    What passes comes first, then fewer seams, then the seam that keeps the furthest from every cut-out.
    """
    wanted = [*combinations(_places(run), run.seams), *((at,) for at in run.proposed)]
    found = {seams: _layout(run, seams) for seams in wanted}
    return sorted(found.values(), key=lambda each: (*each.faults, len(each.seams), -_nearest(each)))


def _nearest(layout: Division) -> float:
    away = layout.from_cutouts
    return float(away.mm) if away is not None else 0.0


def _places(run: Run) -> list[Length]:
    """Even pieces, the longest that a slab gives from either end, as near a cut-out as is allowed, proposals."""
    places = {run.length * part / (run.seams + 1) for part in range(1, run.seams + 1)}
    for count in range(1, run.seams + 1):
        places |= {run.slab_length * count, run.length - run.slab_length * count}
    for cutout in run.cutouts:
        places |= {cutout.left - run.to_cutout, cutout.right + run.to_cutout}
    within = Length.of_mm(0)
    return sorted(at for at in places | set(run.proposed) if within < at < run.length)


def _layout(run: Run, seams: tuple[Length, ...]) -> SeamLayout:
    pieces = tuple(Piece(left, right, weight(right - left, run.depth, run.thickness, run.density))
                   for left, right in pairwise((Length.of_mm(0, run.length.unit), *seams, run.length)))
    checks = (*_piece_checks(run, pieces), *(each for at in seams for each in _seam_checks(run, at)))
    return SeamLayout(run, seams, pieces, checks)


def _piece_checks(run: Run, pieces: tuple[Piece, ...]) -> tuple[Check, ...]:
    lengths = (check(words.LENGTH_OUT, words.piece(number), piece.length, AT_MOST, run.slab_length)
               for number, piece in enumerate(pieces, 1))
    return (*lengths, check(words.DEPTH_OUT, words.ALL_PIECES, run.depth, AT_MOST, run.slab_depth))


def _seam_checks(run: Run, at: Length) -> tuple[Check, ...]:
    checks = [check(words.TO_CUTOUT, words.seam_and(at, each.name), each.away(at), AT_LEAST, run.to_cutout, run.source)
              for each in run.cutouts]
    if run.dishwasher:
        away, none = run.dishwasher.away(at), Length.of_mm(0, at.unit)
        checks.append(check(words.OFF_DISHWASHER, words.seam_at(at), away, AT_LEAST, none, DRAWING))
    return tuple(checks)
