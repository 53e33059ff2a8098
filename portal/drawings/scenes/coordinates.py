"""The numbers that go with a drawing: a table to measure by, and the checks behind it."""

from collections.abc import Iterable
from dataclasses import dataclass

from portal.layouts.check import Check
from portal.layouts.layout import Mark
from portal.words import sheet_words as words

_MOST_CHECKS = 6  # the tightest; the whole list stands on the page


@dataclass(frozen=True)
class Coordinates:
    """What a sheet takes over: table, the edges that it is measured from, and the tightest checks in words.

    `work`: what is to be done, in a sentence. `caption`: what the drawing shows and from where it is seen. `sizes`:
    what no table cell says, such as the holes of a pull. `first`: what to look at before the first hole.
    """

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    measured_from: str
    checks: tuple[str, ...] = ()
    work: str = ""
    caption: str = ""
    sizes: tuple[str, ...] = ()
    first: tuple[str, ...] = (words.MEASURE_PIECE,)


def tightest(checks: Iterable[Check]) -> tuple[str, ...]:
    """Say the tightest six: failed checks first, one by one; then those with the least to spare, by whose limits they
    pass. What passes because it is not below zero tells a crew nothing, and is left out."""
    telling = (check for check in checks if check.required or not check.ok)
    ordered = sorted(telling, key=lambda check: check.margin)[:_MOST_CHECKS]
    passed = [check for check in ordered if check.ok]
    sources = dict.fromkeys(check.source for check in passed)
    return (
        *(words.limits_failed(check.sentence, check.source) for check in ordered if not check.ok),
        *(words.limits_passed((check.in_numbers for check in passed if check.source == source), source)
          for source in sources),
    )


def letter(index: int) -> str:
    """Give the mark of a hole or a front on drawing and table alike: A for 0 to Z, then AA."""
    return chr(65 + index) if index < 26 else letter(index // 26 - 1) + letter(index % 26)


def marks_coordinates(marks: Iterable[Mark], checks: Iterable[Check]) -> Coordinates:
    """Give the places of a layout that has no holes: each mark by its distance from a named edge."""
    rows = tuple((mark.name, mark.edge, mark.at.in_both) for mark in marks)
    return Coordinates(words.MARK_COLUMNS, rows, "", tightest(checks))
