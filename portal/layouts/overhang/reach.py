"""One overhang in numbers: how deep, on what, and where its brackets stand."""

from dataclasses import dataclass

from portal.layouts.check import Check
from portal.layouts.keys import joined, place
from portal.layouts.layout import Layout
from portal.layouts.length import Length
from portal.layouts.overhang.dimensions import KIND, Overhang


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
