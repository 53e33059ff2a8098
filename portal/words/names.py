"""Whether a name that stands on paper is that of a person, as people write their names: initials, order, slips."""

import re
import unicodedata
from difflib import SequenceMatcher

_NEAR = 0.8


def folded(name: str) -> list[str]:
    """The words of a name without capitals and marks: `Zoë O’Brien-Lund` is zoe, obrien, lund."""
    apart = unicodedata.normalize("NFKD", name.casefold())
    letters = "".join(c for c in apart if not unicodedata.combining(c) and c not in "'’")
    return re.findall(r"\w+", letters)


def resembles(signed: str, name: str) -> bool:
    """Every word of the shorter one is found in the other, the first name among them: a family shares the last."""
    on_paper, known = folded(signed), folded(name)
    shorter, longer = sorted((on_paper, known), key=len)
    first = any(_same(known[0], word) for word in on_paper) if known else False
    whole = any(len(word) > 1 for word in on_paper)
    return first and whole and all(any(_same(word, other) for other in longer) for word in shorter)


def _same(one: str, other: str) -> bool:
    if len(one) == 1 or len(other) == 1:
        return one[0] == other[0]
    return SequenceMatcher(None, one, other).ratio() >= _NEAR
