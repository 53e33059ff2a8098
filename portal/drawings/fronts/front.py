"""The one description of a front view: strokes, discs and words in picture units, y down, each with its look.

A picture is 320 units wide, so that a stroke of 2.5 reads on a phone. `Frame` says where millimetres of the kept layout
lie in it: one scale both ways.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

WIDE, LOW, HIGH, CARD = 320.0, 172.0, 228.0, 84.0
"""Picture units: how wide a scene is, how high one is, how high one is with wall above it that a phone may cut off, and
how wide and high the small picture on a card is."""
OUTLINE, FIRM, FAT = 2.5, 4.0, 6.0
"""Pens: the outline of what stands, and what is seen before it as a silhouette."""
LETTER = 8.5
"""Most room, in units, that a letter takes in the widest font that a phone falls back to."""


@dataclass(frozen=True)
class Stroke:
    """A path of SVG's path data. `look`: names of looks from the style sheet, such as `fs` (filled as stone), `hid`
    (dashed), `thin`. `width`: of its pen, 0 for that of its look."""

    d: str
    look: str = ""
    width: float = 0.0


@dataclass(frozen=True)
class Disc:
    """A circle by its center."""

    x: float
    y: float
    r: float
    look: str = "f"


@dataclass(frozen=True)
class Word:
    """Lettering with its baseline at y. `anchor`: which of its parts stands at x: start, middle, end. `look`: `w` on
    wood, else on the wall; what runs behind it ends before it."""

    x: float
    y: float
    text: str
    anchor: str = "middle"
    look: str = ""

    @property
    def limits(self) -> tuple[float, float]:
        """Give from where to where it may reach, in the widest font."""
        room = LETTER * len(self.text)
        left = self.x - {"start": 0.0, "middle": room / 2, "end": room}[self.anchor]
        return left, left + room


Shape = Stroke | Disc | Word


@dataclass(frozen=True)
class Front:
    """A front view. `title` says all that it shows. `scale`: what of it is to scale and what is only drawn in."""

    title: str
    scale: str
    shapes: tuple[Shape, ...]
    width: float = WIDE
    height: float = LOW


@dataclass(frozen=True)
class Frame:
    """Where millimetres lie in a picture: `left` mm is at its left edge, height 0 at `ground` units from its top."""

    left: float
    scale: float
    ground: float

    def x(self, mm: float) -> float:
        """Give where a place along the wall lies, in units."""
        return (mm - self.left) * self.scale

    def y(self, mm: float) -> float:
        """Give where a height lies, in units from the top."""
        return self.ground - mm * self.scale

    def size(self, mm: float) -> float:
        """Give how long so many mm are drawn."""
        return mm * self.scale


def around(low: float, high: float, width: float, ground: float, at: float = 0.0) -> Frame:
    """Give the frame that draws low to high mm over `width` units, from `at` on."""
    scale = width / (high - low)
    return Frame(low - at / scale, scale, ground)


def n(value: float) -> str:
    """Write a coordinate to a tenth of a unit, as short as it can be."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def box(left: float, top: float, right: float, bottom: float) -> str:
    """Give the path of an upright rectangle."""
    return f"M{n(left)} {n(top)}H{n(right)}V{n(bottom)}H{n(left)}z"


def line(x1: float, y1: float, x2: float, y2: float) -> str:
    """Give the path of a straight line."""
    if y1 == y2:
        return f"M{n(x1)} {n(y1)}H{n(x2)}"
    return f"M{n(x1)} {n(y1)}V{n(y2)}" if x1 == x2 else f"M{n(x1)} {n(y1)}L{n(x2)} {n(y2)}"


def basin(left: float, right: float, top: float, bottom: float) -> Stroke:
    """Give a sink below a top: what one can't see is dashed."""
    return Stroke(f"M{n(left)} {n(top)}V{n(bottom - 8)}q0 8 8 8H{n(right - 8)}q8 0 8-8V{n(top)}", "hid")


def dimension(left: float, right: float, y: float) -> Stroke:
    """Give a dimension line with its slashes."""
    slashes = "".join(f"M{n(x - 4)} {n(y + 4)}l8-8" for x in (left, right))
    return Stroke(line(left, y, right, y) + slashes, "dim")


def within(word: Word, left: float = 4.0, right: float = WIDE - 4.0) -> Word:
    """Move a word in, where it would run out of the picture."""
    low, high = word.limits
    by = max(left - low, 0.0) or min(right - high, 0.0)
    return replace(word, x=word.x + by)


def span(values: Iterable[float]) -> tuple[float, float]:
    """Give the least and the most; there must be at least one."""
    every: Sequence[float] = sorted(values)
    return every[0], every[-1]
