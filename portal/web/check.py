"""`/check/<check code>/`, where the square code on a drilling sheet leads: is that revision still the approved one, and
its option (`?option=`) the one that was approved?

`/check/` takes the code typed from the sheet, whole or as its short form of 12 digits. Those 48 bits may be public: a
guess among 10,000 revisions hits once in 28,000,000,000 tries, nginx passes one a second from an address (years of
asking for less than one hit in a hundred), and a hit tells that some revision is approved or not, never whose.
"""

import re

from flask import Blueprint, Flask, Response, request

from portal import clock
from portal.pages.evidence.check_page import render_ambiguous, render_asking, render_check, render_short_code
from portal.store.engine.database import read
from portal.store.facts import FirmFact
from portal.store.reading.check_codes import revisions_with
from portal.store.reading.snapshot import read_firm
from portal.web.answer import page

SHORTEST = 12
"""Hex digits: the short form, as it is printed."""
WHOLE = 64

_MISREAD = str.maketrans("oil", "011")  # no such letters are in a code: whoever types them means the digit

blueprint = Blueprint("check", __name__)


def register(app: Flask) -> None:
    """Serve the addresses of this module."""
    app.register_blueprint(blueprint)


@blueprint.get("/check/")
def typed() -> Response:
    """Answer a code that was typed, or ask for one."""
    code = request.args.get("code", "").strip()
    if code:
        return check(code)
    with read():
        return page(render_asking(read_firm()))


@blueprint.get("/check/<code>/")
def check(code: str) -> Response:
    """Answer the address in the square code. 404 where nothing has this code."""
    digits = re.sub(r"[\s\u2010-\u2015-]", "", code).lower().translate(_MISREAD)
    with read():
        html, known = _answer(read_firm(), digits, request.args.get("option", ""))
    return page(html, 200 if known else 404)


def _answer(firm: FirmFact, digits: str, option: str) -> tuple[str, bool]:
    if re.fullmatch(r"[0-9a-f]*", digits) and len(digits) < SHORTEST:
        return render_short_code(firm, SHORTEST), False
    found = revisions_with(digits) if re.fullmatch(rf"[0-9a-f]{{{SHORTEST},{WHOLE}}}", digits) else []
    if len(found) > 1 and len(digits) < WHOLE:
        return render_ambiguous(firm), True
    return render_check(firm, found, clock.now(), option), bool(found)
