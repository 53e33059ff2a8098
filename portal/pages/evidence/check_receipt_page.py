"""The page that checks a receipt in the browser: one file, under `/check/receipt/` and in each own copy. It sends
nothing. Where a browser can't do it, the page shows how it is done by hand, as the guide does."""

import json
from functools import lru_cache

from markupsafe import Markup

from portal.content import piece
from portal.folders import STATIC
from portal.pages.environment import render_with_script, self_policy_of
from portal.record.log.entry_kinds import KINDS
from portal.store.facts import FirmFact

_TEMPLATE = "check_receipt.html"
_FROM, _TO = "<h2>What you need</h2>", "<h2>The whole record</h2>"
"""The part of the guide that is about one receipt."""


def render_receipt_check(firm: FirmFact) -> str:
    kinds = Markup(json.dumps(KINDS, ensure_ascii=False).replace("</", "<\\/"))
    return render_with_script(_TEMPLATE, firm, script(), kinds=kinds, by_hand=_by_hand())


def receipt_check_policy() -> str:
    """Its Content-Security-Policy: this script by its hash, and no request to anybody."""
    return self_policy_of(_TEMPLATE, script())


@lru_cache(maxsize=1)
def script() -> str:
    """The script as it lies in static/, comments and all: whoever wonders what it does reads it in the page."""
    return f"\n{(STATIC / 'check_receipt.js').read_text(encoding='utf-8')}"


@lru_cache(maxsize=1)
def _by_hand() -> Markup:
    guide = piece("guide", "check-the-record")
    assert guide is not None
    begin = guide.html.index(_FROM)
    return Markup(guide.html[begin:guide.html.index(_TO, begin)])  # allow-listed by portal.words.prose
