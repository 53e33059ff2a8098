"""The bits that are sold for a hole: one of its own size, and the next that is hardly wider, each with the difference.

The sizes stand in content/bits.toml and are read once, when the program starts, as its code is.
"""

import tomllib
from dataclasses import dataclass
from typing import Any

from portal.folders import CONTENT
from portal.layouts.length import Length, LengthError

FILE = CONTENT / "bits.toml"
_FIELDS = {"sizes", "over", "source"}


class BitsError(ValueError):
    """The table can't be used; the message names the entry and what to do."""


@dataclass(frozen=True)
class Bits:
    """`sizes`: diameters, the narrowest first. `over`: how much wider than its hole a bit may be. `source`: who says
    that such bits are sold."""

    sizes: tuple[Length, ...]
    over: Length
    source: str

    def sold_for(self, hole: Length) -> tuple[Length, ...]:
        """Find the bit of each system for a hole: the narrowest in inches and the narrowest in mm that are not narrower
        and hardly wider; the nearer first. None: no usual bit fits."""
        near = [size for size in self.sizes if hole <= size <= hole + self.over]
        first = {size.unit.is_inch: size for size in reversed(near)}
        return tuple(sorted(first.values(), key=lambda size: (size.mm, size.unit != hole.unit)))


def read(text: str) -> dict[str, Bits]:
    """Read the table: an entry a kind of bit, with `sizes`, `over` and `source`. Raises BitsError."""
    try:
        entries: dict[str, Any] = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BitsError(f"{FILE.name} is no TOML: {error}") from error
    return {name: _bits(name, entry) for name, entry in entries.items()}


def _bits(name: str, entry: Any) -> Bits:
    if not isinstance(entry, dict) or set(entry) != _FIELDS or not isinstance(entry["sizes"], list):
        raise BitsError(f"{FILE.name}, {name}: give exactly {', '.join(sorted(_FIELDS))}, the sizes as a list")
    if not isinstance(entry["source"], str) or not entry["source"].strip():
        raise BitsError(f"{FILE.name}, {name}.source: is empty; say who says so")
    try:
        sizes = sorted(Length.parse(size, f"{name}.sizes") for size in entry["sizes"])
        return Bits(tuple(sizes), Length.parse(entry["over"], f"{name}.over"), entry["source"])
    except LengthError as error:
        raise BitsError(f"{FILE.name}, {error}") from error


BITS = read(FILE.read_text(encoding="utf-8"))
CORE, TWIST = BITS["core"], BITS["twist"]
