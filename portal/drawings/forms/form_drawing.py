"""The one description of a form's picture: where each length is written, what is picked from what is kept, which folds
hold the rest, and how it is drawn from what is known so far.

Places are in units of the picture, y down. What is not given yet is dashed; once it is, it is solid and stands where it
was measured, along one direction at most: such a picture says of itself that it is not to scale.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from portal.drawings.fronts.front import LETTER, Shape, Stroke, Word, line, n

WIDE = 360.0
LEFT, RIGHT = 30.0, 330.0
"""Between which units a wall, a top or a run lies."""

Known = Mapping[str, float]
"""What is typed and can be read, by its dotted path, in mm."""


@dataclass(frozen=True)
class Spot:
    """Where the input of a blank stands: its dotted path, and the middle of the input in units."""

    path: str
    x: float
    y: float


@dataclass(frozen=True)
class Listed:
    """A list that stands open: of the group at `path`, what is picked there, and how the list is called."""

    path: str
    what: str
    label: str


@dataclass(frozen=True)
class Fold:
    """Blanks that stand folded under one title: all below one of `paths`. `of`: it holds the sizes of this thing, which
    is picked from a list, and stands below the lists."""

    title: str
    paths: tuple[str, ...]
    of: str = ""

    def holds(self, path: str) -> bool:
        """Say whether the blank at this path is one of its own."""
        return any(path == one or path.startswith(f"{one}.") for one in self.paths)


@dataclass(frozen=True)
class FormDrawing:
    """The picture of a kind's form. `says`: from where it is seen, and that it is not to scale."""

    says: str
    height: float
    spots: tuple[Spot, ...]
    lists: tuple[Listed, ...]
    folds: tuple[Fold, ...]
    draw: Callable[[Known], tuple[Shape, ...]]

    def spot(self, path: str) -> Spot | None:
        """Give where the blank at this path is written; None where it is folded."""
        return next((one for one in self.spots if one.path == path), None)

    def percent(self, spot: Spot) -> tuple[int, int]:
        """Give where a spot lies, in whole percent of the picture from its left and its top."""
        return round(100 * spot.x / WIDE), round(100 * spot.y / self.height)


@dataclass(frozen=True)
class Along:
    """Places along one length of `whole` mm, drawn from LEFT to RIGHT; not given, they lie where they usually do."""

    known: Known
    whole: str

    def at(self, path: str, usual: float) -> float:
        """Give where a place lies: as measured where that and the whole are known, else at its `usual` share."""
        whole, place = self.known.get(self.whole, 0.0), self.known.get(path)
        share = place / whole if whole and place is not None else usual
        return LEFT + (RIGHT - LEFT) * min(max(share, 0.0), 1.0)

    def span(self, start: str, length: str, usual: tuple[float, float]) -> tuple[float, float]:
        """Give where something begins and ends whose start and length are measured; at least 12 units wide."""
        left = min(self.at(start, usual[0]), RIGHT - 12)
        wide = self.at(length, usual[1]) - LEFT
        return left, min(max(left + wide, left + 12), RIGHT)


def look(known: Known, look: str, *paths: str) -> str:
    """Give the look of something: dashed while one of these is not known."""
    return look if all(path in known for path in paths) else f"{look} hid".strip()


def across(left: float, right: float, y: float) -> Stroke:
    """Give a dimension line along the picture, with its slashes."""
    return Stroke(line(left, y, right, y) + "".join(f"M{n(x - 5)} {n(y + 5)}l10-10" for x in (left, right)), "dim")


def down(x: float, top: float, bottom: float) -> Stroke:
    """Give a dimension line from above downward, with its slashes."""
    return Stroke(line(x, top, x, bottom) + "".join(f"M{n(x - 5)} {n(y + 5)}l10-10" for y in (top, bottom)), "dim")


def upright(x: float, top: float, bottom: float, look: str = "dim") -> Stroke:
    """Give an upright line, such as that from an edge down to its dimension line."""
    return Stroke(line(x, top, x, bottom), look)


def level(left: float, right: float, y: float, look: str = "") -> Stroke:
    """Give a level line."""
    return Stroke(line(left, y, right, y), look)


def wall(y: float) -> tuple[Shape, ...]:
    """Give the wall above a top, hatched."""
    hatch = "".join(f"M{n(x)} {n(y - 3)}l9-9" for x in range(26, 334, 24))
    return Stroke(hatch, "thin"), level(LEFT - 8, RIGHT + 8, y)


def broken(top: float, bottom: float, look: str) -> Stroke:
    """Give a slab from LEFT to RIGHT that is shortened: its ends are break lines."""
    middle, high = (top + bottom) / 2, bottom - top
    ends = (f"M{n(LEFT)} {n(top)}V{n(middle - 10)}l-6 5 12 10-6 5V{n(bottom)}H{n(RIGHT)}"
            f"V{n(middle + 10)}l6-5-12-10 6-5V{n(top)}z")
    return Stroke(ends if high > 40 else f"M{n(LEFT)} {n(top)}H{n(RIGHT)}V{n(bottom)}H{n(LEFT)}z", look)


def lettered(end: float, spot: Spot, text: str) -> Word:
    """Give the name of a length: right of its input and the end of its line, or below where there is no room."""
    x, room = max(end + 8, spot.x + 58), LETTER * len(text)
    return Word(x, spot.y + 6, text, "start") if x + room <= WIDE else Word(end - 6, spot.y + 22, text, "end")
