"""The overhangs that the dimensions suggest, checked and ranked."""

from collections.abc import Iterator
from typing import Any, ClassVar

from portal.layouts.layout import Mark, Words
from portal.layouts.length import Length
from portal.layouts.overhang import words
from portal.layouts.overhang.brackets import standing, widest_apart
from portal.layouts.overhang.checks import all_checks
from portal.layouts.overhang.dimensions import Overhang
from portal.layouts.overhang.limits import deepest_alone
from portal.layouts.overhang.reach import Reach


class OverhangLayout(Reach):
    """A way to reach past the cabinets, in the words of `overhang.words`."""

    words: ClassVar[Words] = words

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Give each bracket by the side of it that one marks, from the left end of the edge."""
        names = words.bracket_names(self.bracket_marks, self.dimensions.length)
        return tuple(Mark(name, words.LEFT_END, at) for name, at in zip(names, self.bracket_marks, strict=True))

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it. `overhang`: the depth; `brackets`: how many; `lifted_by`: what load at the
        edge lifts it when it lies loose, None where that is not known."""
        lifted = self.lifted_by
        return super().to_json() | {
            "overhang": self.depth.to_json(), "brackets": self.brackets,
            "lifted_by": lifted.to_json() | {"text": lifted.low} if lifted else None,
        }


def layouts(found: Overhang) -> list[OverhangLayout]:
    """Find it as wanted and as deep as stone can do alone, both without support; as wanted, as knees want and as deep
    as they allow, on brackets.

    What passes comes first, then what is nearest to the wanted depth, then what needs no brackets.
    """
    answers = [_layout(found, depth, supported) for depth, supported in dict.fromkeys(_candidates(found))]
    return sorted(answers, key=lambda each: (*each.faults, abs(each.depth - found.wanted), each.brackets))


def _candidates(found: Overhang) -> Iterator[tuple[Length, bool]]:
    yield found.wanted, False
    alone = deepest_alone(found)
    if alone.mm:
        yield alone, False
    if found.brackets is None:
        return
    yield found.wanted, True
    if found.seats:
        yield found.seats.depth, True
    most = deepest_alone(found, found.brackets.reach)
    if most < found.wanted:
        yield most, True


def _layout(found: Overhang, depth: Length, supported: bool) -> OverhangLayout:
    apart = widest_apart(found)
    marks = standing(found, depth, apart) if supported and apart else ()
    return OverhangLayout(found, depth, all_checks(found, depth, marks), marks)
