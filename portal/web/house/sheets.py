"""The drilling sheet under a private link: what the household holds is what the crew drills from."""

from flask import Response

from portal.request.sheet_answers import holes_dxf, sheet_pdf
from portal.web.house.blueprint import blueprint, decision_in, snapshot


@blueprint.get("/decisions/<int:number>/sheet.pdf")
def sheet(number: int) -> Response:
    shown = snapshot()
    return sheet_pdf(shown, decision_in(shown, number))


@blueprint.get("/decisions/<int:number>/holes.dxf")
def holes(number: int) -> Response:
    shown = snapshot()
    return holes_dxf(shown, decision_in(shown, number))
