"""A deck by shapely alone: how much every rule leaves, for any places of its holes. Nothing here is the product's but
the dimensions and the names of what stands where."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, MultiPoint, Point, box
from shapely.geometry.base import BaseGeometry

from portal.layouts.deck.dimensions import Area
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.length import Length

FAR = 1e5
Places = np.ndarray
"""Points of shapely, in mm from the left end and the front edge."""


@dataclass(frozen=True)
class Pair:
    """Two holes by their numbers, and how far apart their centers are at least, or with `most` at most."""

    one: int
    other: int
    apart: float
    most: bool = False

    def spare(self, ones: Places, others: Places) -> float:
        """What is left in the worst case, each of the ones against each of the others."""
        apart = shapely.distance(ones[:, None], others[None, :])
        return float(self.apart - apart.max()) if self.most else float(apart.min() - self.apart)


class Oracle:
    """One layout of a new top. `centers`: its holes as they are planned, the faucet's first."""

    def __init__(self, layout: DeckLayout) -> None:
        self.deck, self.count = layout.deck, layout.faucet_holes
        self.holes = layout.holes
        self.centers = [Point(mm(hole.x), mm(hole.y)) for hole in layout.holes]
        self.items = {item.name: item for item in layout.deck.accessories}
        self.pours = {number: self.bowl(number) for number in range(len(self.holes)) if self.reach(number)}

    def half(self, number: int) -> float:
        return mm(self.holes[number].diameter) / 2

    def flange(self, number: int) -> float:
        return mm(self.holes[number].flange) / 2

    def spare(self, number: int, places: Places) -> np.ndarray:
        """What every rule of one hole for itself leaves at each place, the least of all."""
        return np.min(list(self.each_spare(number, places)), axis=0)

    def each_spare(self, number: int, places: Places) -> Iterator[np.ndarray]:
        deck, least = self.deck, self.deck.minimums
        width, depth, face = mm(deck.top.width), mm(deck.top.depth), mm(deck.top.back_face)
        half, flange = self.half(number), self.flange(number)
        yield off(deck.cutout, places) - half - mm(least.to_cutout)
        yield off(deck.cutout, places) - flange
        yield inside(box(-FAR, -FAR, FAR, depth), places) - half - mm(least.to_back)
        yield inside(box(0, 0, width, FAR), places) - half - mm(least.to_edge)
        yield inside(box(-FAR, -FAR, FAR, face), places) - flange
        yield inside(box(0, 0, width, FAR), places) - flange
        if deck.cabinet and least.to_cabinet_side is not None:
            cabinet = box(mm(deck.cabinet.left), -FAR, mm(deck.cabinet.right), FAR)
            yield inside(cabinet, places) - half - mm(least.to_cabinet_side)
        for area in deck.underneath:
            yield off(area, places) - half - mm(least.to_underneath)
        if number < self.count and deck.faucet.clearance_behind:
            yield inside(box(-FAR, -FAR, FAR, face), places) - mm(deck.faucet.clearance_behind)
        if number in self.pours:
            yield from self.water(number, self.pours[number], places)

    def water(self, number: int, bowl: Area, places: Places) -> Iterator[np.ndarray]:
        """Reach and landing: the spout straight to the front, or turned to the bowl where it stands beside it."""
        reach, margin = self.reach(number), self.deck.minimums.into_bowl
        if margin is None or not self.is_water(number):
            yield reach - np.maximum(off(bowl, places), 0)
            return
        left, right = mm(bowl.left + margin), mm(bowl.left + bowl.width - margin)
        near, far = mm(bowl.front + bowl.depth - margin), mm(bowl.front + margin)
        yield reach - shapely.distance(LineString([(left, near), (right, near)]), places)
        yield shapely.distance(LineString([(left, far), (right, far)]), places) - reach

    def bowl(self, number: int) -> Area:
        """The bowl that the water suits best where the hole is planned."""
        here = np.array([self.centers[number]])
        return max(self.deck.bowls, key=lambda bowl: float(np.min(list(self.water(number, bowl, here)))))

    def reach(self, number: int) -> float:
        """Of the spout, which stands in the middle; 0 where there is none."""
        if number >= self.count:
            return mm(self.items[self.holes[number].name].reach)
        return mm(self.deck.faucet.reach) if number == self.count // 2 else 0.0

    def is_water(self, number: int) -> bool:
        return number < self.count or self.items[self.holes[number].name].use in ("filtered_water", "hot_water")

    def pairs(self) -> Iterator[Pair]:
        """Every rule of two holes."""
        faucet, count = self.deck.faucet, self.count
        for one in range(len(self.holes)):
            for other in range(one + 1, len(self.holes)):
                halves, flanges = self.half(one) + self.half(other), self.flange(one) + self.flange(other)
                yield Pair(one, other, max(halves + mm(self.deck.minimums.between_holes), flanges))
        for other in range(count, len(self.holes)):
            yield Pair(count // 2, other, mm(faucet.swing) + self.flange(other) if faucet.swing else 0.0)
        if count == 3:
            for lever in (0, 2):
                others = [other for other in range(len(self.holes)) if other != lever]
                room = mm(faucet.lever_swing)
                yield from (Pair(lever, other, room + self.flange(other)) for other in others if room)
            outer = faucet.outer_to_outer
            yield Pair(0, 2, mm(faucet.outer_least or outer))
            yield Pair(0, 2, mm(faucet.outer_most or outer), most=True)


def mm(length: Length | None) -> float:
    return float(length.mm) if length else 0.0


def core(area: Area) -> BaseGeometry:
    """A rectangle without the width of its rounded corners."""
    corner = mm(area.corner)
    left, right = mm(area.left) + corner, mm(area.left + area.width) - corner
    front, back = mm(area.front) + corner, mm(area.front + area.depth) - corner
    return MultiPoint([(left, front), (right, front), (right, back), (left, back)]).convex_hull


def off(area: Area, places: Places) -> np.ndarray:
    """To a rectangle with rounded corners; inside it, as much as no distance can be worth."""
    away = shapely.distance(core(area), places)
    return np.where(away > 0, away - mm(area.corner), -FAR)


def inside(shape: BaseGeometry, places: Places) -> np.ndarray:
    """From inside to the limit of a shape; negative outside."""
    return np.where(shapely.contains(shape, places), shapely.distance(shape.exterior, places),
                    -shapely.distance(shape, places))


def ring(center: Point, radius: float, count: int) -> Places:
    """Places all around."""
    turns = np.linspace(0, 2 * np.pi, count, endpoint=False)
    return shapely.points(center.x + radius * np.cos(turns), center.y + radius * np.sin(turns))
