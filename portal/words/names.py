"""Names of people as they write them, compared by one rule; and the number by which a house is known. Pure.

Whoever holds a private link types a name to sign with, and the office enters the name that stands on a paper. Nobody is
kept from signing by a comparison; they are asked once, where the name is in `doubtful`:

- It has nothing in common with the name that we know. A shared word is enough, since many sign with a short, a former
  or a married name; else each word of the shorter name must be a slip or an initial of one in the other.
- Or it fits somebody else of the project better: a family shares its last name, so the first name tells.

Order, capitals, marks, apostrophes, hyphens and spaces tell no two names apart, in any script.
"""

import re
import unicodedata
from collections.abc import Iterable
from difflib import SequenceMatcher

_PARTED = "".join(c if c == "_" or c.isalnum() else " " for c in map(chr, range(128)))
"""What stands for each letter of ASCII where words are parted."""
_NEAR = 0.8
"""How much of two words must agree for one to be a slip of the other: a letter of five, two of ten."""
_INITIAL = 0.5
_SHORTEST = 3
"""From so many letters on, the beginning of a name is its short form: Jon, Alex."""
_PARTICLES = frozenset({
    "bin", "da", "das", "de", "del", "den", "der", "di", "do", "dos", "du", "la", "le", "los", "ter", "van", "von", "y",
})  # fmt: skip
"""Words that stand in many names, and tell nobody."""
_FIRST = 0.5
"""What the first name counts more than the others. Where the family name comes first, it is those that tell."""
_HOUSE = " house"
_NUMBER = re.compile(r"\s*(\d{1,6}(?:\s?[A-Za-z](?![A-Za-z]))?(?:-\d{1,4})?)(?=[\s,]|$)")


def folded(text: str) -> str:
    """Write a text without capitals, marks and apostrophes, in any script: `Zoë O’Brien` is `zoe obrien`."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(c for c in apart if not unicodedata.combining(c) and c not in "'’ʼ`´")


def words_of(text: str) -> list[str]:
    """Split a text into its folded words: `Zoë O’Brien-Lund` is zoe, obrien, lund. A word is a row of letters, digits
    and low lines, with the vowel signs that some scripts write as marks; a hyphen parts words."""
    if text.isascii():  # the same, thirty times as fast
        return text.lower().replace("'", "").replace("`", "").translate(_PARTED).split()
    return "".join(c if c == "_" or unicodedata.category(c)[0] in "LMN" else " " for c in folded(text)).split()


def same_name(one: str, other: str) -> bool:
    """Tell whether two names have the same words in any order, or the same letters: `Okafor, Maren` and `maren
    okafor`; `O Brien` and `O’Brien`. Names without a letter or digit are the same as none."""
    here, there = words_of(one), words_of(other)
    return bool(here) and (sorted(here) == sorted(there) or "".join(here) == "".join(there))


def resembles(typed: str, known: str) -> bool:
    """Tell whether a typed name can be that of a person whose name we know, however they write it: one word of two
    letters or more is the same, or each word of the shorter name is one of the other, in full, by a slip or by its
    initial. Initials alone resemble no name."""
    here, there = words_of(typed), words_of(known)
    shared = {word for word in here if word in there and not _is_initial(word)}
    if same_name(typed, known) or shared - _PARTICLES:
        return True
    found = _paired(here, there)
    return len(found) == min(len(here), len(there)) and max(found.values(), default=0) > _INITIAL


def doubtful(typed: str, holder: str, others: Iterable[str]) -> bool:
    """Tell whether to ask if a typed name is really the holder's: it doesn't resemble that, or it fits one of `others`,
    the names of everybody else in the project, better. What fits several equally well is the holder's."""
    if not resembles(typed, holder):
        return True
    own = _fit(typed, holder)
    return any(_fit(typed, other) > own for other in others)


def _fit(typed: str, known: str) -> tuple[float, bool]:
    """How much of a name stands in what was typed; then, whether nothing else does."""
    if same_name(typed, known):
        return len(words_of(known)) + _FIRST, True
    found = _paired(words_of(typed), words_of(known))
    return sum(found.values()) + _FIRST * found.get(0, 0), False


def _paired(here: list[str], there: list[str]) -> dict[int, float]:
    """How much each word of `there` that has one in `here` is like it, by its place. The best first, each word once."""
    pairs = sorted((-_alike(one, other), place, at) for at, one in enumerate(here) for place, other in enumerate(there))
    taken: set[int] = set()
    found: dict[int, float] = {}
    for alike, place, at in pairs:
        if alike and place not in found and at not in taken:
            taken.add(at)
            found[place] = -alike
    return found


def _alike(one: str, other: str) -> float:
    """1 for the same word, less for a slip, a short form or an initial, 0 for another word."""
    if one == other:
        return 1
    if _is_initial(one) or _is_initial(other):
        return _INITIAL if one[0] == other[0] else 0
    if min(len(one), len(other)) >= _SHORTEST and (one.startswith(other) or other.startswith(one)):
        return _NEAR
    near = SequenceMatcher(None, one, other).ratio()
    return near if near >= _NEAR else 0


def _is_initial(word: str) -> bool:
    """One letter of a script with capitals; in others, one character is often a whole name."""
    return len(word) == 1 and word.upper() != word


def plate(address: str, name: str) -> str:
    """The number of the street that the address begins with: `14` of `14 Tamarack Lane`. Without one, the first letter
    of the house's name; `?` of a name without letters."""
    number = _NUMBER.match(address)
    if number:
        return number[1].replace(" ", "").upper()
    return next((letter.upper() for letter in name if letter.isalnum()), "?")


def beside_plate(name: str) -> str:
    """The name of a house beside its plate, which says already that it is one: `Okafor` of `Okafor house`."""
    return name[:-len(_HOUSE)].strip() or name if name.casefold().endswith(_HOUSE) else name


def street(address: str) -> str:
    """The street without the number that stands on the plate, and without the town: `Tamarack Lane`. Without a number,
    all before the first comma."""
    first = address.split(",")[0].strip()
    number = _NUMBER.match(first)
    return first[number.end():].strip() or first if number else first


def plate_words(address: str, name: str) -> str:
    """What the plate says to who can't see that it is one: `Okafor house, number 14`; else the name of the house."""
    return f"{name}, number {plate(address, name)}" if _NUMBER.match(address) else name


def initials(name: str) -> str:
    """At most three, as a firm would put them on a van: `BR` of Brackwater Remodeling; empty for no name."""
    return "".join(word[0].upper() for word in name.split() if word[0].isalnum())[:3]


def called(name: str, names: Iterable[str]) -> str:
    """Give the first name, where nobody else of these has it; else the whole name."""
    first = name.split()[0] if name.split() else name
    same = [one for one in names if one.split()[:1] == [first]]
    return first if len(same) <= 1 else name
