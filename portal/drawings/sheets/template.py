"""The pages at full size: the scene at 1:1, joins between sheets, and two bars to measure before the first hole."""

from reportlab.pdfgen.canvas import Canvas

from portal.drawings.layers import Layer
from portal.drawings.scene import Box, Center, Circle, Dimension, Item, Label, Line, Rect, Scene, Side
from portal.drawings.setting_out import SetOut, set_out
from portal.drawings.sheets.lettering import BOLD, write
from portal.drawings.sheets.paper import POINTS, Page
from portal.drawings.sheets.parts import Part
from portal.drawings.sheets.tiles import Join, Tile, Tiling
from portal.drawings.sheets.view import View, draw_scene, set_pen

_LETTERS = 4.0  # mm
_ALONG = 100.0  # mm
_UP = 4 * 25.4  # mm
_TICK = 2.5  # mm

_MEASURE = (
    "Print at 100 %, never fitted to the page. Measure both bars: if one is off by 0.5 mm (1/64 in), "
    "don't use this page."
)


def template_scene(scene: Scene, part: Part) -> tuple[Scene, SetOut]:
    """What of the scene is for this part, without dimension lines, which would stand far outside; its words, and the
    notes on its holes."""
    items = [i for i in scene.items if not isinstance(i, Dimension) and part.shows(i)]
    circles = [i for i in items if isinstance(i, Circle | Center)]
    notes = [Label(c.x, c.y - _reach(c, circles), c.note, Side.BELOW) for c in circles if c.note]
    middle = _middle(part.front) if part.front else ()
    bare = Scene(scene.title, scene.description, (*items, *notes, *middle))
    return bare, set_out(bare, _LETTERS)


def _middle(front: Rect) -> tuple[Item, ...]:
    """The line to lay on the middle of a front, whose side edges may be sheets away."""
    x, top = front.x + front.width / 2, front.y + front.height
    return (Line(Layer.CENTER_LINE, x, front.y, x, top), Label(x, top - 2 * _LETTERS, "middle", Side.RIGHT))


def _reach(hole: Circle | Center, circles: list[Circle | Center]) -> float:
    """How far down its cross and all that is drawn about the same center reach."""
    return max(hole.diameter * 0.65, *(c.diameter / 2 for c in circles if (c.x, c.y) == (hole.x, hole.y)))


def draw_tile(canvas: Canvas, tiling: Tiling, tile: Tile, scene: Scene, plan: SetOut, of: str) -> None:
    """One page of a template: its part of the scene at 1:1, clipped, with the joins and the check bars. `of`: which
    fronts it is for, empty when the work is one piece."""
    room = tiling.page.template
    view = View.onto(canvas, tile.box, room, 1.0, fine=0.5)
    canvas.saveState()
    _clip(canvas, room)
    draw_scene(view, scene, plan)
    for join in tile.joins:
        _draw_join(view, join, tile.box)
    canvas.restoreState()
    _frame(canvas, room)
    _bars(canvas, tiling.page)
    _say(canvas, tiling, tile, of)


def _clip(canvas: Canvas, box: Box) -> None:
    path = canvas.beginPath()
    path.rect(box.left * POINTS, box.bottom * POINTS, box.width * POINTS, box.height * POINTS)
    canvas.clipPath(path, stroke=0, fill=0)


def _frame(canvas: Canvas, box: Box) -> None:
    canvas.setDash([])
    canvas.setLineWidth(0.1 * POINTS)
    canvas.rect(box.left * POINTS, box.bottom * POINTS, box.width * POINTS, box.height * POINTS)


def _draw_join(view: View, join: Join, box: Box) -> None:
    """The line to cut or fold on, and diamonds that must fall on each other."""
    set_pen(view, Layer.UNDERNEATH, _LETTERS)
    view.canvas.line(*view.at(join.line[0], join.line[1]), *view.at(join.line[2], join.line[3]))
    view.canvas.setDash([])
    for x, y in join.marks:
        px, py = view.at(x, y)
        r = 3 * POINTS
        path = view.canvas.beginPath()
        path.moveTo(px - r, py)
        for point in ((px, py + r), (px + r, py), (px, py - r), (px - r, py), (px + r, py)):
            path.lineTo(*point)
        path.moveTo(px, py - r)
        path.lineTo(px, py + r)
        view.canvas.drawPath(path)
        inward = -1 if x > (box.left + box.right) / 2 else 1
        anchor = "end" if inward < 0 else "start"
        write(view.canvas, px / POINTS + 3.5 * inward, py / POINTS + 1.5, join.name, 8, anchor=anchor)


def _bars(canvas: Canvas, page: Page) -> None:
    """100 mm along the page and 4 in up it: a printer can be wrong in one direction only."""
    room = page.template
    x, y = room.left, room.bottom - 6
    _bar(canvas, (x, y), (x + _ALONG, y))
    write(canvas, x + _ALONG + 4, y - 1.2, "100 mm", 10, font=BOLD)
    x, y = room.left - 6, room.bottom
    _bar(canvas, (x, y), (x, y + _UP))
    canvas.saveState()
    canvas.translate((x + 1.2) * POINTS, (y + _UP + 4) * POINTS)
    canvas.rotate(90)
    write(canvas, 0, 0, "4 in", 10, font=BOLD)
    canvas.restoreState()


def _bar(canvas: Canvas, start: tuple[float, float], end: tuple[float, float]) -> None:
    """A line with a tick square to it at each end; measure from tick to tick."""
    canvas.setLineWidth(0.25 * POINTS)
    (x1, y1), (x2, y2) = start, end
    canvas.line(x1 * POINTS, y1 * POINTS, x2 * POINTS, y2 * POINTS)
    across, up = (_TICK, 0.0) if x1 == x2 else (0.0, _TICK)
    for x, y in (start, end):
        canvas.line((x - across) * POINTS, (y - up) * POINTS, (x + across) * POINTS, (y + up) * POINTS)


def _say(canvas: Canvas, tiling: Tiling, tile: Tile, of: str) -> None:
    room = tiling.page.template
    write(canvas, room.left, 12.5, _MEASURE, 7.5)
    whose = f"Full size, {of}." if of else "Full size."
    text = f"{whose} This page is the whole template."
    if len(tiling.tiles) > 1:
        text = (
            f"{whose} Row {tile.row + 1} of {tiling.rows}, column {tile.column + 1} of {tiling.columns}. "
            "Cut on a dashed line and lay the marks of the same name on each other."
        )
    write(canvas, room.left, room.top + 1.5, text, 9)
