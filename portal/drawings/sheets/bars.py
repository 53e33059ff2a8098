"""The bars of a template page: two by which the printer is checked, and one from hole to hole for a rule."""

from reportlab.pdfgen.canvas import Canvas

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Bar, Point, Scene
from portal.drawings.sheets.edges import Edge
from portal.drawings.sheets.lettering import BOLD, write
from portal.drawings.sheets.paper import POINTS, Page
from portal.drawings.sheets.view import View
from portal.words.drawn import sheet_words as words

UP = 4 * 25.4  # mm
_ALONG = 100.0  # mm
_TICK = 2.5  # mm


def draw_check_bars(canvas: Canvas, page: Page, beside: str = "") -> None:
    """Draw 100 mm along the page and 4 in up it: a printer can be wrong in one direction only. `beside`: what is said
    in the room that is left."""
    room = page.template
    x, y = room.left, room.bottom - 6
    _bar(canvas, (x, y), (x + _ALONG, y))
    write(canvas, x + _ALONG + 4, y - 1.2, words.BAR_ALONG, 10, font=BOLD)
    write(canvas, page.template.right, y - 1.2, beside, 8, anchor="end")
    x, y = room.left - 6, room.bottom
    _bar(canvas, (x, y), (x, y + UP))
    canvas.saveState()
    canvas.translate((x + 1.2) * POINTS, (y + UP + 4) * POINTS)
    canvas.rotate(90)
    write(canvas, 0, 0, words.BAR_UP, 10, font=BOLD)
    canvas.restoreState()


def draw_hole_bars(view: View, scene: Scene) -> list[Edge]:
    """Draw how far holes are apart, and give each bar as a line along which its words may stand."""
    bars = [bar for bar in scene.items if isinstance(bar, Bar)]
    view.canvas.setDash([])
    for bar in bars:
        one, other = (_in_mm(view, end) for end in bar.ends)
        _bar(view.canvas, one, other)
    return [_as_edge(bar) for bar in bars]


def _in_mm(view: View, point: Point) -> Point:
    x, y = view.at(*point)
    return x / POINTS, y / POINTS


def _as_edge(bar: Bar) -> Edge:
    (x1, y1), (x2, y2) = bar.ends
    return Edge(Layer.DIMENSION, bar.text, min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))


def _bar(canvas: Canvas, start: Point, end: Point) -> None:
    """A line with a tick square to it at each end; measure from tick to tick."""
    canvas.setLineWidth(0.25 * POINTS)
    (x1, y1), (x2, y2) = start, end
    canvas.line(x1 * POINTS, y1 * POINTS, x2 * POINTS, y2 * POINTS)
    across, up = (_TICK, 0.0) if abs(x1 - x2) < abs(y1 - y2) else (0.0, _TICK)
    for x, y in (start, end):
        canvas.line((x - across) * POINTS, (y - up) * POINTS, (x + across) * POINTS, (y + up) * POINTS)
