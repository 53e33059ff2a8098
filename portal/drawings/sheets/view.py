"""Draws a scene on a page of a PDF, at any scale."""

import math
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from portal.drawings.scenes.layers import PENS, Layer
from portal.drawings.scenes.scene import Box, Center, Circle, Item, Line, Point, Polyline, Rect, Scene
from portal.drawings.scenes.setting_out import SetOut, Words
from portal.drawings.sheets.lettering import PLAIN, width_mm
from portal.drawings.sheets.paper import POINTS


@dataclass(frozen=True)
class View:
    """Where a scene lies on the page: page mm = scene mm * `scale` + offset. `fine` thins all pens."""

    canvas: Canvas
    scale: float
    dx: float
    dy: float
    fine: float = 1.0

    @staticmethod
    def onto(canvas: Canvas, scene: Box, page: Box, scale: float, fine: float = 1.0) -> "View":
        """Make a view that lays the middle of `scene` on the middle of `page`."""
        dx = (page.left + page.right - scale * (scene.left + scene.right)) / 2
        dy = (page.bottom + page.top - scale * (scene.bottom + scene.top)) / 2
        return View(canvas, scale, dx, dy, fine)

    def at(self, x: float, y: float) -> Point:
        """Give a point of the scene in points (1/72 in) on the page."""
        return ((x * self.scale + self.dx) * POINTS, (y * self.scale + self.dy) * POINTS)

    def long(self, mm: float) -> float:
        """Give a length of the scene (mm) in points."""
        return mm * self.scale * POINTS


def draw_scene(view: View, scene: Scene, plan: SetOut) -> None:
    """Draw everything in `scene`, layer by layer, with the words and dimension lines of `plan`."""
    drawn = [*scene.items, *plan.strokes]
    for layer in Layer:
        mine = [i for i in drawn if getattr(i, "layer", None) is layer]
        if mine:
            set_pen(view, layer, plan.text)
            for item in mine:
                _dash(view, layer, plan.text, item.narrow if isinstance(item, Rect) else math.inf)
                _draw(view, item)
    for word in plan.words:
        _write(view, word, plan.text)


def set_pen(view: View, layer: Layer, text: float) -> None:
    """Take the pen of a layer: its weight, and its dashes for text `text` mm high in the scene."""
    pen = PENS[layer]
    view.canvas.setLineWidth(pen.weight / 100 * POINTS * view.fine)
    _dash(view, layer, text)


def _dash(view: View, layer: Layer, text: float, around: float = math.inf) -> None:
    view.canvas.setDash([view.long(dash) for dash in PENS[layer].dashes_mm(text, around)])


def _draw(view: View, item: Item) -> None:
    match item:
        case Line():
            view.canvas.line(*view.at(item.x1, item.y1), *view.at(item.x2, item.y2))
        case Polyline():
            _run(view, list(item.points), item.closed)
        case Rect():
            x, y = view.at(item.x, item.y)
            size = (view.long(item.width), view.long(item.height))
            if item.radius:
                view.canvas.roundRect(x, y, *size, view.long(item.radius))
            else:
                view.canvas.rect(x, y, *size)
        case Circle():
            view.canvas.circle(*view.at(item.x, item.y), view.long(item.diameter / 2))
            if item.center_mark:
                _cross(view, item)
        case Center():
            _cross(view, item)
            if item.drill:
                view.canvas.circle(*view.at(item.x, item.y), view.long(item.drill / 2))


def _run(view: View, points: list[Point], closed: bool) -> None:
    path = view.canvas.beginPath()
    path.moveTo(*view.at(*points[0]))
    for point in points[1:]:
        path.lineTo(*view.at(*point))
    if closed:
        path.close()
    view.canvas.drawPath(path)


def _cross(view: View, circle: Circle | Center) -> None:
    """Thin lines through the center, beyond the rim, so that the center can still be found once the hole is begun."""
    x, y = view.at(circle.x, circle.y)
    arm = view.long(circle.diameter * 0.65)
    view.canvas.saveState()
    view.canvas.setLineWidth(0.12 * POINTS)
    view.canvas.setDash([])
    view.canvas.line(x - arm, y, x + arm, y)
    view.canvas.line(x, y - arm, x, y + arm)
    view.canvas.restoreState()


def _write(view: View, word: Words, text: float) -> None:
    """Words on a patch of white, so that no line runs through a letter."""
    size = view.long(text)
    wide = width_mm(word.text, size) * POINTS
    back = {"start": 0.0, "middle": wide / 2, "end": wide}[word.anchor]
    canvas = view.canvas
    canvas.saveState()
    canvas.translate(*view.at(word.x, word.y))
    if word.upright:
        canvas.rotate(90)
    canvas.setFillGray(1)
    canvas.rect(-back - 0.1 * size, -0.22 * size, wide + 0.2 * size, size, stroke=0, fill=1)
    canvas.setFillGray(0)
    canvas.setFont(PLAIN, size)
    canvas.drawString(-back, 0, word.text)
    canvas.restoreState()
