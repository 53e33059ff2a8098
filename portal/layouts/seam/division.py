"""One way to divide a run, in numbers: its seams, its pieces and what each weighs."""

from dataclasses import dataclass

from portal.layouts.check import Check
from portal.layouts.keys import joined, place
from portal.layouts.layout import Layout
from portal.layouts.length import Length
from portal.layouts.seam.cutouts import Strip
from portal.layouts.seam.dimensions import KIND, Run
from portal.layouts.seam.places import Placing, placing, ways
from portal.layouts.stone.weights import Heft, Weight


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
    """`seams`: from the left end, in order; none for one piece. `pieces`: from left to right, one more than seams.
    `strips`: what is left around cut-outs. `heft`: what the pieces are weighed with."""

    run: Run
    seams: tuple[Length, ...]
    pieces: tuple[Piece, ...]
    strips: tuple[Strip, ...]
    heft: Heft
    checks: tuple[Check, ...]

    @property
    def key(self) -> str:
        """Name it by its seams, such as `seam:1219.2mm`, or `seam:none`."""
        return joined(KIND, ",".join(place(at) for at in self.seams) or "none")

    @property
    def from_cutouts(self) -> Length | None:
        """Say how far the nearest seam is from a cut-out; None where there is no seam or no cut-out."""
        return min((cutout.away(at) for at in self.seams for cutout in self.run.cutouts), default=None)

    @property
    def one_more(self) -> bool:
        """Say whether the run takes one piece more than the slab alone asks for."""
        found = placing(self.run)
        return found is not None and found.seams > self.run.seams

    @property
    def placing(self) -> Placing | None:
        """Give the ways to place so many seams, of which this one is one; None where it isn't, or has no seam."""
        seams = [at.mm for at in self.seams]
        found = (ways(self.run, len(seams), strict) for strict in (True, False)) if seams else ()
        return next((each for each in found if each and each.holds(seams)), None)

    @property
    def places(self) -> tuple[tuple[tuple[Length, Length], ...], ...]:
        """Give for each seam from where to where it may stand so that the others still can; empty where they can't."""
        unit = self.run.length.unit
        return tuple(tuple((Length.of_mm(low, unit), Length.of_mm(high, unit)) for low, high in ours)
                     for ours in (self.placing.places if self.placing else ()))

    @property
    def alone(self) -> tuple[tuple[tuple[Length, Length], ...], ...]:
        """Give for each seam from where to where it may stand while the others stay; empty where they don't fit."""
        found, unit = self.placing, self.run.length.unit
        each = found.alone([at.mm for at in self.seams]) if found else ()
        return tuple(tuple((Length.of_mm(low, unit), Length.of_mm(high, unit)) for low, high in ours) for ours in each)

    @property
    def nearest(self) -> tuple[Length, ...] | None:
        """Give the seams near its own that keep every distance; None where the run can't be divided so that they do.
        With other than its own number of seams they stand as even as can be."""
        found = placing(self.run)
        if found is None:
            return None
        wanted = [at.mm for at in self.seams]
        if len(wanted) != found.seams:
            wanted = [self.run.length.mm * number / (found.seams + 1) for number in range(1, found.seams + 1)]
        return tuple(Length.of_mm(at, self.run.length.unit) for at in found.near(wanted))
