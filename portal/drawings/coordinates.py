"""The numbers that go with a drawing: a table to measure by, and the checks behind it."""

from collections.abc import Iterable
from dataclasses import dataclass

from portal.drawings.lengths import both
from portal.layouts.check import Check
from portal.layouts.layout import Layout

_MOST_CHECKS = 6  # the tightest; the whole list stands on the page


@dataclass(frozen=True)
class Coordinates:
    """What a sheet takes over: table, the edges that it is measured from, and the tightest checks in words."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    measured_from: str
    checks: tuple[str, ...] = ()


def tightest(checks: Iterable[Check]) -> tuple[str, ...]:
    """Failed checks first, then those with the least to spare, as sentences."""
    ordered = sorted(checks, key=lambda check: check.margin)
    return tuple(f"{check.sentence}." for check in ordered[:_MOST_CHECKS])


def letter(index: int) -> str:
    """A to Z, then AA: the mark of a hole on drawing and table alike."""
    return chr(65 + index) if index < 26 else letter(index // 26 - 1) + letter(index % 26)


def marks_coordinates(layout: Layout) -> Coordinates:
    """The places of a layout that has no holes: each mark by its distance from a named edge."""
    rows = tuple((mark.name, mark.edge, both(mark.at)) for mark in layout.marks)
    return Coordinates(("Mark", "Measured from", "Distance"), rows, "", tightest(layout.checks))
