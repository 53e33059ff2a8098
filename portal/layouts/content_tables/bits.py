"""The bits that are sold for a hole: one of its own size, and the next that is hardly wider, each with the difference.

The sizes stand in content/bits.toml and are read once, when the program starts, as its code is.
"""

from dataclasses import dataclass
from typing import Any

from portal.folders import CONTENT
from portal.layouts.content_tables.reading import TableError, entries, exactly, said
from portal.layouts.length import Length, LengthError

FILE = CONTENT / "bits.toml"
_FIELDS = {"sizes", "over", "source"}


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
    """Read the table: an entry a kind of bit, with `sizes`, `over` and `source`. Raises TableError."""
    return {name: _bits(name, entry) for name, entry in entries(FILE, text).items()}


def _bits(name: str, entry: Any) -> Bits:
    if not isinstance(exactly(FILE, name, entry, _FIELDS)["sizes"], list):
        raise TableError(f"{FILE.name}, {name}.sizes: must be a list")
    said(FILE, name, entry, "source")
    try:
        sizes = sorted(Length.parse(size, f"{name}.sizes") for size in entry["sizes"])
        return Bits(tuple(sizes), Length.parse(entry["over"], f"{name}.over"), entry["source"])
    except LengthError as error:
        raise TableError(f"{FILE.name}, {error}") from error


BITS = read(FILE.read_text(encoding="utf-8"))
CORE, TWIST = BITS["core"], BITS["twist"]
