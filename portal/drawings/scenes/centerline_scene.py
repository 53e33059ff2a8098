"""The center line of a sink as a drawing: window over cabinet over sink, each with its center, seen from in front."""

from collections.abc import Iterator

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.lengths import mm
from portal.drawings.scenes.scene import Dimension, Item, Label, Line, Rect, Scene, Side
from portal.layouts.centerline import words
from portal.layouts.centerline.dimensions import Opening
from portal.layouts.centerline.layout import CenterLine

# Heights in mm are only for the eye; no height is decided here, and the description says so.
_CABINET = (0.0, 420.0)
_SINK = (230.0, 420.0)
_BETWEEN = 530.0
_WINDOW = (640.0, 980.0)


def centerline_scene(line: CenterLine) -> Scene:
    """Draw one candidate along the wall, in mm from the datum to the right; true to scale along the wall only."""
    wall = line.wall
    items: list[Item] = [
        Line(Layer.WALL, 0, 0, 0, _WINDOW[1]),
        Label(0, _BETWEEN, words.datum(line), Side.RIGHT),
        *_opening(wall.cabinet, Layer.CABINET, _CABINET, words.CABINET),
        *_sink(line),
        *_counter(line),
        *_distances(line),
    ]
    if wall.window:
        items += _opening(wall.window, Layer.FRONT, _WINDOW, words.WINDOW)
    return Scene(words.drawing(line), words.description(line), tuple(items))


def _opening(opening: Opening, layer: Layer, heights: tuple[float, float], name: str) -> Iterator[Item]:
    """A window or cabinet with a short mark on its own center."""
    left, right, middle = mm(opening.left), mm(opening.right), mm(opening.center)
    low, high = heights
    yield Rect(layer, left, low, right - left, high - low)
    yield Line(layer, middle, low - 40, middle, low + 40)
    yield Label(left + (right - left) * 0.3, (low + high) / 2 if layer is Layer.FRONT else low + 110, name)


def _sink(line: CenterLine) -> Iterator[Item]:
    x, half = mm(line.at), mm(line.wall.sink) / 2
    low, high = _SINK
    yield Rect(Layer.EDGE, x - half, low, 2 * half, high - low, radius=25)
    yield Label(x - half * 0.6, (low + high) / 2, words.SINK)
    yield Line(Layer.CENTER_LINE, x, -40, x, _WINDOW[1] + 60)


def _counter(line: CenterLine) -> Iterator[Item]:
    """The top from end to end, where it was measured, with a mark at both ends."""
    counter = line.wall.counter
    if counter:
        top = _CABINET[1]
        yield Line(Layer.FRONT, mm(counter.left), top, mm(counter.right), top)
        for end in (counter.left, counter.right):
            yield Line(Layer.FRONT, mm(end), top - 40, mm(end), top + 40)
        yield Label((mm(counter.left) + mm(line.sides[0])) / 2, top, words.COUNTER, Side.BELOW)


def _distances(line: CenterLine) -> Iterator[Item]:
    """From the datum, what is left beside the sink, and what the line is off the other centers."""
    wall, x = line.wall, mm(line.at)
    yield Dimension(0, 0, x, 0, line.at.marked, Side.BELOW)
    left, right = line.sides
    for one, other in ((wall.cabinet.left, left), (right, wall.cabinet.right)):
        if one != other:
            yield Dimension(mm(one), 0, mm(other), _SINK[0], words.apart(other - one), Side.BELOW)
    if wall.counter:
        for one, other in ((wall.counter.left, left), (right, wall.counter.right)):
            if one != other:
                yield Dimension(mm(one), _SINK[1], mm(other), _SINK[1], words.apart(other - one), Side.ABOVE)
    for opening, y in ((wall.window, _WINDOW[1]), (wall.cabinet, _CABINET[1])):
        if opening and opening.center != line.at:
            name = words.WINDOW if opening is wall.window else words.CABINET
            text = words.off_the(line.at - opening.center, name)
            yield Dimension(mm(opening.center), y, x, y, text, Side.ABOVE)
