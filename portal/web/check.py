"""`/check/<check code>/`, where the square code on a drilling sheet leads: is that revision still the approved one, and
its option (`?option=`) the one that was approved?

`/check/` also takes the words that each letter carries of the record (`record.papers.head_line`), and says if the
record still begins with what it was then. It answers only what we signed ourselves.

`/check/receipt/` is the page that checks a receipt in the browser.

`/check/` takes the code typed from the sheet, whole or as its short form of 12 digits. Those 48 bits may be public: a
guess among 10,000 revisions hits once in 28,000,000,000 tries, an address may try once a second (years of
asking for less than one hit in a hundred), and a hit tells that some revision is approved or not, never whose.
"""

import re

from flask import Blueprint, Flask, Response, request

from portal import clock
from portal.acts.keeping.held_heads import disagreements
from portal.acts.limits import take
from portal.pages.evidence.check_page import (
    render_ambiguous,
    render_asking,
    render_check,
    render_held,
    render_short_code,
)
from portal.pages.evidence.check_receipt_page import receipt_check_policy, render_receipt_check
from portal.record.log.heads import SignedHead
from portal.record.papers.head_line import heads_in_text
from portal.request.heads import FRAMED_NOWHERE
from portal.request.origin import origin
from portal.store.engine.database import read
from portal.store.facts import FirmFact
from portal.store.reading.revisions.check_codes import revisions_with
from portal.store.reading.snapshot import read_firm
from portal.store.rows import record_rows
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
    if heads := heads_in_text(code):
        return _held(heads[0])
    if code:
        return check(code)
    with read():
        return page(render_asking(read_firm()))


@blueprint.get("/check/receipt/")
def receipt() -> Response:
    """The page that checks a receipt in the browser: no code has its letters. Its script alone may run, here alone."""
    with read():
        answer = page(render_receipt_check(read_firm()))
    answer.headers["Content-Security-Policy"] = f"{receipt_check_policy()}; {FRAMED_NOWHERE}"
    return answer


@blueprint.get("/check/<code>/")
def check(code: str) -> Response:
    """Answer the address in the square code. 404 where nothing has this code."""
    take("check", origin(), clock.now())
    digits = re.sub(r"[\s\u2010-\u2015-]", "", code).lower().translate(_MISREAD)
    with read():
        html, known = _answer(read_firm(), digits, request.args.get("option", ""))
    return page(html, 200 if known else 404)


def _held(signed: SignedHead) -> Response:
    take("check", origin(), clock.now())
    with read():
        ours = signed.holds and signed.public_key in record_rows.keys_ever()
        wrong = disagreements([signed.head]) if ours else []
        return page(render_held(read_firm(), signed, ours=ours, begins=not wrong), 200 if ours else 404)


def _answer(firm: FirmFact, digits: str, option: str) -> tuple[str, bool]:
    if re.fullmatch(r"[0-9a-f]*", digits) and len(digits) < SHORTEST:
        return render_short_code(firm, SHORTEST), False
    found = revisions_with(digits) if re.fullmatch(rf"[0-9a-f]{{{SHORTEST},{WHOLE}}}", digits) else []
    if len(found) > 1 and len(digits) < WHOLE:
        return render_ambiguous(firm), True
    return render_check(firm, found, clock.now(), option), bool(found)
