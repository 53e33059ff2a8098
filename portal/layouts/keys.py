"""What a layout is, as a short key: built of its kind, its rule and its places, and never of a sentence.

A key is lower case and has no spaces, so that it can stand in an address, in a form and in JSON. It stays the same
however the layout is worded.
"""

import re
import unicodedata
from collections.abc import Iterable

from portal.layouts.length import Length

_LONGEST = 24


def joined(*parts: str) -> str:
    """Join the parts of a key: `pulls:rail:quarter`. Empty parts are left out."""
    return ":".join(part for part in parts if part)


def place(at: Length) -> str:
    """Name a place by its millimeters, exactly: `1219.2mm`, `1000/3mm` where no decimal of 6 places is exact."""
    micro = at.mm * 10**6
    if micro.denominator != 1:
        return f"{at.mm}mm"
    whole, rest = divmod(abs(micro.numerator), 10**6)
    text = f"{whole}.{rest:06}".rstrip("0").rstrip(".")
    return f"{'-' if micro < 0 else ''}{text}mm"


def short_names(names: Iterable[str], taken: Iterable[str] = ()) -> dict[str, str]:
    """Shorten each name to what can stand in a key: `Soap dispenser` is `soap-dispenser`. Two that shorten to the same
    are numbered in their order, and none is one of `taken`. At most 24 letters, and the number."""
    found: dict[str, str] = {}
    used = set(taken)
    for name in names:
        short = base = _short(name)
        number = 1
        while short in used:
            number += 1
            short = f"{base}-{number}"
        used.add(short)
        found[name] = short
    return found


def _short(name: str) -> str:
    plain = unicodedata.normalize("NFKC", name).casefold()
    return re.sub(r"[\W_]+", "-", plain).strip("-")[:_LONGEST].rstrip("-") or "it"
