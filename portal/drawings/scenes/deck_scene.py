"""A deck layout as a drawing: the top from above, what is cut out of it and hangs below, and every hole by letter."""

from collections.abc import Iterator

from portal.drawings.scenes.coordinates import Coordinates, letter, tightest
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.lengths import mm
from portal.drawings.scenes.scene import Box, Circle, Dimension, Hatch, Item, Label, Line, Polyline, Rect, Scene, Side
from portal.layouts.deck import words
from portal.layouts.deck.dimensions import EDGES, ENDS, Area, Deck
from portal.layouts.deck.holes import Hole, Position, State
from portal.layouts.deck.layout import DeckLayout

_WALL = 45.0  # mm of wall drawn behind the top
_WIDEST = 1700.0  # mm; a wider top is shown in part, so that holes stay as large as a finger on a phone
_BESIDE = 160.0  # mm shown beside cut-out, cabinet and holes when it is
_ZIGZAG = 15.0


def deck_scene(layout: DeckLayout, *, whole: bool = False) -> Scene:
    """Draw one layout of a deck, in mm from the left end and the front edge, seen by a person at the sink.

    Of a long top only the part about the sink is drawn, unless it is wanted `whole`, as for a machine.
    New holes are on the layer HOLE, and only they; holes that are there already are on COVERED.
    """
    window = _window(layout, whole)
    items = [
        *_top(layout.deck, window, whole), *_below(layout.deck), *_cutout(layout.deck), *_center_line(layout.deck),
        *_plate(layout), *_holes(layout), *_along(layout, window), *_inward(layout, window),
    ]  # fmt: skip
    return Scene(layout.title, words.description(layout.deck, lettered(layout)), tuple(items))


def deck_coordinates(layout: DeckLayout) -> Coordinates:
    """Give every hole by its letter, as one sets it out."""
    deck = layout.deck
    holes = lettered(layout)
    rows = tuple(
        (
            mark, words.purpose(deck, place.hole), place.hole.diameter.in_both, place.along.in_both,
            place.inward.in_both, words.beside_center(place),
        )
        for mark, place in holes
    )  # fmt: skip
    from_where = deck.measured_end, deck.measured_edge
    return Coordinates(words.columns(*from_where), rows, words.measured_from(*from_where), tightest(layout.checks),
                       words.work(holes), words.caption(deck), first=words.FIRST)


def lettered(layout: DeckLayout) -> list[tuple[str, Position]]:
    """Give the holes from left to right, A first."""
    places = sorted(layout.positions, key=lambda p: (p.hole.x, p.hole.y))
    return [(letter(index), place) for index, place in enumerate(places)]


def _window(layout: DeckLayout, whole: bool) -> Box:
    """The part of the top that is drawn."""
    deck = layout.deck
    width, depth = mm(deck.top.width), mm(deck.top.depth)
    if whole or width <= _WIDEST:
        return Box(0.0, 0.0, width, depth)
    xs = [mm(deck.cutout.left), mm(deck.cutout.left + deck.cutout.width)]
    xs += [mm(hole.x) + side * mm(hole.flange or hole.diameter) / 2 for hole in layout.holes for side in (-1, 1)]
    if deck.cabinet:
        xs += [mm(deck.cabinet.left), mm(deck.cabinet.right)]
    return Box(max(0.0, min(xs) - _BESIDE), 0.0, min(width, max(xs) + _BESIDE), depth)


def _top(deck: Deck, window: Box, whole: bool) -> Iterator[Item]:
    """Edges, broken where the top goes on, and the wall behind; for a machine one closed outline."""
    depth = mm(deck.top.depth)
    if whole:
        yield Rect(Layer.EDGE, 0, 0, mm(deck.top.width), depth)
    else:
        yield from _edges(deck, window)
    back = depth + _WALL
    yield Hatch(((window.left, depth), (window.right, depth), (window.right, back), (window.left, back)))
    face = mm(deck.top.back_face)
    if face < depth:
        yield Line(Layer.WALL, window.left, face, window.right, face, words.WALL_FACE)
    yield Label((window.left + window.right) / 2, 0, _caption(deck, window), Side.BELOW)


def _edges(deck: Deck, window: Box) -> Iterator[Item]:
    width, depth = mm(deck.top.width), mm(deck.top.depth)
    yield Line(Layer.EDGE, window.left, 0, window.right, 0, words.FRONT_EDGE)
    yield Line(Layer.WALL, window.left, depth, window.right, depth, words.BACK_EDGE)
    for name, x, end in ((words.LEFT_END, window.left, 0.0), (words.RIGHT_END, window.right, width)):
        yield Line(Layer.EDGE, x, 0, x, depth, name) if x == end else _break(x, depth)


def _caption(deck: Deck, window: Box) -> str:
    """Under the front edge: what it is, or where the center line is when the end to measure from isn't drawn."""
    drawn = window.left == 0 if deck.measured_end == ENDS[0] else window.right == mm(deck.top.width)
    return words.front_caption(deck, drawn)


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


def _center_line(deck: Deck) -> Iterator[Item]:
    x = mm(deck.center_line)
    yield Line(Layer.CENTER_LINE, x, mm(deck.cutout.front), x, mm(deck.top.depth) + _WALL, words.center_line(deck))


def _plate(layout: DeckLayout) -> Iterator[Item]:
    if layout.plate:
        long, wide = mm(layout.plate.plate.length), mm(layout.plate.plate.width)
        left, front = mm(layout.plate.x) - long / 2, mm(layout.plate.y) - wide / 2
        corner = wide / 2 if wide < long else 0.0
        yield Rect(Layer.FLANGE, left, front, long, wide, corner, words.PLATE)


def _holes(layout: DeckLayout) -> Iterator[Item]:
    for mark, place in lettered(layout):
        hole = place.hole
        x, y, new = mm(hole.x), mm(hole.y), hole.state is State.DRILL
        yield Circle(Layer.HOLE if new else Layer.COVERED, x, y, mm(hole.diameter), center_mark=new,
                     note=words.hole_note(mark, hole))
        if hole.flange:
            yield Circle(Layer.FLANGE, x, y, mm(hole.flange), note=words.BASE)
        yield Label(x, _under(layout.deck, hole), mark, Side.BELOW)


def _under(deck: Deck, hole: Hole) -> float:
    """Where the letter of a hole hangs: below its flange, and below the edge of the cut-out where that runs there."""
    low = mm(hole.y) - mm(hole.flange or hole.diameter) / 2
    left, right = mm(deck.cutout.left), mm(deck.cutout.left + deck.cutout.width)
    edge = mm(deck.cutout.front + deck.cutout.depth)
    return min(low, edge) if left < mm(hole.x) < right and low < edge + 100 else low


def _along(layout: DeckLayout, window: Box) -> Iterator[Item]:
    """Each hole from the end that one measures from; where that end isn't drawn, from the center line."""
    deck = layout.deck
    end = 0.0 if deck.measured_end == ENDS[0] else mm(deck.top.width)
    shown = end in (window.left, window.right)
    for _, place in lettered(layout):
        x, y = mm(place.hole.x), mm(place.hole.y)
        if shown:
            yield Dimension(end, window.top, x, y, place.along.shown().text, Side.ABOVE)
        elif place.from_center_line.mm:
            text = abs(place.from_center_line).shown().text
            yield Dimension(mm(deck.center_line), window.top + _WALL, x, y, text, Side.ABOVE)


def _inward(layout: DeckLayout, window: Box) -> Iterator[Item]:
    """Each distance from the edge once, at the end that one measures from."""
    deck = layout.deck
    side = Side.LEFT if deck.measured_end == ENDS[0] else Side.RIGHT
    edge = 0.0 if deck.measured_edge == EDGES[0] else mm(deck.top.depth)
    outer = window.left if side is Side.LEFT else window.right
    seen = set()
    for _, place in lettered(layout):
        if place.inward not in seen:
            seen.add(place.inward)
            yield Dimension(outer, edge, outer, mm(place.hole.y), place.inward.shown().text, side)
