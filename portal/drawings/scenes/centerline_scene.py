"""The center line of a sink as a drawing: window over cabinet over sink, each with its center, seen from in front."""

from collections.abc import Iterator

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.lengths import mm
from portal.drawings.scenes.scene import Dimension, Item, Label, Line, Rect, Scene, Side
from portal.layouts.centerline import CenterLine, Opening

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
        Label(0, _BETWEEN, wall.datum.removeprefix("the "), Side.RIGHT),
        *_opening(wall.cabinet, Layer.CABINET, _CABINET, "cabinet"),
        *_sink(line),
        *_distances(line),
    ]
    if wall.window:
        items += _opening(wall.window, Layer.FRONT, _WINDOW, "window")
    return Scene(f"Center line of the sink: {line.title}", _description(line), tuple(items))


def _opening(opening: Opening, layer: Layer, heights: tuple[float, float], name: str) -> Iterator[Item]:
    """A window or cabinet with a short mark on its own center."""
    left, right, middle = mm(opening.left), mm(opening.right), mm(opening.center)
    low, high = heights
    yield Rect(layer, left, low, right - left, high - low)
    yield Line(layer, middle, low - 40, middle, low + 40)
    yield Label(left + (right - left) * 0.3, (low + high) / 2 if name == "window" else low + 110, name)


def _sink(line: CenterLine) -> Iterator[Item]:
    x, half = mm(line.at), mm(line.wall.sink) / 2
    low, high = _SINK
    yield Rect(Layer.EDGE, x - half, low, 2 * half, high - low, radius=25)
    yield Label(x - half * 0.6, (low + high) / 2, "sink")
    yield Line(Layer.CENTER_LINE, x, -40, x, _WINDOW[1] + 60)


def _distances(line: CenterLine) -> Iterator[Item]:
    """From the datum, what is left beside the sink, and what the line is off the other centers."""
    wall, x = line.wall, mm(line.at)
    yield Dimension(0, 0, x, 0, line.at.shown().text, Side.BELOW)
    left, right = line.at - wall.sink / 2, line.at + wall.sink / 2
    for one, other in ((wall.cabinet.left, left), (right, wall.cabinet.right)):
        if one != other:
            yield Dimension(mm(one), 0, mm(other), _SINK[0], abs(other - one).shown().text, Side.BELOW)
    for opening, y in ((wall.window, _WINDOW[1]), (wall.cabinet, _CABINET[1])):
        if opening and opening.center != line.at:
            off = abs(line.at - opening.center).shown().text
            name = "window" if opening is wall.window else "cabinet"
            yield Dimension(mm(opening.center), y, x, y, f"{off} off the {name}", Side.ABOVE)


def _description(line: CenterLine) -> str:
    """What the layout says of itself, after what one looks at."""
    seen = "window above, " if line.wall.window else ""
    where = f"The center line is {line.at.shown().text} from {line.wall.datum}."
    view = f"The wall from in front: {seen}cabinet and sink below. Only distances along the wall are to scale."
    return " ".join([view, where, *line.effects])
