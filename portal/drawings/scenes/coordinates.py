"""The numbers that go with a drawing: a table to measure by, and the checks behind it."""

from collections.abc import Iterable
from dataclasses import dataclass

from portal.drawings.scenes.lengths import both
from portal.layouts.check import GEOMETRY, GIVEN, Check
from portal.layouts.layout import Layout

_MOST_CHECKS = 6  # the tightest; the whole list stands on the page
MEASURE = "Measure the piece, and each distance from its edges, yourself."
_WHOSE = {GIVEN: "the makers' sheets, as entered", GEOMETRY: "the sizes themselves"}


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
    first: tuple[str, ...] = (MEASURE,)


def tightest(checks: Iterable[Check]) -> tuple[str, ...]:
    """Failed checks first, one by one; then those with the least to spare, by whose limits they pass. What passes
    because it is not below zero tells a crew nothing."""
    telling = (check for check in checks if check.required or not check.ok)
    ordered = sorted(telling, key=lambda check: check.margin)[:_MOST_CHECKS]
    passed = [check for check in ordered if check.ok]
    sources = dict.fromkeys(check.source for check in passed)
    return (
        *(f"{_capital(check.sentence)} (limit: {_whose(check.source)})." for check in ordered if not check.ok),
        *(_passed(source, [check for check in passed if check.source == source]) for source in sources),
    )


def _passed(source: str, checks: list[Check]) -> str:
    return f"Passes, by the limits of {_whose(source)}: {'; '.join(check.in_numbers for check in checks)}."


def _whose(source: str) -> str:
    return _WHOSE.get(source, source)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def letter(index: int) -> str:
    """A to Z, then AA: the mark of a hole on drawing and table alike."""
    return chr(65 + index) if index < 26 else letter(index // 26 - 1) + letter(index % 26)


def marks_coordinates(layout: Layout) -> Coordinates:
    """The places of a layout that has no holes: each mark by its distance from a named edge."""
    rows = tuple((mark.name, mark.edge, both(mark.at)) for mark in layout.marks)
    return Coordinates(("Mark", "Measured from", "Distance"), rows, "", tightest(layout.checks))
