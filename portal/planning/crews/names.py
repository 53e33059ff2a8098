"""Crews are known by the texts that plans and visits hold: which text is which crew, and which two are likely one."""

from collections.abc import Iterable
from difflib import SequenceMatcher
from functools import lru_cache

from portal.words.names import words_of

_NEAR = 0.85
"""How much of two names must agree to be shown as likely one: a letter of seven. It is only shown; people say so."""


@lru_cache(maxsize=4096)
def crew_key(text: str) -> str:
    """Give what tells a crew's name from others: its words without capitals, marks and signs. `  Stone-Crew ` and
    `stone crew` are the same; a name without a letter or digit is itself."""
    return " ".join(words_of(text)) or text.strip().casefold()


def likely_one(one: str, other: str) -> bool:
    """Tell whether two keys are probably one crew: singular and plural, written apart or together, a slip. Different
    numbers are different crews: `tile 1`, `tile 2`."""
    here, there = _stem(one), _stem(other)
    if here == there:
        return True
    same_digits = [c for c in here if c.isdigit()] == [c for c in there if c.isdigit()]
    return same_digits and SequenceMatcher(None, here, there).ratio() >= _NEAR


def likely_twins(keys: Iterable[str]) -> list[list[str]]:
    """Put keys together that are probably one crew, each in the first group in which one is like it; in order, also
    groups of one."""
    groups: list[list[str]] = []
    for key in dict.fromkeys(keys):
        home = next((group for group in groups if any(likely_one(key, other) for other in group)), None)
        if home is None:
            groups.append([key])
        else:
            home.append(key)
    return groups


@lru_cache(maxsize=4096)
def _stem(key: str) -> str:
    """Its words in the singular, written together."""
    return "".join(map(_singular, key.split()))


def _singular(word: str) -> str:
    if len(word) > 4 and word.endswith("ies"):
        return f"{word[:-3]}y"
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word
