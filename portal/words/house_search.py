"""What a caller says of a house, as words to look for: people say “the Okafors on Tamarack Lane”. Pure."""

from collections import Counter
from collections.abc import Collection, Iterable
from difflib import get_close_matches

from portal.words.names import words_of

MOST_WORDS = 8
_NEAR = 0.7
_SLIP = 1e-6  # of a comparison that is not exact
_PARTS = "\n"  # is in no word
_IDLE = frozenset({"a", "an", "at", "family", "home", "house", "in", "mr", "mrs", "ms", "of", "on", "the"})
"""Said along with a name, and no help in finding it."""

# USPS Publication 28, appendices C1 (street suffixes) and B (directions); from memory.
_SHORT = {
    "alley": "aly", "avenue": "ave", "boulevard": "blvd", "circle": "cir", "court": "ct", "cove": "cv",
    "crescent": "cres", "crossing": "xing", "drive": "dr", "estates": "ests", "expressway": "expy", "extension": "ext",
    "freeway": "fwy", "gardens": "gdns", "grove": "grv", "heights": "hts", "highway": "hwy", "hill": "hl",
    "hills": "hls", "hollow": "holw", "island": "is", "junction": "jct", "lake": "lk", "landing": "lndg", "lane": "ln",
    "manor": "mnr", "meadows": "mdws", "mount": "mt", "mountain": "mtn", "parkway": "pkwy", "place": "pl",
    "plaza": "plz", "point": "pt", "ridge": "rdg", "river": "riv", "road": "rd", "route": "rte", "shore": "shr",
    "square": "sq", "street": "st", "terrace": "ter", "trail": "trl", "turnpike": "tpke", "valley": "vly",
    "view": "vw", "village": "vlg", "north": "n", "south": "s", "east": "e", "west": "w", "northeast": "ne",
    "northwest": "nw", "southeast": "se", "southwest": "sw",
} | {"av": "ave", "boul": "blvd", "crt": "ct", "drv": "dr", "pky": "pkwy", "str": "st", "terr": "ter", "tr": "trl"}


def said_words(text: str) -> list[str]:
    """Split what was said into the words to look for, without idle ones; where there are no others, with them. No more
    than MOST_WORDS; as they were said, with capitals and marks."""
    words = [word for word in text.split() if words_of(word)]
    telling = [word for word in words if not _IDLE.issuperset(words_of(word))]
    return (telling or words)[:MOST_WORDS]


def is_found(word: str, house: frozenset[str], phones: Iterable[str]) -> bool:
    """Tell whether a house has a word that was said: as one of its words or part of one, or in a phone number.

    `house`: its words as names.words_of gives them. `phones`: its numbers, digits alone. A short form of a street is
    the long one; digits are found only where a word begins.
    """
    if has_number(word, phones):
        return True
    return all(_in_words(part, house) for part in words_of(word))


def has_number(said: str, phones: Iterable[str]) -> bool:
    """Tell whether the digits of what was said, at least three, stand in a phone number in their order. `phones`:
    digits alone."""
    digits = telling_digits(said)
    return bool(digits) and any(digits in phone for phone in phones)


def telling_digits(said: str) -> str:
    """The digits of what was said; empty where they are fewer than three, which stand in any number."""
    digits = "".join(c for c in said if c.isdecimal())
    return digits if len(digits) >= 3 else ""


def pieces(part: str) -> set[str]:
    """Of these, one at least stands in the folded texts of every house in which `is_found` finds the part."""
    if part.isdecimal():
        return {part}
    same = {long for long, short in _SHORT.items() if short == _short(part)}
    return {min(_forms(part), key=len), _short(part), *same}


def nearest(said: Iterable[str], known: Iterable[str]) -> list[str]:
    """Find the known words that are written most like one that was said: at most five a word, the best first, those of
    the first word before those of the second. Words of one or two letters are like none. `known`: folded."""
    vocabulary = list({*known})  # their order tells nothing: those as near come by the alphabet, backwards
    joined = _PARTS.join(vocabulary)
    letters = set(joined) - {_PARTS}
    found: list[str] = []
    for word in list(said)[:MOST_WORDS] if vocabulary else []:
        for part in words_of(word):
            if len(part) > 2:
                shared = joined.translate(dict.fromkeys(map(ord, letters - set(part)))).split(_PARTS)
                found += get_close_matches(part, _may_be_near(part, vocabulary, shared), 5, _NEAR)
    return list(dict.fromkeys(found))


def nearest_numbers(said: str, phones: Collection[str]) -> list[str]:
    """Of the phone numbers (digits alone) those that end in digits most like those that were said, all but one of them
    in their order: at most five, the best first. Fewer than four digits are like none."""
    digits = telling_digits(said)
    if len(digits) < 4:
        return []
    ends = {phone[-len(digits):] for phone in phones}
    near = get_close_matches(digits, sorted(ends), 5, 1 - 1 / len(digits) - _SLIP)
    return sorted((phone for phone in {*phones} if phone[-len(digits):] in near),
                  key=lambda phone: (near.index(phone[-len(digits):]), phone))[:5]


def _may_be_near(part: str, words: list[str], shared: list[str]) -> list[str]:
    """Those of the words that share enough letters with the part, in whatever order: get_close_matches takes its time
    for each word, and a firm has ten thousand. `shared`: of each word, the letters that stand in the part."""
    each, least = _NEAR / 2, _NEAR / 2 * len(part) - _SLIP
    some = [(word, same) for word, same in zip(words, shared, strict=True) if len(same) >= each * len(word) + least]
    many = Counter(part)
    return [
        word for word, same in some
        if sum(min(same.count(letter), count) for letter, count in many.items()) >= each * len(word) + least
    ]


def _in_words(part: str, house: frozenset[str]) -> bool:
    if part.isdecimal():
        return any(word.startswith(part) for word in house)
    if any(_short(word) == _short(part) for word in house):
        return True
    if part in _SHORT.values():
        return any(word.startswith(part) for word in house)
    return any(form in word for form in _forms(part) for word in house)


def _short(word: str) -> str:
    return _SHORT.get(word, word)


def _forms(part: str) -> list[str]:
    """As said, and without the s of several or of whose it is: the Okafors, Okafor's, the Joneses."""
    shorter = [part.removesuffix(end) for end in ("s", "es") if part.endswith(end) and len(part) > len(end) + 2]
    return [part, *shorter]
