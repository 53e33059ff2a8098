"""What designers and those who only look on read until an owner says yes: everything but sums.

Sums are taken out of the facts before anything is made of them, so that no page, letter, calendar or sheet has to think
of it. Fields that hold a price are empty; in what people wrote, a sum of money is replaced by words.
"""

import re
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from portal.store.facts import PersonFact, Snapshot
from portal.words.lists import listed

T = TypeVar("T")

LEFT_OUT = "(price left out)"
_FIELDS = frozenset({"cost_cents", "contract_cents", "cents"})
_SIGNS = "$\u00a2\uff04"  # dollar, cent, and the wide dollar
_NUMBER = r"\d(?:[\d,.\u00a0\u202f]{0,60}\d)?(?:[ \u2009]\d{3}(?!\d))*(?:\s?(?:k|m|million|thousand)\b)?"
_GAP = r"(?:[\s*_~\u200b-\u200d\u2060\ufeff]|</?(?:strong|em|code)>)*"  # Markdown's marks, and what is not seen
_DASH = r"\s?[-\u2010-\u2015\u2212/]\s?"
_TO = rf"(?:{_DASH}|\s(?:to|or|and)\s(?=[\d,]{{3}}))"
_SUM = re.compile(
    rf"(?:[-+\u2212]\s?)?(?:(?:US\s?)?[{_SIGNS}]|USD){_GAP}{_NUMBER}(?:{_TO}{_NUMBER})?"
    rf"|\b(?:{_NUMBER}(?:{_DASH}|\s(?:to|or|and)\s))?{_NUMBER}{_GAP}(?:[{_SIGNS}]|(?:dollars?|bucks?|cents?|USD)\b)",
    re.IGNORECASE,
)
"""A sum, and both ends of `$1,200 to 1,500` or `1,200-1,500 dollars`."""
_ENTITY = re.compile(r"&#(?:0*36|x0*24);|&dollar;", re.IGNORECASE)


def without_sums(snapshot: Snapshot) -> Snapshot:
    """The same facts without a sum in any of them. Hashes and check codes stay: they are of what was shown."""
    return replace(without(snapshot), sums=False)


def seen_by(snapshot: Snapshot, person_id: int) -> Snapshot:
    """The facts as this person of the household may read them; somebody who is none of it any more reads no sums."""
    reads = any(one.id == person_id and one.reads_sums for one in snapshot.people)
    return snapshot if reads else without_sums(snapshot)


def without(value: T) -> T:
    """A value of any shape without the sums in it: facts, JSON, texts."""
    found: T = _without(value)
    return found


def prices_words(snapshot: Snapshot) -> str:
    """That prices are left out, and who can show them; empty where they are not."""
    if snapshot.sums:
        return ""
    owners = listed([one.name for one in snapshot.owners], "or")
    return f"Prices are left out on your pages. {owners or 'An owner'} can have them shown to you."


def others_than_owners(snapshot: Snapshot) -> list[PersonFact]:
    """Those of whom an owner says whether they read prices."""
    return [one for one in snapshot.people if not one.is_owner]


def _without(value: Any) -> Any:
    if isinstance(value, str):
        return _SUM.sub(LEFT_OUT, _ENTITY.sub("$", value)) if _may_hold(value) else value
    if isinstance(value, dict):
        return {name: None if name in _FIELDS else _without(inner) for name, inner in value.items()}
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{one.name: _field(value, one.name) for one in fields(value)})
    if isinstance(value, tuple) and (names := getattr(value, "_fields", ())):
        return type(value)(*(_field(value, name) for name in names))
    return type(value)(map(_without, value)) if isinstance(value, list | tuple) else value


def _field(value: Any, name: str) -> Any:
    return None if name in _FIELDS else _without(getattr(value, name))


def _may_hold(text: str) -> bool:
    """Spares the others the search: most texts name no sum."""
    low = text.lower()
    return any(sign in low for sign in (*_SIGNS, "usd", "dollar", "buck", "cent", "&#"))
