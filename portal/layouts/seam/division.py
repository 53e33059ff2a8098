"""One way to divide a run, in numbers: its seams, its pieces and what each weighs."""

from dataclasses import dataclass

from portal.layouts.check import Check
from portal.layouts.keys import joined, place
from portal.layouts.layout import Layout
from portal.layouts.length import Length
from portal.layouts.seam.dimensions import KIND, Run
from portal.layouts.stone import Weight


@dataclass(frozen=True)
class Piece:
    """A piece of the top, and its weight before cut-outs are taken from it: the heaviest that anyone lifts."""

    left: Length
    right: Length
    weight: Weight

    @property
    def length(self) -> Length:
        """Give its length along the run."""
        return self.right - self.left


@dataclass(frozen=True)
class Division(Layout):
    """`seams`: from the left end, in order; none for one piece. `pieces`: from left to right, one more than seams."""

    run: Run
    seams: tuple[Length, ...]
    pieces: tuple[Piece, ...]
    checks: tuple[Check, ...]

    @property
    def key(self) -> str:
        """Name it by its seams, such as `seam:1219.2mm`, or `seam:none`."""
        return joined(KIND, ",".join(place(at) for at in self.seams) or "none")

    @property
    def from_cutouts(self) -> Length | None:
        """Say how far the nearest seam is from a cut-out; None where there is no seam or no cut-out."""
        return min((cutout.away(at) for at in self.seams for cutout in self.run.cutouts), default=None)
