"""How long what was sealed, set, grouted or painted rests: the table of cure times, read strictly from TOML.

The label of the product governs. A row without hours has no published figure: that of the label is entered.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

GATES = ("water", "walk", "load", "next", "seal", "full")
"""What a cure holds back: water, walking, weight, the next work, sealing; `full` is full strength, which holds back
nothing."""
LONGEST_CURE = 24 * 90
_KEYS = ("key", "name", "what", "gates", "hours", "more", "like", "source")


class CureTableError(ValueError):
    """A table of cure times that can't be used; the message names the row."""


@dataclass(frozen=True, slots=True)
class CureTime:
    """A wait by its `key`. `least`, `hours`: the shortest and the longest clock hours published, the longest to plan
    with; both None where only the label says. `more`: published as "or more". `name` says it beside what is out of use,
    `what` in the guide; `gates`: of GATES; `source`: where it was published, empty for a label's."""

    key: str
    name: str
    what: str
    gates: tuple[str, ...]
    least: int | None = None
    hours: int | None = None
    more: bool = False
    source: str = ""

    @property
    def by_label(self) -> bool:
        """Say whether nothing is published, so that the label's figure must be entered."""
        return self.hours is None

    @property
    def minutes(self) -> int:
        """Clock minutes to plan with; 0 where only the label says."""
        return 60 * (self.hours or 0)


CureTable = Mapping[str, CureTime]
"""Cure times by their keys, in the order of the table."""


def read_cures(text: str) -> dict[str, CureTime]:
    """Read the table out of TOML: `[[cures]]` with `key`, `name`, `what`, `gates` and either `hours` with their
    `source`, or `like`, the key of an earlier row, or neither. Raises CureTableError."""
    try:
        given = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise CureTableError(f"is not valid TOML: {error}") from error
    rows = given.get("cures")
    if set(given) != {"cures"} or not isinstance(rows, list):
        raise CureTableError("give [[cures]], and nothing else")
    table: dict[str, CureTime] = {}
    for number, row in enumerate(rows, 1):
        cure = _row(f"row {number}", row, table)
        if cure.key in table or cure.name in {one.name for one in table.values()}:
            raise CureTableError(f"row {number}: {cure.key} or its name is there twice")
        table[cure.key] = cure
    return table


def _row(where: str, row: Any, table: CureTable) -> CureTime:
    if not isinstance(row, dict) or not set(row) <= set(_KEYS):
        raise CureTableError(f"{where}: give a table with {', '.join(_KEYS)}")
    key, name, what = (_text(where, row, part) for part in ("key", "name", "what"))
    gates = row.get("gates")
    if not isinstance(gates, list) or not gates or not set(gates) <= set(GATES):
        raise CureTableError(f"{where}: gates must be some of {', '.join(GATES)}")
    if "like" in row:
        other = table.get(row["like"])
        if other is None or not {"hours", "more", "source"}.isdisjoint(row):
            raise CureTableError(f"{where}: like must name an earlier row, and has its hours and its source")
        return CureTime(key, name, what, tuple(gates), other.least, other.hours, other.more, other.source)
    if ("hours" in row) != ("source" in row) or "more" in row and "hours" not in row:
        raise CureTableError(f"{where}: hours need a source; without one, leave both out, and more as well")
    if "hours" not in row:
        return CureTime(key, name, what, tuple(gates))
    least, most = _hours(where, row["hours"])
    return CureTime(key, name, what, tuple(gates), least, most, _flag(where, row), _text(where, row, "source"))


def _text(where: str, row: Mapping[str, Any], part: str) -> str:
    text = row.get(part)
    if not isinstance(text, str) or not text.strip():
        raise CureTableError(f"{where}: {part} must be text")
    return text.strip()


def _hours(where: str, given: Any) -> tuple[int, int]:
    whole = isinstance(given, list) and len(given) == 2 and all(type(one) is int for one in given)
    if not whole or not 0 < given[0] <= given[1] <= LONGEST_CURE:
        raise CureTableError(f"{where}: hours must be the shortest and the longest, up to {LONGEST_CURE}")
    return given[0], given[1]


def _flag(where: str, row: Mapping[str, Any]) -> bool:
    more = row.get("more", False)
    if not isinstance(more, bool):
        raise CureTableError(f"{where}: more must be true or false")
    return more
