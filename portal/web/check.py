"""`/check/<check code>/`, where the square code on a drilling sheet leads: is that revision still the approved one?"""

import re

from flask import Blueprint, Flask, Response

from portal import clock
from portal.pages.check_page import render_check, render_short_code
from portal.store.check_codes import revisions_with
from portal.store.database import read
from portal.store.snapshot import read_firm
from portal.web.answer import page

SHORTEST = 24
"""Hex digits, 96 bits: nobody finds a code by trying. The short form is for comparing by eye, not for this."""

blueprint = Blueprint("check", __name__)


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)


@blueprint.get("/check/<code>/")
def check(code: str) -> Response:
    digits = code.replace("-", "").lower()
    with read():
        firm = read_firm()
        if re.fullmatch(r"[0-9a-f]+", digits) and len(digits) < SHORTEST:
            return page(render_short_code(firm, SHORTEST), 404)
        found = revisions_with(digits) if re.fullmatch(r"[0-9a-f]{24,64}", digits) else []
    return page(render_check(firm, found, clock.now()), 200 if found else 404)
