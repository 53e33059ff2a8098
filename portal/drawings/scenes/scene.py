"""The one description of a drawing: lines, circles, words and dimensions in millimetres, each with its meaning.

x grows to the right and y away from the person who stands in front, as on a floor plan or a DXF sheet. A scene knows
nothing of paper or screens: the size of words and the rows of dimension lines are found when it is set out.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, fields
from enum import StrEnum

from portal.drawings.scenes.layers import Layer

Point = tuple[float, float]


class SceneError(ValueError):
    """A scene that can't be drawn; the message names the field and what to do."""


class Side(StrEnum):
    """On which side of its point a label stands, or of the drawing a dimension line runs."""

    ABOVE = "above"
    BELOW = "below"
    LEFT = "left"
    RIGHT = "right"
    CENTER = "center"


@dataclass(frozen=True)
class Box:
    """An upright rectangle by its outer limits, in mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Give how wide it is, in mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Give how high it is, in mm."""
        return self.top - self.bottom

    def grown(self, by: float) -> "Box":
        """Give the box with `by` mm added on every side."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    @staticmethod
    def around(points: Iterable[Point]) -> "Box":
        """Find the smallest box that holds all points; there must be at least one."""
        xs, ys = zip(*points, strict=True)
        return Box(min(xs), min(ys), max(xs), max(ys))


class _Checked:
    """Refuses numbers that no saw can follow, where they come in."""

    def __post_init__(self) -> None:
        for field in fields(self):  # type: ignore[arg-type]
            value = getattr(self, field.name)
            if isinstance(value, float | int) and not math.isfinite(value):
                raise SceneError(f"{type(self).__name__}.{field.name} is {value}: give a finite number of mm")
            if field.name in {"width", "height", "diameter", "radius"} and value < 0:
                raise SceneError(f"{type(self).__name__}.{field.name} is {value}: give a size that isn't negative")


@dataclass(frozen=True)
class Line(_Checked):
    """A straight line. `note` is its name, for which there is room only on the full-size template."""

    layer: Layer
    x1: float
    y1: float
    x2: float
    y2: float
    note: str = ""

    def limits(self) -> list[Point]:
        """Give points, in mm, whose box holds all of it."""
        return [(self.x1, self.y1), (self.x2, self.y2)]


@dataclass(frozen=True)
class Polyline:
    """Straight lines from point to point, back to the first if `closed`."""

    layer: Layer
    points: tuple[Point, ...]
    closed: bool = False

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise SceneError("Polyline.points has fewer than two points: give at least two")

    def limits(self) -> list[Point]:
        """Give points, in mm, whose box holds all of it."""
        return list(self.points)


@dataclass(frozen=True)
class Rect(_Checked):
    """An upright rectangle from its lower left corner; `radius` rounds all four corners. `note` names its outline on
    the full-size template."""

    layer: Layer
    x: float
    y: float
    width: float
    height: float
    radius: float = 0.0
    note: str = ""

    def limits(self) -> list[Point]:
        """Give points, in mm, whose box holds all of it."""
        return [(self.x, self.y), (self.x + self.width, self.y + self.height)]

    @property
    def narrow(self) -> float:
        """Give its short side, in mm."""
        return min(self.width, self.height)

    def corners(self) -> tuple[Point, ...]:
        """Give its corners as if they were square, from the lower left one, counter-clockwise."""
        right, top = self.x + self.width, self.y + self.height
        return ((self.x, self.y), (right, self.y), (right, top), (self.x, top))


@dataclass(frozen=True)
class Circle(_Checked):
    """A circle by its center; `center_mark` adds the cross that a drill bit is set on.

    `note` says what it is for and how wide; there is room for it only on the full-size template.
    """

    layer: Layer
    x: float
    y: float
    diameter: float
    center_mark: bool = False
    note: str = ""

    def limits(self) -> list[Point]:
        """Give points, in mm, whose box holds all of it."""
        r = self.diameter / 2
        return [(self.x - r, self.y - r), (self.x + r, self.y + r)]


@dataclass(frozen=True)
class Center(_Checked):
    """Where to drill a hole that is too small to draw: a cross, and a point for a machine.

    `drill` is its diameter, 0 when the part in hand decides that.
    """

    layer: Layer
    x: float
    y: float
    note: str = ""
    drill: float = 0.0

    def limits(self) -> list[Point]:
        """Give points, in mm, whose box holds all of it."""
        r = self.diameter / 2
        return [(self.x - r, self.y - r), (self.x + r, self.y + r)]

    @property
    def diameter(self) -> float:
        """Give the room that its cross takes, in mm."""
        return 12.0


@dataclass(frozen=True)
class Hatch:
    """A closed outline filled with slanting lines: what is solid and not to be cut."""

    points: tuple[Point, ...]

    def limits(self) -> list[Point]:
        """Give points, in mm, whose box holds all of it."""
        return list(self.points)


@dataclass(frozen=True)
class Label(_Checked):
    """Words at a point."""

    x: float
    y: float
    text: str
    side: Side = Side.CENTER

    def limits(self) -> list[Point]:
        """Give points, in mm, whose box holds all of it."""
        return [(self.x, self.y)]


@dataclass(frozen=True)
class Dimension(_Checked):
    """A measured distance with its words, drawn in a row of its own outside the drawing.

    `side` ABOVE or BELOW measures along x, LEFT or RIGHT along y.
    """

    x1: float
    y1: float
    x2: float
    y2: float
    text: str
    side: Side = Side.BELOW

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.side is Side.CENTER:
            raise SceneError("Dimension.side is center: give above, below, left or right")

    @property
    def along_x(self) -> bool:
        """Say whether it measures from left to right; otherwise it measures up."""
        return self.side in {Side.ABOVE, Side.BELOW}

    def limits(self) -> list[Point]:
        """Give points, in mm, whose box holds all of it."""
        return [(self.x1, self.y1), (self.x2, self.y2)]


@dataclass(frozen=True)
class Bar(_Checked):
    """A straight distance between two holes, with its words: drawn only on the full-size template, beside the holes by
    `aside` mm, to be held against the work with a rule."""

    x1: float
    y1: float
    x2: float
    y2: float
    text: str
    aside: float = 0.0

    def limits(self) -> list[Point]:
        """Give points, in mm, whose box holds all that is measured."""
        return [(self.x1, self.y1), (self.x2, self.y2)]

    @property
    def ends(self) -> tuple[Point, Point]:
        """Give where its two ends are drawn: square to the line through the holes, to the left of it as one goes."""
        long = math.hypot(self.x2 - self.x1, self.y2 - self.y1) or 1.0
        dx, dy = (self.y1 - self.y2) / long * self.aside, (self.x2 - self.x1) / long * self.aside
        return (self.x1 + dx, self.y1 + dy), (self.x2 + dx, self.y2 + dy)


Item = Line | Polyline | Rect | Circle | Center | Hatch | Label | Dimension | Bar


@dataclass(frozen=True)
class Scene:
    """A drawing: `title` names it, `description` says in words all that the lines say."""

    title: str
    description: str
    items: tuple[Item, ...]

    def __post_init__(self) -> None:
        if not self.title.strip() or not self.description.strip():
            raise SceneError("Scene.title and Scene.description must say what is drawn: some readers can't see it")
        if not self.items:
            raise SceneError("Scene.items is empty: give at least one thing to draw")

    @property
    def bounds(self) -> Box:
        """Give the limits of everything measured, in mm; words and dimension lines reach further."""
        return Box.around(point for item in self.items for point in item.limits())

    def only(self, *layers: Layer) -> tuple[Item, ...]:
        """Find the drawn items on these layers, in their order."""
        return tuple(i for i in self.items if getattr(i, "layer", None) in layers)
