"""The overhangs that the dimensions suggest, checked and ranked."""

from typing import Any, ClassVar

from portal.layouts.layout import Mark, Words
from portal.layouts.length import Length
from portal.layouts.overhang import words
from portal.layouts.overhang.checks import all_checks
from portal.layouts.overhang.dimensions import Overhang
from portal.layouts.overhang.reach import Reach


class OverhangLayout(Reach):
    """A way to reach past the cabinets, in the words of `overhang.words`."""

    words: ClassVar[Words] = words

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Give each bracket by the side of it that one marks, from the left end of the edge."""
        names = words.bracket_names(self.brackets)
        return tuple(Mark(name, words.LEFT_END, at) for name, at in zip(names, self.bracket_marks, strict=True))

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it. `overhang`: the depth; `brackets`: how many."""
        return super().to_json() | {
            "marks": [mark.to_json() for mark in self.marks], "overhang": self.depth.to_json(),
            "brackets": self.brackets,
        }


def layouts(found: Overhang) -> list[OverhangLayout]:
    """Find it as wanted and as deep as stone can do alone, both without support; as wanted and as knees want, on
    brackets.

    What passes comes first, then what is nearest to the wanted depth, then what needs no brackets.
    """
    answers = [_layout(found, depth, supported) for depth, supported in _candidates(found)]
    return sorted(answers, key=lambda each: (*each.faults, abs(each.depth - found.wanted), each.brackets))


def _candidates(found: Overhang) -> list[tuple[Length, bool]]:
    depths = [(found.wanted, False)]
    if found.alone.mm and found.alone != found.wanted:
        depths.append((found.alone, False))
    if found.brackets:
        depths.append((found.wanted, True))
        knees = found.seats.depth if found.seats else None
        if knees and knees != found.wanted:
            depths.append((knees, True))
    return depths


def _layout(found: Overhang, depth: Length, supported: bool) -> OverhangLayout:
    marks = _bracket_marks(found) if supported else ()
    return OverhangLayout(found, depth, all_checks(found, depth, supported), marks)


def _bracket_marks(found: Overhang) -> tuple[Length, ...]:
    """One at each end and as many between as their spacing asks for, evenly."""
    assert found.brackets
    gaps = int(-(-found.length.mm // found.brackets.spacing.mm))
    return tuple(found.length * number / gaps for number in range(gaps + 1))
