"""All layouts of a deck, checked and ranked, with the safe zone of each hole, against the bare distance arithmetic.

The arithmetic beside it is what any program must do for the same answer: for each layout, every distance from hole to
hole, to the cut-out, to the edges, to the cabinet, to the clip, and of the flanges. Once in numpy, layout by layout;
once in shapely, geometry by geometry. For the curious also numpy over all layouts of one size in a single array, which
no longer knows which number belongs to which check.
"""

import sys

import numpy as np
from shapely import Point, box

from portal.layouts import deck
from portal.layouts.deck.dimensions import Deck
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.zones import safe_zones
from tests.bench.ratios import Claim, at_most, closing, in_turn, timed
from tests.layouts.decks import deck_json

Table = np.ndarray


def table(layout: DeckLayout) -> Table:
    """A row a hole: x, y, radius, radius of the flange."""
    return np.array([[float(hole.x.mm), float(hole.y.mm), float(hole.diameter.mm) / 2,
                      float((hole.flange or hole.diameter).mm) / 2] for hole in layout.holes])


def in_numpy(holes: Table, areas: list[Table], limits: Table) -> float:
    """All distances of `holes`, which may have a leading axis of layouts."""
    x, y, radius, flange = (holes[..., column] for column in range(4))
    apart = np.hypot(x[..., :, None] - x[..., None, :], y[..., :, None] - y[..., None, :])
    low = (apart - radius[..., :, None] - radius[..., None, :]).min()
    low = min(low, (apart - flange[..., :, None] - flange[..., None, :]).min())
    for center_x, center_y, half_width, half_depth, corner in areas:
        across = np.abs(x - center_x) - half_width + corner
        deep = np.abs(y - center_y) - half_depth + corner
        away = np.where((across <= 0) | (deep <= 0), np.maximum(across, deep), np.hypot(across, deep)) - corner
        low = min(low, (away - radius).min(), (away - flange).min())
    edges = np.stack([x - limits[0], limits[1] - x, y, limits[2] - y, limits[3] - y, x - limits[4], limits[5] - x])
    return float(min(low, (edges - radius).min(), (edges - flange).min()))


def in_shapely(holes: Table, areas: list[Table], limits: Table) -> float:
    points = [Point(x, y) for x, y, _, _ in holes]
    shapes = [box(cx - w, cy - d, cx + w, cy + d) for cx, cy, w, d, _ in areas]
    outline = box(limits[0], 0, limits[1], limits[2]).exterior
    low = min((one.distance(other) for index, one in enumerate(points) for other in points[index + 1 :]), default=0.0)
    for point in points:
        low = min(low, outline.distance(point), *(shape.distance(point) for shape in shapes))
    return low


def limits_of(found: Deck) -> Table:
    assert found.cabinet
    top = found.top
    return np.array([float(each) for each in (0, top.width.mm, top.depth.mm, top.back_face.mm, found.cabinet.left.mm,
                                              found.cabinet.right.mm)])


def against_the_bare_arithmetic(holes: str) -> list[Claim]:
    """`holes`: how many the faucet takes, as the deck's form says it."""
    found = deck.from_json(deck_json(faucet__holes=holes))
    layouts = deck.layouts(found)
    tables, limits = [table(layout) for layout in layouts], limits_of(found)
    areas = [np.array(area.floats) for area in (found.cutout, *found.underneath)]
    batches = [np.stack([each for each in tables if len(each) == size]) for size in {len(each) for each in tables}]
    medians = in_turn(15, {
        "ours": timed(lambda: deck.layouts(found)),
        "zones": timed(lambda: [safe_zones(layout) for layout in deck.layouts(found)]),
        "numpy": timed(lambda: [in_numpy(each, areas, limits) for each in tables]),
        "shapely": timed(lambda: [in_shapely(each, areas, limits) for each in tables]),
        "batches": timed(lambda: [in_numpy(each, areas, limits) for each in batches]),
    })
    print(f"# numpy over all {len(layouts)} layouts at once: {medians['ours'] / medians['batches']:.1f}")
    return [
        at_most(f"deck, {holes}: layouts to bare numpy", medians["ours"] / medians["numpy"], 20),
        at_most(f"deck, {holes}: layouts to bare shapely", medians["ours"] / medians["shapely"], 20),
        at_most(f"deck, {holes}: layouts with safe zones to bare numpy", medians["zones"] / medians["numpy"], 40),
    ]


if __name__ == "__main__":
    sys.exit(closing([*against_the_bare_arithmetic("1"), *against_the_bare_arithmetic("1 or 3")]))
