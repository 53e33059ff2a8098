"""What keeps a hole where it is. A limit measures a place, cuts a zone, and tells where along a row it is kept.

Each measures an exact distance, so that its margin is also how far the hole may drift, whichever way, before it breaks.
All numbers in mm.
"""

from dataclasses import dataclass, replace
from math import inf
from typing import ClassVar, Protocol

from portal.layouts.check import AT_LEAST, AT_MOST, GEOMETRY, Check, Measure
from portal.layouts.deck.rules.distances import Rounded, away_from, to_area, within
from portal.layouts.deck.rules.outlines import Outline, cut, near
from portal.layouts.length import Unit


class Limit(Protocol):
    """What one place must keep. `bent`: whether it cuts a zone along a curve; straight cuts come first, they are cheap
    and often leave nothing for the others to cut."""

    bent: ClassVar[bool]

    def check(self, x: float, y: float, unit: Unit) -> Check:
        """Measure a place against it."""

    def trim(self, outline: Outline, x: float, y: float) -> Outline:
        """Keep of a zone about a place only what keeps it; a straight cut, so nothing that breaks it is left."""

    def allowed(self, y: float) -> tuple[float, float]:
        """Give the stretch of a row outside which it is broken; empty, the ends turned, where it is all broken."""

    def blocked(self, y: float) -> tuple[float, float] | None:
        """Give the stretch of a row inside which it is broken; None where none is."""

    def roomy(self, by: float) -> "Limit":
        """Give what must be kept so that the place may drift so far, and it still is."""

    def turned(self) -> "Limit":
        """Give the same with x and y changed for each other: what it leaves of a row is then what it leaves across."""


@dataclass(frozen=True, slots=True)
class Inside:
    """A circle of radius `taken` stays `least` inside of a box, whose sides may be infinitely far."""

    bent: ClassVar[bool] = False

    what: Measure
    about: str
    taken: float
    least: float = 0.0
    source: str = GEOMETRY
    left: float = -inf
    right: float = inf
    front: float = -inf
    back: float = inf

    def check(self, x: float, y: float, unit: Unit) -> Check:
        """Measure from the circle to the nearest side."""
        room = min(x - self.left, self.right - x, y - self.front, self.back - y)
        return Check(self.what, self.about, round(room - self.taken, 6), round(self.least, 6), AT_LEAST, self.source,
                     unit)

    def trim(self, outline: Outline, x: float, y: float) -> Outline:
        """Cut along each side that is anywhere."""
        need = self.taken + self.least
        for across, deep, most in ((-1, 0, -self.left), (1, 0, self.right), (0, -1, -self.front), (0, 1, self.back)):
            if most < inf:
                outline = cut(outline, across, deep, most - need)
        return outline

    def allowed(self, y: float) -> tuple[float, float]:
        """Give what lies between left and right; nothing on a row that is too near front or back."""
        need = self.taken + self.least
        if round(min(y - self.front, self.back - y) - need, 6) < 0:
            return inf, -inf
        return self.left + need, self.right - need

    def blocked(self, y: float) -> None:
        """Give nothing: it is `allowed` that says it."""

    def roomy(self, by: float) -> "Inside":
        """Give it with so much more to keep."""
        return replace(self, least=self.least + by)

    def turned(self) -> "Inside":
        """Give it with left and right for front and back."""
        return replace(self, left=self.front, right=self.back, front=self.left, back=self.right)


@dataclass(frozen=True, slots=True)
class Off:
    """A circle of radius `taken` stays `least` off a rectangle."""

    bent: ClassVar[bool] = False

    what: Measure
    about: str
    area: Rounded
    taken: float
    least: float = 0.0
    source: str = GEOMETRY

    def check(self, x: float, y: float, unit: Unit) -> Check:
        """Measure from the circle to the rectangle."""
        away = to_area(x, y, self.area)
        return Check(self.what, self.about, round(away - self.taken, 6), round(self.least, 6), AT_LEAST, self.source,
                     unit)

    def trim(self, outline: Outline, x: float, y: float) -> Outline:
        """Cut across the shortest way to the rectangle."""
        return _off(outline, x, y, self.area, self.taken + self.least)

    def allowed(self, y: float) -> tuple[float, float]:
        """Give the whole row."""
        return -inf, inf

    def blocked(self, y: float) -> tuple[float, float] | None:
        """Give what is too near."""
        return within(y, self.area, self.taken + self.least)

    def roomy(self, by: float) -> "Off":
        """Give it with so much more to keep."""
        return replace(self, least=self.least + by)

    def turned(self) -> "Off":
        """Give it with its rectangle turned."""
        return replace(self, area=_turned(self.area))


@dataclass(frozen=True, slots=True)
class Reach:
    """A spout reaches a rectangle from its center."""

    bent: ClassVar[bool] = True

    what: Measure
    about: str
    area: Rounded
    reach: float
    source: str

    def check(self, x: float, y: float, unit: Unit) -> Check:
        """Hold the reach against the distance."""
        away = max(to_area(x, y, self.area), 0.0)
        return Check(self.what, self.about, round(self.reach, 6), away, AT_LEAST, self.source, unit)

    def trim(self, outline: Outline, x: float, y: float) -> Outline:
        """Cut off what is too far."""
        return near(outline, self.area, self.reach, x, y)

    def allowed(self, y: float) -> tuple[float, float]:
        """Give what is near enough."""
        return within(y, self.area, self.reach) or (inf, -inf)

    def blocked(self, y: float) -> None:
        """Give nothing: it is `allowed` that says it."""

    def roomy(self, by: float) -> "Reach":
        """Give it with so much more to keep."""
        return replace(self, reach=self.reach - by)

    def turned(self) -> "Reach":
        """Give it with its rectangle turned."""
        return replace(self, area=_turned(self.area))


@dataclass(frozen=True, slots=True)
class NotPast:
    """A spout does not reach past a line, given as a rectangle without depth."""

    bent: ClassVar[bool] = False

    what: Measure
    about: str
    area: Rounded
    reach: float
    source: str

    def check(self, x: float, y: float, unit: Unit) -> Check:
        """Hold the reach against the distance."""
        return Check(self.what, self.about, round(self.reach, 6), to_area(x, y, self.area), AT_MOST, self.source, unit)

    def trim(self, outline: Outline, x: float, y: float) -> Outline:
        """Cut across the shortest way to the line."""
        return _off(outline, x, y, self.area, self.reach)

    def allowed(self, y: float) -> tuple[float, float]:
        """Give the whole row."""
        return -inf, inf

    def blocked(self, y: float) -> tuple[float, float] | None:
        """Give what is too near the line."""
        return within(y, self.area, self.reach)

    def roomy(self, by: float) -> "NotPast":
        """Give it with so much more to keep."""
        return replace(self, reach=self.reach + by)

    def turned(self) -> "NotPast":
        """Give it with its line turned."""
        return replace(self, area=_turned(self.area))


@dataclass(frozen=True, slots=True)
class Apart:
    """Two places, by their number among the holes of one thing and of the other, stay `taken` and `least` apart; with
    `most` no further than that from each other."""

    what: Measure
    about: str
    one: int
    other: int
    taken: float
    least: float
    source: str = GEOMETRY
    most: bool = False

    def check(self, apart: float, unit: Unit) -> Check:
        """Hold the distance of the two places, less what is taken, against the limit."""
        return Check(self.what, self.about, round(apart - self.taken, 6), round(self.least, 6),
                     AT_MOST if self.most else AT_LEAST, self.source, unit)

    @property
    def centers(self) -> float:
        """Give the limit from center to center."""
        return self.taken + self.least


def _turned(area: Rounded) -> Rounded:
    x, y, half_width, half_depth, corner = area
    return y, x, half_depth, half_width, corner


def _off(outline: Outline, x: float, y: float, area: Rounded, least: float) -> Outline:
    across, deep = away_from(x, y, area)
    # Never past the place itself: a tie that rounding took the wrong way is still a tie.
    over = max(to_area(x, y, area) - least, 0.0)
    return cut(outline, -across, -deep, over - across * x - deep * y)
