"""One overhang in numbers: how deep, on what, and where its brackets stand."""

from dataclasses import dataclass

from portal.layouts.check import GIVEN, Check
from portal.layouts.keys import joined, place
from portal.layouts.layout import Layout
from portal.layouts.length import Length
from portal.layouts.overhang.dimensions import KIND, Overhang
from portal.layouts.stone.tipping import lifting_load
from portal.layouts.stone.weights import Heft, Weight, lightest


@dataclass(frozen=True)
class Reach(Layout):
    """`depth`: past the cabinets. `bracket_marks`: from the left end of the edge; none when the stone stands alone."""

    dimensions: Overhang
    depth: Length
    checks: tuple[Check, ...]
    bracket_marks: tuple[Length, ...]

    @property
    def key(self) -> str:
        """Name it by its depth and by what carries it, such as `overhang:304.8mm:brackets`."""
        return joined(KIND, place(self.depth), "brackets" if self.supported else "")

    @property
    def supported(self) -> bool:
        """Say whether it stands on brackets."""
        return bool(self.bracket_marks)

    @property
    def brackets(self) -> int:
        """Count its brackets."""
        return len(self.bracket_marks)

    @property
    def width(self) -> Length:
        """Give the whole width of the top at this depth."""
        return self.dimensions.base + self.depth

    @property
    def past(self) -> Length:
        """Say how far the top reaches past what carries it, cabinets or brackets."""
        brackets = self.dimensions.brackets if self.supported else None
        return max(self.depth - brackets.reach, Length.of_mm(0, self.depth.unit)) if brackets else self.depth

    @property
    def light(self) -> Heft | None:
        """Give what it is weighed with as it holds itself down; None where nobody says what it is made of."""
        found = self.dimensions
        return lightest(found.material, found.density, found.thickness, GIVEN)

    @property
    def lifted_by(self) -> Weight | None:
        """Give the load at the edge that lifts it when it lies loose; negative when it falls by itself. None where it
        reaches past nothing, or nobody says what it is made of."""
        top = self.light
        return lifting_load(top.weigh(self.dimensions.length, self.width), self.width, self.past) if top else None
