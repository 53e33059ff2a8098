"""A sheet as rows of texts: its columns, and how a text that begins like a formula is kept apart from one.

A spreadsheet program computes a cell that begins with one of `=+-@`, a tab or a line break, whoever wrote it (OWASP,
CSV Injection). So such a text goes out behind an apostrophe, which is taken off when the sheet comes in; without one it
is a formula, and refused: nothing is ever computed here.
"""

from dataclasses import dataclass

PHASE, ROOM, CREW = "Phase", "Room", "Crew"
HOURS, BEST, WORST, NOT_BEFORE = "Hours", "Hours at best", "Hours at worst", "Not before"
AFTER, WAIT, HELD_BY = "Comes after", "Wait hours", "Held by"
SINGLE = (PHASE, ROOM, CREW, HOURS, BEST, WORST, NOT_BEFORE)
REPEATED = (AFTER, WAIT, HELD_BY)
"""These stand as often as they are needed: `Comes after`, `Comes after 2`, ..."""

_BEGINS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")
_APOSTROPHE = "'"

Row = list[str]


@dataclass(frozen=True, slots=True)
class Cell:
    """A text that came in; `formula`: it begins like one, or the file says that it is one."""

    text: str
    formula: bool = False


def guarded(text: str) -> str:
    """As it goes out: no program takes it for a formula, and its spaces stay."""
    apart = text.startswith((*_BEGINS_A_FORMULA, _APOSTROPHE)) or text != text.strip()
    return f"{_APOSTROPHE}{text}" if apart else text


def unguarded(text: str) -> Cell:
    """As it comes in, with a guard taken off."""
    if text.startswith(_APOSTROPHE):
        return Cell(text[1:])
    return Cell(text.strip(), text.startswith(_BEGINS_A_FORMULA))


def numbered(column: str, number: int) -> str:
    """`Comes after`, `Comes after 2`."""
    return column if number == 1 else f"{column} {number}"
