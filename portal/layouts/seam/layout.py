"""The ways to divide a run, checked and ranked.

No rule says where a seam must be (NSI manual); the distance to cut-outs is the fabricator's.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Any, ClassVar

from portal.layouts.check import GIVEN, Check
from portal.layouts.layout import Mark, Words
from portal.layouts.length import Length
from portal.layouts.seam import words
from portal.layouts.seam.candidates import candidates
from portal.layouts.seam.checks import division_checks, run_checks
from portal.layouts.seam.cutouts import Strip, strips
from portal.layouts.seam.dimensions import Run
from portal.layouts.seam.division import Division, Piece
from portal.layouts.stone.weights import Heft, heft


class SeamLayout(Division):
    """A way to divide a run, in the words of `seam.words`."""

    words: ClassVar[Words] = words

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Give each seam from the left end."""
        return tuple(Mark(words.seam(number), words.LEFT_END, at) for number, at in enumerate(self.seams, 1))

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it; `pieces` from left to right, by length, weight and who carries it (None: a
        machine). `places`: for each seam where it may stand so that the others still can; empty where they can't."""
        pieces = [{"length": piece.length.to_json(), "weight": piece.weight.to_json(), "people": piece.weight.people}
                  for piece in self.pieces]
        return super().to_json() | {
            "pieces": pieces, "places": [[[end.to_json() for end in each] for each in ours] for ours in self.places],
            "strips": [{"between": list(each.sides), "width": each.wide.to_json()} for each in self.strips],
        }


def layouts(run: Run) -> list[SeamLayout]:
    """Find the fewest seams that the slab and the distances allow, one more where the fewest don't fit, and answer
    each that is proposed.

    What passes comes first, then fewer seams, then the seam that keeps the furthest from every cut-out, then the
    shortest of the longest pieces.
    """
    left = strips(run.cutouts, run.length, run.depth)
    heaviest = heft(run.material, run.density, run.thickness, run.thicker, GIVEN)
    same = run_checks(run, left)
    found = (_layout(run, seams, left, heaviest, same) for seams in candidates(run))
    return sorted(found, key=lambda each: (*each.faults, len(each.seams), -_nearest(each), _longest(each)))


def _nearest(layout: Division) -> float:
    away = layout.from_cutouts
    return float(away.mm) if away is not None else 0.0


def _longest(layout: Division) -> float:
    return float(max(piece.length.mm for piece in layout.pieces))


def _layout(run: Run, seams: tuple[Length, ...], left: tuple[Strip, ...], heaviest: Heft,
            same: Sequence[Check]) -> SeamLayout:
    pieces = tuple(Piece(one, other, heaviest.weigh(other - one, run.depth))
                   for one, other in pairwise((Length.of_mm(0, run.length.unit), *seams, run.length)))
    checks = (*division_checks(run, seams, [piece.length for piece in pieces]), *same)
    return SeamLayout(run, seams, pieces, left, heaviest, checks)
