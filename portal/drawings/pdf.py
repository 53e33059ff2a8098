"""The drilling sheet as PDF: written pages, then the template at full size. The same input gives the same bytes."""

import io

from reportlab.pdfgen.canvas import Canvas

from portal.drawings.scene import Scene, SceneError
from portal.drawings.sheets.frame import finish_page
from portal.drawings.sheets.front import Writer, write_front
from portal.drawings.sheets.paper import Page, Paper, upright
from portal.drawings.sheets.sheet import Sheet, holes_of, template_region
from portal.drawings.sheets.template import draw_tile, template_scene
from portal.drawings.sheets.tiles import Tiling, tile

_HANDY = 12  # sheets of paper that a crew will join; beyond, numbers are safer than a template

_TOO_FAR = "Not full size, and no full-size template: the holes lie too far apart for one. Measure each one."
_NO_HOLES = "Not full size, and no full-size template: there are no holes to drill here."


def pdf(sheet: Sheet, scene: Scene, paper: Paper = Paper.LETTER) -> bytes:
    """Draw the sheet on `paper`.

    Every page is overprinted unless the sheet's revision is approved and the latest. Raises SceneError when
    `sheet.template` takes more than 40 pages.
    """
    tiling, why_not = _template(sheet, scene, paper)
    total = _draw(sheet, scene, paper, tiling, why_not, total=0)[1]
    return _draw(sheet, scene, paper, tiling, why_not, total)[0]


def _template(sheet: Sheet, scene: Scene, paper: Paper) -> tuple[Tiling | None, str]:
    region = template_region(sheet, scene)
    if region is None:
        return None, _NO_HOLES
    try:
        tiling = tile(region, paper, holes_of(scene))
    except SceneError:
        if sheet.template is not None:
            raise
        return None, _TOO_FAR
    if sheet.template is None and len(tiling.tiles) > _HANDY:
        return None, _TOO_FAR
    return tiling, ""


def _draw(
    sheet: Sheet, scene: Scene, paper: Paper, tiling: Tiling | None, why_not: str, total: int
) -> tuple[bytes, int]:
    """The file and its number of pages, which the first round finds out for the second."""
    out = io.BytesIO()
    page = upright(paper)
    canvas = Canvas(out, pagesize=page.points, invariant=1, lang="en")
    canvas.setTitle(f"{sheet.title}: {sheet.name}")
    canvas.setSubject(sheet.approval)
    canvas.setAuthor("")
    pages = 0

    def turn(on: Page) -> None:
        nonlocal pages
        pages += 1
        finish_page(canvas, sheet, on, pages, total)

    write_front(Writer(canvas, page, lambda: turn(page)), sheet, scene, without_template=why_not)
    turn(page)
    if tiling is not None:
        full, plan = template_scene(scene)
        for part in tiling.tiles:
            canvas.setPageSize(tiling.page.points)
            draw_tile(canvas, tiling, part, full, plan)
            turn(tiling.page)
    canvas.save()
    return out.getvalue(), pages
