"""Whose link it is, and what was typed there as a name. A link is the only credential: both are said when they differ.

Names are compared without case and accents, and leniently: many sign with a short or a former name. Nobody is kept from
signing by a comparison; they are asked once.
"""

import re
import unicodedata
from collections.abc import Iterable

from portal.store.facts import ApprovalFact, PersonFact


def resembles(typed: str, holder: str) -> bool:
    """Whether both share a word of two letters or more, or are the same."""
    one, other = _plain(typed), _plain(holder)
    return one == other or bool(_long_words(one) & _long_words(other))


def signer_words(holder: str, typed: str) -> str:
    """`Maren Okafor`, or `Maren Okafor, who typed “M. Oak”,` where another name was typed (the sentence goes on)."""
    return typed if not holder or _plain(typed) == _plain(holder) else f"{holder}, who typed “{typed}”,"


def signed_by(approval: ApprovalFact, people: Iterable[PersonFact]) -> str:
    """Who approved. Of someone who is no longer of the household, what they typed."""
    holder = next((person.name for person in people if person.id == approval.person_id), "")
    return signer_words(holder, approval.name)


def doubt(holder: str, typed: str) -> str:
    """What to ask of whoever typed a name that isn't like the holder's."""
    return (
        f"This is the link of {holder}, and you typed “{typed}”. If you are {holder} and sign this way, press the "
        "button once more. If you are someone else, please use the link that we sent to you."
    )


def _plain(name: str) -> str:
    apart = unicodedata.normalize("NFKD", name.casefold())
    return " ".join("".join(c for c in apart if not unicodedata.combining(c)).split())


def _long_words(name: str) -> set[str]:
    return set(re.findall(r"[^\W\d_]{2,}", name))
