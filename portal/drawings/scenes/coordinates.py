"""The numbers that go with a drawing: a table to measure by, and the checks behind it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from typing import Any

from portal.layouts.check import Check
from portal.layouts.layout import Mark
from portal.layouts.length import Length
from portal.words.drawn import sheet_words as words

_MOST_CHECKS = 6  # the tightest; the whole list stands on the page


@dataclass(frozen=True)
class Coordinates:
    """What a sheet takes over: table, the edges that it is measured from, and the tightest checks in words.

    `work`: what is to be done, in a sentence. `caption`: what the drawing shows and from where it is seen. `sizes`:
    what no table cell says, such as the holes of a pull. `first`: what to look at before the first hole. `remarks`:
    what a column means. `details`: a second table of sizes, each by its name. `found`: what is measured once more on
    the day, by its name, with what was drawn. `dont`: what not to do where something differs.
    """

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    measured_from: str
    checks: tuple[str, ...] = ()
    work: str = ""
    caption: str = ""
    sizes: tuple[str, ...] = ()
    first: tuple[str, ...] = (words.MEASURE_PIECE,)
    remarks: tuple[str, ...] = ()
    details: tuple[tuple[str, str], ...] = ()
    found: tuple[tuple[str, str], ...] = ()
    dont: str = words.DONT_DRILL

    def to_json(self) -> dict[str, Any]:
        """Write it as a decision keeps it."""
        return {field.name: _plain(getattr(self, field.name)) for field in fields(self)}


def _plain(value: Any) -> Any:
    return [_plain(each) for each in value] if isinstance(value, tuple) else value


def tightest(checks: Iterable[Check]) -> tuple[str, ...]:
    """Say the tightest six: all failed checks, one by one; then those with the least to spare, by whose limits they
    pass; at last how many more pass. What passes because it is not below zero tells a crew nothing, and is one of
    these."""
    ordered = sorted(checks, key=lambda check: check.margin)
    failed = [check for check in ordered if not check.ok]
    fine = [check for check in ordered if check.ok]
    passed = [check for check in fine if check.required][:max(_MOST_CHECKS - len(failed), 0)]
    more = len(fine) - len(passed)
    sources = dict.fromkeys(check.source for check in passed)
    return (
        *(words.limits_failed(check.marked_sentence, check.source) for check in failed),
        *(words.limits_passed((check.marked for check in passed if check.source == source), source)
          for source in sources),
        *([words.more_pass(more)] if more and (failed or passed) else []),
    )


def letter(index: int) -> str:
    """Give the mark of a hole or a front on drawing and table alike: A for 0 to Z, then AA."""
    return chr(65 + index) if index < 26 else letter(index // 26 - 1) + letter(index % 26)


def bits_for(holes: Mapping[Length, Iterable[Length]], source: str) -> tuple[str, ...]:
    """Say in a line which bits are sold for these holes, by their diameters, and who says so; nothing where there is no
    hole."""
    each = [words.bit_for(hole.marked, [words.wider(bit.text, (bit - hole).millimeters(4).text if bit != hole else "")
                                        for bit in bits]) for hole, bits in holes.items()]
    return (words.bits_sold(each, source),) if each else ()


def marks_coordinates(
    marks: Iterable[Mark], checks: Iterable[Check], caption: str = "", details: tuple[tuple[str, str], ...] = (),
    found: tuple[tuple[str, str], ...] = (),
) -> Coordinates:
    """Give the places of a layout that has no holes: each mark by its distance from a named edge. Nothing is drilled by
    such a sheet, and it says so."""
    rows = tuple((mark.name, mark.edge, mark.at.marked_in_both) for mark in marks)
    return Coordinates(words.MARK_COLUMNS, rows, "", tightest(checks), caption=caption, details=details, found=found,
                       sizes=(words.NO_HOLES_BY_THIS,), dont=words.DONT_CUT)
