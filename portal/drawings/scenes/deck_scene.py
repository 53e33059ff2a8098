"""A deck layout as a drawing: the top from above, what is cut out of it and hangs below, and every hole by letter.

Drawing, table and template share one pair of datums: the middle of the cut-out and its back edge. Both can be felt and
marked on the top itself, wherever its ends are.
"""

from collections.abc import Iterator
from itertools import pairwise

from portal.drawings.scenes.cut_off import cut_to
from portal.drawings.scenes.deck_sheet import fate_of, lettered, may_be_off, middle_from_end
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.lengths import mm
from portal.drawings.scenes.scene import (
    Bar,
    Box,
    Circle,
    Dimension,
    Hatch,
    Item,
    Label,
    Line,
    Polyline,
    Rect,
    Scene,
    Side,
)
from portal.layouts.deck.dimensions import ENDS, Area, Deck
from portal.layouts.deck.holes import Hole, State
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.zones import Zone, safe_zones
from portal.words.drawn import top_words as words

_WALL = 45.0  # mm of wall drawn behind the top
_WIDEST = 1700.0  # mm; a wider top is shown in part, so that holes stay as large as a finger on a phone
_BESIDE = 160.0  # mm shown beside cut-out, cabinet and holes when it is
_ZIGZAG = 15.0
_BAR = 4.0  # mm between a flange and the bar that says how far two holes are apart


def deck_scene(layout: DeckLayout) -> Scene:
    """Draw one layout of a deck, in mm from the left end and the front edge, seen by a person at the sink.

    Of a long top only the part about the sink is drawn. New holes are on the layer HOLE, and only they; holes that are
    there already are on COVERED.
    """
    window, face = _window(layout), mm(layout.deck.top.back_face)
    items = [
        *_edges(layout.deck, window), *_wall(layout.deck, window, face), *_solid(layout),
        *_zones(safe_zones(layout), window), *_bars(layout), *_along(layout, window), *_inward(layout, window),
    ]  # fmt: skip
    return Scene(layout.title, description(layout), tuple(items))


def deck_machine_scene(layout: DeckLayout) -> Scene:
    """Draw the same for a machine: the top whole, as one closed outline, and nothing that nobody gave."""
    top = layout.deck.top
    outline = Rect(Layer.EDGE, 0, 0, mm(top.width), mm(top.depth))
    return Scene(layout.title, description(layout), (outline, *_solid(layout)))


def description(layout: DeckLayout) -> str:
    """Say all that the drawing shows."""
    deck = layout.deck
    holes = (
        words.described(
            mark, place.hole.name, place.hole.diameter.marked, fate_of(place.hole),
            words.from_the(place.along.marked, place.end), words.from_the(place.inward.marked, place.edge))
        for mark, place in lettered(layout)
    )
    caption = words.caption(deck.top.width.marked, deck.top.depth.marked, deck.top.thickness.text)
    dashed = words.dashed(deck.cabinet is not None, (area.name for area in deck.underneath))
    return " ".join(filter(None, (caption, *holes, dashed)))


def _solid(layout: DeckLayout) -> Iterator[Item]:
    """All that is where it is, whatever part of the top is drawn."""
    deck = layout.deck
    yield from (*_below(deck), *_cutout(deck), *_datums(deck), *_plate(layout), *_holes(layout))


def _window(layout: DeckLayout) -> Box:
    """The part of the top that is drawn."""
    deck = layout.deck
    width, depth = mm(deck.top.width), mm(deck.top.depth)
    if width <= _WIDEST:
        return Box(0.0, 0.0, width, depth)
    xs = [mm(deck.cutout.left), mm(deck.cutout.left + deck.cutout.width)]
    xs += [mm(hole.x) + side * mm(hole.flange or hole.diameter) / 2 for hole in layout.holes for side in (-1, 1)]
    if deck.cabinet:
        xs += [mm(deck.cabinet.left), mm(deck.cabinet.right)]
    return Box(max(0.0, min(xs) - _BESIDE), 0.0, min(width, max(xs) + _BESIDE), depth)


def _edges(deck: Deck, window: Box) -> Iterator[Item]:
    """The edges of the top, broken where it goes on."""
    width, depth = mm(deck.top.width), mm(deck.top.depth)
    yield Line(Layer.EDGE, window.left, 0, window.right, 0, words.FRONT_EDGE)
    for name, x, end in ((words.LEFT_END, window.left, 0.0), (words.RIGHT_END, window.right, width)):
        yield Line(Layer.EDGE, x, 0, x, depth, name) if x == end else _break(x, depth)
    hidden = not _end_is_drawn(deck, window)
    yield Label((window.left + window.right) / 2, 0, words.front_caption(middle_from_end(deck) if hidden else ""),
                Side.BELOW)


def _wall(deck: Deck, window: Box, face: float) -> Iterator[Item]:
    """The back edge with the wall behind it. A template is folded at whatever stands there first."""
    depth, back = window.top, window.top + _WALL
    splash = face < depth
    name = words.BACK_EDGE if splash else words.folded(words.BACK_EDGE)
    yield Line(Layer.WALL, window.left, depth, window.right, depth, name)
    yield Hatch(((window.left, depth), (window.right, depth), (window.right, back), (window.left, back)))
    if splash:
        yield Line(Layer.WALL, window.left, face, window.right, face, words.folded(words.WALL_FACE))


def _break(x: float, depth: float) -> Polyline:
    """The drafter's broken line: here the drawing ends and the top doesn't."""
    middle, z = depth / 2, _ZIGZAG
    points = ((x, 0.0), (x, middle - 2 * z), (x - z, middle - z), (x + z, middle + z), (x, middle + 2 * z), (x, depth))
    return Polyline(Layer.LABEL, points)


def _below(deck: Deck) -> Iterator[Item]:
    """What is under the top: the sides of the cabinet, clips, rails and pipes."""
    depth = mm(deck.top.depth)
    if deck.cabinet:
        for name, side in ((words.LEFT_SIDE, deck.cabinet.left), (words.RIGHT_SIDE, deck.cabinet.right)):
            yield Line(Layer.CABINET, mm(side), 0, mm(side), depth, name)
    for area in deck.underneath:
        yield _rect(Layer.UNDERNEATH, area, words.below(area.name))


def _cutout(deck: Deck) -> Iterator[Item]:
    yield _rect(Layer.CUT_OUT, deck.cutout, words.CUTOUT_EDGE)
    for bowl in deck.bowls:
        if bowl is not deck.cutout:
            yield _rect(Layer.CLEARANCE, bowl, words.BOWL_EDGE)
    x, y = deck.cutout.center
    yield Label(mm(x), mm(y) - mm(deck.cutout.depth) * 0.15, words.CUTOUT)


def _rect(layer: Layer, area: Area, name: str) -> Rect:
    return Rect(layer, mm(area.left), mm(area.front), mm(area.width), mm(area.depth), mm(area.corner), name)


def _datums(deck: Deck) -> Iterator[Item]:
    """The two lines that all is measured from, the middle from where it meets the other, so that no word in the
    cut-out stands on it; and the line of the faucet, where it is not the middle."""
    cutout, back = deck.cutout, mm(deck.cutout.front + deck.cutout.depth)
    middle, depth = mm(cutout.center[0]), mm(deck.top.depth)
    yield Line(Layer.DATUM, mm(cutout.left), back, mm(cutout.left + cutout.width), back, words.BACK_OF_CUTOUT)
    yield Line(Layer.DATUM, middle, back, middle, depth, words.MIDDLE_OF_CUTOUT)
    if deck.center_line != cutout.center[0]:
        own = deck.center_line if deck.measured_end == ENDS[0] else deck.top.width - deck.center_line
        name = words.center_line(words.from_the(own.marked, deck.measured_end))
        yield Line(Layer.CENTER_LINE, mm(deck.center_line), back, mm(deck.center_line), depth, name)


def _plate(layout: DeckLayout) -> Iterator[Item]:
    if layout.plate:
        long, wide = mm(layout.plate.plate.length), mm(layout.plate.plate.width)
        left, front = mm(layout.plate.x) - long / 2, mm(layout.plate.y) - wide / 2
        corner = wide / 2 if wide < long else 0.0
        yield Rect(Layer.FLANGE, left, front, long, wide, corner, words.PLATE)


def _holes(layout: DeckLayout) -> Iterator[Item]:
    held = {zone.hole for zone in safe_zones(layout) if not may_be_off(zone).mm}
    for mark, place in lettered(layout):
        hole = place.hole
        x, y, new = mm(hole.x), mm(hole.y), hole.state is State.DRILL
        note = words.hole_note(mark, hole.name, hole.diameter.marked_in_both, new=new, held=hole in held)
        yield Circle(Layer.HOLE if new else Layer.COVERED, x, y, mm(hole.diameter), center_mark=new, note=note)
        if hole.flange:
            yield Circle(Layer.FLANGE, x, y, mm(hole.flange), note=words.BASE)
        yield Label(x, _under(layout.deck, hole), mark, Side.BELOW)


def _under(deck: Deck, hole: Hole) -> float:
    """Where the letter of a hole hangs: below its flange, and below the edge of the cut-out where that runs there."""
    low = mm(hole.y) - mm(hole.flange or hole.diameter) / 2
    left, right = mm(deck.cutout.left), mm(deck.cutout.left + deck.cutout.width)
    edge = mm(deck.cutout.front + deck.cutout.depth)
    return min(low, edge) if left < mm(hole.x) < right and low < edge + 100 else low


def _zones(zones: tuple[Zone, ...], window: Box) -> Iterator[Item]:
    """Within which each new hole may lie, as far as the top is drawn; nothing where it may not drift by as much as a
    rule shows."""
    for zone in zones:
        if may_be_off(zone).mm > 0:
            yield Polyline(Layer.ZONE, cut_to(zone.outline, window), closed=True)


def _bars(layout: DeckLayout) -> Iterator[Item]:
    """From each new hole to the next in the row, toward the wall."""
    new = [(mark, place.hole) for mark, place in lettered(layout) if place.hole.state is State.DRILL]
    for (one, first), (other, second) in pairwise(new):
        if first.y == second.y:
            aside = max(mm(hole.flange or hole.diameter) / 2 for hole in (first, second)) + _BAR
            text = words.apart(one, other, (second.x - first.x).marked_in_both)
            yield Bar(mm(first.x), mm(first.y), mm(second.x), mm(second.y), text, aside)


def _end_is_drawn(deck: Deck, window: Box) -> bool:
    return window.left == 0 if deck.measured_end == ENDS[0] else window.right == mm(deck.top.width)


def _along(layout: DeckLayout, window: Box) -> Iterator[Item]:
    """Each hole from the middle of the cut-out; the middle itself from the end that one measures from, if that is
    drawn."""
    deck = layout.deck
    middle = deck.cutout.center[0]
    for _, place in lettered(layout):
        off = place.hole.x - middle
        if off.mm:
            yield Dimension(mm(middle), window.top + _WALL, mm(place.hole.x), mm(place.hole.y), abs(off).marked,
                            Side.ABOVE)
    if _end_is_drawn(deck, window):
        left = deck.measured_end == ENDS[0]
        end, text = (0.0, middle) if left else (window.right, deck.top.width - middle)
        yield Dimension(end, 0, mm(middle), 0, text.marked, Side.BELOW)


def _inward(layout: DeckLayout, window: Box) -> Iterator[Item]:
    """Each distance from the back edge of the cut-out once, at the end that one measures from."""
    deck = layout.deck
    side = Side.LEFT if deck.measured_end == ENDS[0] else Side.RIGHT
    outer = window.left if side is Side.LEFT else window.right
    back = deck.cutout.front + deck.cutout.depth
    for y in dict.fromkeys(place.hole.y for _, place in lettered(layout)):
        if y != back:
            yield Dimension(outer, mm(back), outer, mm(y), abs(y - back).marked, side)
