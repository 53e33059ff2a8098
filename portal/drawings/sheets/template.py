"""The pages at full size: the scene at 1:1, joins between sheets, and two bars to measure before the first hole."""

from dataclasses import replace

from reportlab.pdfgen.canvas import Canvas

from portal.drawings.scenes.cut_off import cut_to
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Center, Circle, Dimension, Item, Label, Line, Polyline, Rect, Scene
from portal.drawings.scenes.setting_out import SetOut, set_out
from portal.drawings.sheets.bars import UP, draw_check_bars, draw_hole_bars
from portal.drawings.sheets.edges import Edge, laid_on, named_whole
from portal.drawings.sheets.joins import draw_corners, draw_join, joint
from portal.drawings.sheets.lettering import BOLD, PLAIN, shortened, write
from portal.drawings.sheets.names import Name, names_on
from portal.drawings.sheets.paper import POINTS, Page
from portal.drawings.sheets.parts import Part
from portal.drawings.sheets.sheet import Sheet
from portal.drawings.sheets.tiles import Tile, Tiling
from portal.drawings.sheets.view import View, draw_scene
from portal.words.drawn import sheet_words as words

_SAME = 0.01  # mm
_BORDER = 0.3  # mm from the end of the page, so that the line along it is whole
_DASHES = 4.0  # mm: dashes are as for letters of this height


def template_scene(scene: Scene, part: Part) -> tuple[Scene, SetOut]:
    """Give what of the scene is for this part, drawn at full size: without dimension lines, which would stand far
    outside, and without its labels, since each page names its own lines."""
    items = [_at_full_size(i, part) for i in scene.items if not isinstance(i, Dimension | Label) and part.shows(i)]
    middle = [Line(e.layer, e.x1, e.y1, e.x2, e.y2) for e in part.edges(scene)
              if part.front and e.layer is Layer.CENTER_LINE]
    bare = Scene(scene.title, scene.description, (*items, *middle))
    return bare, set_out(bare, _DASHES)


def _at_full_size(item: Item, part: Part) -> Item:
    """A pull is thin, as it is no edge. On a front that stands for others a hole goes by its number alone; each says
    that it is drilled."""
    if isinstance(item, Rect) and item.layer is Layer.PULL:
        return replace(item, layer=Layer.FLANGE)
    if not isinstance(item, Circle | Center) or not item.note or item.layer is not Layer.HOLE:
        return item
    note = item.note.partition(", ")[2] if len(part.fronts) > 1 and ", " in item.note else item.note
    return replace(item, note=words.drill(note))


def draw_tile(
    canvas: Canvas, tiling: Tiling, tile: Tile, scene: Scene, plan: SetOut, sheet: Sheet, part: Part,
    edges: list[Edge],
) -> None:
    """Draw one page of a template: its part of the scene at 1:1, clipped, with names, joins and the check bars."""
    room = tiling.page.template
    view = View.onto(canvas, tile.box, room, 1.0)
    joints = [joint(join) for join in tile.joins]
    canvas.saveState()
    _clip(canvas, room)
    draw_scene(view, closed_at(scene, tile.box), plan)
    for join in tile.joins:
        draw_join(view, join, tile.box)
    named = [*_whole_or_named(edges, tile.box), *draw_hole_bars(view, scene)]
    for name in names_on(tile.box, scene.items, named, joints):
        _write(view, name)
    canvas.restoreState()
    draw_corners(canvas, room)
    _way_up(canvas, tiling.page, any(edge.layer is Layer.WALL for edge in edges))
    draw_check_bars(canvas, tiling.page, words.ZONES if scene.only(Layer.ZONE) else "")
    _say(canvas, tiling, tile, sheet, part, laid_on(edges, _shown(tiling)))


def _shown(tiling: Tiling) -> Box:
    boxes = [tile.box for tile in tiling.tiles]
    return Box(min(b.left for b in boxes), min(b.bottom for b in boxes), max(b.right for b in boxes),
               max(b.top for b in boxes))


def closed_at(scene: Scene, page: Box) -> Scene:
    """A zone that runs off the page ends where the page does: the center may lie as far as it shows, and no farther."""
    items: list[Item] = []
    for item in scene.items:
        if not isinstance(item, Polyline) or item.layer is not Layer.ZONE:
            items.append(item)
        elif len(points := cut_to(item.points, page.grown(-_BORDER))) > 1:
            items.append(replace(item, points=points))
    return replace(scene, items=tuple(items))


def _clip(canvas: Canvas, box: Box) -> None:
    path = canvas.beginPath()
    path.rect(box.left * POINTS, box.bottom * POINTS, box.width * POINTS, box.height * POINTS)
    canvas.clipPath(path, stroke=0, fill=0)


def _write(view: View, name: Name) -> None:
    """On a patch of white, so that no line runs through a letter."""
    canvas, box = view.canvas, name.box
    half_long, half_high = (box.height, box.width) if name.upright else (box.width, box.height)
    canvas.saveState()
    canvas.translate(*view.at(name.x, name.y))
    if name.upright:
        canvas.rotate(90)
    canvas.setFillGray(1)
    canvas.rect(-half_long / 2 * POINTS, -half_high / 2 * POINTS, half_long * POINTS, half_high * POINTS,
                stroke=0, fill=1)
    canvas.setFillGray(0)
    write(canvas, 0, -name.size * 0.34 / POINTS, name.text, name.size, font=name.font, anchor="middle")
    canvas.restoreState()


def _way_up(canvas: Canvas, page: Page, wall: bool) -> None:
    """An arrow in the margin, above the bar: a template of two holes looks right upside down, too."""
    room = page.template
    x, low, high = room.left - 6, room.bottom + UP + 16, room.top
    canvas.setLineWidth(0.5 * POINTS)
    canvas.setDash([])
    canvas.line(x * POINTS, low * POINTS, x * POINTS, (high - 3) * POINTS)
    path = canvas.beginPath()
    path.moveTo((x - 2.5) * POINTS, (high - 5) * POINTS)
    path.lineTo(x * POINTS, high * POINTS)
    path.lineTo((x + 2.5) * POINTS, (high - 5) * POINTS)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)
    canvas.saveState()
    canvas.translate((x - 2) * POINTS, (low + high - 5) / 2 * POINTS)
    canvas.rotate(90)
    write(canvas, 0, 0, words.UP_TO_WALL if wall else words.UP, 9, font=BOLD, anchor="middle")
    canvas.restoreState()


def _whole_or_named(edges: list[Edge], shown: Box) -> list[Edge]:
    """Name something below the top that runs off the page as what it is: half a clip looks like an edge. A datum has
    one name, not also that of the edge that it lies on. Drawings that were kept before they had datums are printed as
    they were."""
    datums = [edge.at for edge in edges if edge.layer is Layer.DATUM and edge.level]
    if not datums:
        return edges
    own = [edge for edge in edges if not (edge.layer is Layer.CUT_OUT and edge.level
                                          and any(abs(edge.at - at) < _SAME for at in datums))]
    return [named_whole(edge, shown) for edge in own]


def _say(canvas: Canvas, tiling: Tiling, tile: Tile, sheet: Sheet, part: Part, lay: str) -> None:
    """What for, laid on what, and which sheet of how many."""
    room = tiling.page.template
    which = words.WHOLE_TEMPLATE
    if len(tiling.tiles) > 1:
        which = words.which_page(tile.row + 1, tiling.rows, tile.column + 1, tiling.columns)
    lines = ((words.full_size(part.name, sheet.option), 9.0, BOLD), (lay, 9.0, PLAIN), (which, 8.0, PLAIN))
    for up, (text, size, font) in zip((9.0, 5.2, 1.5), lines, strict=True):
        write(canvas, room.left, room.top + up, shortened(text, size, room.width, font), size, font=font)
    write(canvas, room.left, 12.5, words.PRINT_AT_FULL_SIZE, 7.5)
