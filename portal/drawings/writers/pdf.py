"""The drilling sheet as PDF: written pages, then the template at full size. The same input gives the same bytes."""

import io
import math

from reportlab.pdfgen.canvas import Canvas

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Circle, Scene, SceneError
from portal.drawings.sheets.frame import finish_page
from portal.drawings.sheets.front import write_front
from portal.drawings.sheets.paper import Page, Paper, upright
from portal.drawings.sheets.parts import Part, template_parts
from portal.drawings.sheets.sheet import Sheet
from portal.drawings.sheets.template import draw_tile, template_scene
from portal.drawings.sheets.tiles import MOST, Spot, Tiling, tile
from portal.drawings.sheets.writer import Writer
from portal.words.drawn import sheet_words as words

_CLEAR = 2.0  # mm between a cut line and a flange
_APART = 8.0  # mm between a cut line and a line that runs beside it
_HANDY = 12  # sheets of paper that a crew will join; beyond, numbers are safer than a template

Template = tuple[Part, Tiling]


def pdf(sheet: Sheet, scene: Scene, paper: Paper = Paper.LETTER) -> bytes:
    """Draw the sheet on `paper`.

    Every page is overprinted unless the sheet's revision is approved and the latest. A template that would take more
    than 40 pages is left out, and the first page says so.
    """
    templates, said = _templates(scene, paper)
    total = _draw(sheet, scene, paper, templates, said, total=0)[1]
    return _draw(sheet, scene, paper, templates, said, total)[0]


def _templates(scene: Scene, paper: Paper) -> tuple[list[Template], str]:
    """What is printed at full size, and what the first page says about it."""
    parts = template_parts(scene)
    if not parts:
        return [], words.NO_HOLES
    tiled = [(part, _handy(part, scene, paper)) for part in parts]
    found = [(part, tiling) for part, tiling in tiled if tiling]
    if not found:
        return [], words.TOO_FAR
    if sum(len(tiling.tiles) for _, tiling in found) > MOST:
        return [], words.too_many(MOST)
    without = [part.name for part, tiling in tiled if not tiling]
    return found, f"{words.FOLLOWS} {words.none_for(without)}" if without else words.FOLLOWS


def _handy(part: Part, scene: Scene, paper: Paper) -> Tiling | None:
    """The sheets of one template; None where they are more than a crew will join."""
    try:
        mark = f"{part.fronts[0]}-" if part.fronts else ""
        tiling = tile(part.region, paper, part.holes, mark, _beside(part, scene))
    except SceneError:
        return None
    return tiling if len(tiling.tiles) <= _HANDY else None


def _beside(part: Part, scene: Scene) -> list[Spot]:
    """What a joint should not run through or along: flanges, and upright lines that would be taken for it."""
    flanges = [Spot(i.x, i.y, i.diameter / 2 + _CLEAR) for i in scene.only(Layer.FLANGE) if isinstance(i, Circle)]
    upright = [Spot(edge.at, math.inf, _APART) for edge in part.edges(scene) if not edge.level]
    return [*flanges, *upright]


def _draw(
    sheet: Sheet, scene: Scene, paper: Paper, templates: list[Template], said: str, total: int
) -> tuple[bytes, int]:
    """The file and its number of pages, which the first round finds out for the second."""
    out = io.BytesIO()
    page = upright(paper)
    canvas = Canvas(out, pagesize=page.points, invariant=1, lang="en")
    canvas.setTitle(f"{sheet.title}: {sheet.name}")
    canvas.setSubject(sheet.approval)
    canvas.setAuthor("")
    canvas.setViewerPreference("PrintScaling", "None")  # ISO 32000-1, table 150: the printer is asked for actual size
    pages = 0

    def turn(on: Page) -> None:
        nonlocal pages
        pages += 1
        finish_page(canvas, sheet, on, pages, total)

    write_front(Writer(canvas, page, lambda: turn(page)), sheet, scene, about_template=said,
                to_size=bool(templates))
    turn(page)
    for part, tiling in templates:
        full, plan = template_scene(scene, part)
        edges = part.edges(scene)
        for one in tiling.tiles:
            canvas.setPageSize(tiling.page.points)
            draw_tile(canvas, tiling, one, full, plan, sheet, part, edges)
            turn(tiling.page)
    canvas.save()
    return out.getvalue(), pages
