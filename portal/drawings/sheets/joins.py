"""Where sheets of a template meet, and where the paper ends: gray and by name, so that neither is taken for an edge."""

from reportlab.pdfgen.canvas import Canvas

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box
from portal.drawings.sheets.edges import Edge
from portal.drawings.sheets.lettering import write
from portal.drawings.sheets.paper import POINTS
from portal.drawings.sheets.tiles import Join
from portal.drawings.sheets.view import View
from portal.words.drawn.sheet_words import cut_line, no_edge

_GRAY = 0.6
_CORNER = 5.0  # mm
_MARK = 3.0  # mm


def joint(join: Join) -> Edge:
    """Give the cut line as something that no name should stand on."""
    return Edge(Layer.LABEL, cut_line(join.name), *join.line)


def draw_join(view: View, join: Join, box: Box) -> None:
    """Draw a thin gray line to cut or fold on, unbroken, since what is dashed lies below the top; and diamonds that
    must fall on each other."""
    canvas = view.canvas
    canvas.saveState()
    canvas.setStrokeGray(_GRAY)
    canvas.setLineWidth(0.2 * POINTS)
    canvas.setDash([])
    canvas.line(*view.at(join.line[0], join.line[1]), *view.at(join.line[2], join.line[3]))
    canvas.restoreState()
    for x, y in join.marks:
        _diamond(view, x, y)
        inward = -1 if x > (box.left + box.right) / 2 else 1
        px, py = (along / POINTS for along in view.at(x, y))
        write(canvas, px + 3.5 * inward, py + 1.5, join.name, 8, anchor="end" if inward < 0 else "start")
    _name(view, join)


def _diamond(view: View, x: float, y: float) -> None:
    px, py = view.at(x, y)
    r = _MARK * POINTS
    path = view.canvas.beginPath()
    path.moveTo(px - r, py)
    for point in ((px, py + r), (px + r, py), (px, py - r), (px - r, py), (px + r, py)):
        path.lineTo(*point)
    path.moveTo(px, py - r)
    path.lineTo(px, py + r)
    view.canvas.setLineWidth(0.18 * POINTS)
    view.canvas.setDash([])
    view.canvas.drawPath(path)


def _name(view: View, join: Join) -> None:
    """Between the two marks, on the line itself."""
    canvas, (one, other) = view.canvas, join.marks
    canvas.saveState()
    canvas.translate(*view.at((one[0] + other[0]) / 2, (one[1] + other[1]) / 2))
    if one[0] == other[0]:
        canvas.rotate(90)
    canvas.setFillGray(0.35)
    write(canvas, 0, 0.8, no_edge(join.name), 7.5, anchor="middle")
    canvas.restoreState()


def draw_corners(canvas: Canvas, box: Box) -> None:
    """Mark where the printed part ends: four gray corners, no frame."""
    canvas.saveState()
    canvas.setStrokeGray(_GRAY)
    canvas.setLineWidth(0.2 * POINTS)
    canvas.setDash([])
    for x, inward in ((box.left, _CORNER), (box.right, -_CORNER)):
        for y, upward in ((box.bottom, _CORNER), (box.top, -_CORNER)):
            canvas.line(x * POINTS, y * POINTS, (x + inward) * POINTS, y * POINTS)
            canvas.line(x * POINTS, y * POINTS, x * POINTS, (y + upward) * POINTS)
    canvas.restoreState()
