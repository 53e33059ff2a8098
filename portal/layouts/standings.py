"""What a check is worth: a rule stops a layout, an advice is said beside it. Which is which stands in
content/checks.toml, with the reason and the source; it is read once, when the program starts, as its code is."""

import tomllib
from dataclasses import dataclass
from typing import Any

from portal.folders import CONTENT

FILE = CONTENT / "checks.toml"
_FIELDS = {"name", "stops", "why", "source"}


class StandingsError(ValueError):
    """The table can't be used; the message names the entry and what to do."""


@dataclass(frozen=True, slots=True)
class Standing:
    """`name`: how the check is called. `stops`: a layout that fails it is not offered. `why`: what happens where it is
    not kept, in a sentence. `source`: who says that it matters, where no sheet of this job does."""

    name: str
    stops: bool
    why: str
    source: str


def read(text: str) -> dict[str, Standing]:
    """Read the table: `[kind.check]` with `name`, `stops`, `why` and `source`. Raises StandingsError."""
    try:
        kinds: dict[str, Any] = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise StandingsError(f"{FILE.name} is no TOML: {error}") from error
    return {f"{kind}.{key}": _standing(f"{kind}.{key}", entry)
            for kind, entries in kinds.items() for key, entry in entries.items()}


def _standing(key: str, entry: Any) -> Standing:
    if not isinstance(entry, dict) or set(entry) != _FIELDS:
        raise StandingsError(f"{FILE.name}, {key}: give exactly {', '.join(sorted(_FIELDS))}")
    if not isinstance(entry["stops"], bool):
        raise StandingsError(f"{FILE.name}, {key}.stops: write true for a rule, false for an advice")
    for name in ("name", "why", "source"):
        if not isinstance(entry[name], str) or not entry[name].strip():
            raise StandingsError(f"{FILE.name}, {key}.{name}: is empty; say it in words")
    return Standing(**entry)


STANDINGS = read(FILE.read_text(encoding="utf-8"))
"""Every check by its key, such as `deck.hole-to-cutout`."""


def standing(key: str) -> Standing:
    """Find what a check is worth. Raises StandingsError for one that the table doesn't have."""
    if key not in STANDINGS:
        raise StandingsError(f"{FILE.name} has no entry [{key}]; add one, with stops, why and source")
    return STANDINGS[key]
