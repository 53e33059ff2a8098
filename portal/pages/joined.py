"""Keeps together on one line what is read as one: dates, times, lengths, codes, phone numbers. For HTML only.

The words themselves stay plain everywhere else (the record, JSON, mail). Between words that a line may not part stands
U+00A0; what holds a hyphen or a stroke goes into an element that does not wrap, so that what is copied from a page is
what was written. Every page that is published goes through here: the patterns begin with what is rare. Here too no
sentence ends twice (`portal/words/stops.py`), since people's questions stand at the end of ours.
"""

import re
from re import Match

from portal.words.stops import stopped_once

_LEFT_ALONE = "style|script|title|textarea|option|svg|pre"
_MARKUP = re.compile(
    rf"(<({_LEFT_ALONE})\b.*?</\2>"
    r"""|<[^>"']*(?:"[^"]*"[^>"']*|'[^']*'[^>"']*)*>)""", re.DOTALL
)  # fmt: skip
_GROUPS = 2
_DAYS = frozenset(("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"))
_MONTHS = frozenset((
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "January", "February", "March",
    "April", "June", "July", "August", "September", "October", "November", "December",
))  # fmt: skip
_PIECES = re.compile(
    r"\b(?:(?:[MTWFS][a-z]{2} )?[JFMASOND][a-z]{2,8} \d\d?\b"
    r"|[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}(?:-[0-9a-f]{4})?\b"
    r"|\d[\d:/-]*(?: (?:[ap]m|in|mm|ft|h)\b)?)"
)
_WHOLE = re.compile(r"\d+-\d+/\d+(?: in)?|\d+/\d+ in|(?:[0-9a-f]{4}-){2,3}[0-9a-f]{4}|\d{3}-\d{3}-\d{4}")
_NBSP = "\u00a0"
_BETWEEN = "\0"  # in no text that is kept (portal.words.typed)


def joined(html: str) -> str:
    """The same page, which breaks its lines elsewhere."""
    html = html.replace(_BETWEEN, "")
    parts = _MARKUP.split(html)
    texts = _PIECES.sub(_join, _BETWEEN.join(parts[::_GROUPS + 1]))  # at once: a call for each costs more than it does
    parts[::_GROUPS + 1] = stopped_once(texts).split(_BETWEEN)
    del parts[_GROUPS::_GROUPS + 1]  # the names of elements that are left alone
    return "".join(parts)


def _join(found: Match[str]) -> str:
    piece = found[0]
    if _WHOLE.fullmatch(piece):
        return f'<span class="n">{piece}</span>'
    *words, _ = piece.split(" ")
    if piece[0].isdecimal() or (words[-1:] and words[-1] in _MONTHS and (len(words) == 1 or words[0] in _DAYS)):
        return piece.replace(" ", _NBSP)
    return piece
