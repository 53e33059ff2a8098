"""Every number that a sheet prints is where it says: read back from the PDF with pdfplumber, over random decks, banks.

A length without a word about it is exact; one that begins with "about" is off by no more than the sheet says (0.05 mm).
"""

import io
import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pdfplumber
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from portal.drawings.drawing_kinds import drawn
from portal.drawings.scenes.deck_sheet import lettered
from portal.drawings.sheets.paper import Paper
from portal.drawings.writers.pdf import pdf
from portal.layouts.deck import from_json, layouts
from portal.layouts.deck.dimensions import EDGES, ENDS
from portal.layouts.deck.holes import State
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.kinds import lay_out
from portal.layouts.layout import Layout
from portal.layouts.length import FUZZ, Length
from portal.layouts.pulls.layout import PullsLayout
from tests.drawings.samples import sheet_of
from tests.layouts.decks import deck_json
from tests.layouts.pulls.test_layout import BANK

MM = 25.4 / 72
LENGTH = re.compile(r"(about )?((?:[0-9]+ ft )?[0-9]+(?:-[0-9]+/[0-9]+|/[0-9]+|\.[0-9]+)? (?:in|mm|ft))(?![a-z])")
ABOUT = "“about” before mm: rounded to 0.1 mm, and so off by 0.05 mm at most."
PAPERS = st.sampled_from(list(Paper))
MANY = settings(max_examples=4, deadline=None, phases=(Phase.explicit, Phase.reuse, Phase.generate))
"""Nothing is shrunk: each example is a whole sheet to read."""


def printed(layout: Layout, paper: Paper) -> list[pdfplumber.page.Page]:
    """Approved, so that no words run across the page."""
    sheet = sheet_of(layout, approved_by="Ana Ruiz", approved_at="Thu Dec 3, 2026, 6:12 pm")
    return pdfplumber.open(io.BytesIO(pdf(sheet, drawn(layout).scene, paper))).pages


def table(layout: Layout, paper: Paper) -> list[list[str]]:
    """The rows of its table as they are printed, cell by cell; on every page that they stand on is its heading."""
    columns = drawn(layout).coordinates.columns
    found: list[list[str]] = []
    for page in printed(layout, paper):
        words = page.extract_words()
        starts = _columns(words, [column.split()[0] for column in columns])
        if found and not starts:
            break
        found += list(_rows(page, words, starts)) if starts else []
    return found


def _columns(words: list[dict[str, Any]], firsts: list[str]) -> list[tuple[float, float]]:
    """Where each column begins, by the first words of the headings on one line; and how high that line is."""
    lines: dict[int, list[dict[str, Any]]] = {}
    for word in words:
        lines.setdefault(round(word["top"]), []).append(word)
    for line in lines.values():
        found, wanted = [], iter(firsts)
        first = next(wanted)
        for word in sorted(line, key=lambda word: word["x0"]):
            if word["text"] == first:
                found.append((word["x0"], word["bottom"]))
                first = next(wanted, "")
        if len(found) == len(firsts):
            return found
    return []


def _rows(page: pdfplumber.page.Page, words: list[dict[str, Any]],
          starts: list[tuple[float, float]]) -> Iterator[list[str]]:
    """Between one rule and the next stands a row, as long as its first cell is a letter."""
    below = starts[0][1]
    rules = sorted({round(line["top"], 1) for line in page.lines if line["top"] > below and line["width"] > 400})
    ends = [start for start, _ in starts]
    for top, bottom in pairwise(rules):
        inside = [word for word in words if top < (word["top"] + word["bottom"]) / 2 < bottom]
        cells = [" ".join(word["text"] for word in inside if start - 1 <= word["x0"] < end - 1)
                 for start, end in pairwise([*ends, float("inf")])]
        if not re.fullmatch("[A-Z]", cells[0]):
            return
        yield cells


def lengths(cell: str) -> list[tuple[Fraction, Fraction]]:
    """Each length in a cell: what it says in mm, and by how much it may be off."""
    return [(Length.parse(text).mm, FUZZ if about else Fraction(0)) for about, text in LENGTH.findall(cell)]


def says(cell: str, *true: Length) -> bool:
    """Whether each length in a cell is one of these, within what it names; and none is left out."""
    found = lengths(cell)
    return bool(found) and all(any(abs(said - one.mm) <= off for one in true) for said, off in found) and all(
        any(abs(said - one.mm) <= off for said, off in found) for one in true)


INCHES = st.integers(-24, 24).map(lambda part: Fraction(part, 16))
ODD = st.fractions(min_value=-1, max_value=1, max_denominator=7)


def inch(amount: Fraction) -> str:
    return f"{float(amount):.7f}".rstrip("0").rstrip(".") + " in"


@st.composite
def decks(draw: Callable[..., Any]) -> DeckLayout:
    """A deck of odd sizes: its cut-out moved, its holes on a given row, in inches, mm, or sevenths of an inch."""
    off = draw(st.one_of(INCHES, ODD))
    row = draw(st.sampled_from(["21-7/8 in", "22 in", "553.3 mm", "555 mm"]))
    hole = draw(st.sampled_from(["1-3/8 in", "35 mm", "33.3 mm", "1-1/4 in"]))
    place = {"row_from_front": row} | draw(st.sampled_from([{}, {"center_line": inch(30 + off / 2)}]))
    ends = {"end": draw(st.sampled_from(ENDS)), "edge": draw(st.sampled_from(EDGES))}
    found = layouts(from_json(deck_json(cutout__from_left=inch(15 + off), faucet__hole=hole, place=place,
                                        measure_from=ends, faucet__holes=draw(st.sampled_from(["1", "3"])))))
    return draw(st.sampled_from(found[:6]))


@MANY
@given(decks(), PAPERS)
def test_each_hole_of_a_deck_is_where_its_row_says_from_datums_and_edges(layout: DeckLayout, paper: Paper) -> None:
    cutout = layout.deck.cutout
    rows = table(layout, paper)
    assert [row[0] for row in rows] == [mark for mark, _ in lettered(layout)]
    for row, (_, place) in zip(rows, lettered(layout), strict=True):
        hole = place.hole
        beside, behind = hole.x - cutout.center[0], hole.y - cutout.front - cutout.depth
        assert says(row[2], hole.diameter), row
        assert row[3] == "on it" if not beside.mm else says(row[3], abs(beside)), row
        assert row[3].startswith("right " if beside.mm > 0 else "left " if beside.mm else "on it")
        assert says(row[4], abs(behind)) and ("before it" in row[4]) == (behind.mm < 0), row
        assert says(row[5], place.along) and says(row[6], place.inward), row


@MANY
@given(decks(), PAPERS)
def test_each_hole_of_a_template_is_as_far_from_both_datums_as_the_table_says(layout: DeckLayout, paper: Paper) -> None:
    """Measured on the page, where hole, middle and back edge are on one: to 0.1 mm, what a printer can do."""
    cutout, wanted = layout.deck.cutout, []
    for hole in layout.drilled:
        wanted.append((float((hole.x - cutout.center[0]).mm), float((hole.y - cutout.front - cutout.depth).mm)))
    seen: set[tuple[float, float]] = set()
    for page in printed(layout, paper):
        if "Full size" not in page.extract_text():
            continue
        # The two datums are the only medium lines that are long dash, dot.
        dashed = [line for line in page.lines
                  if len((line["dash"] or ([], 0))[0]) == 4 and abs(line["linewidth"] * MM - 0.35) < 0.01]
        (level,) = [line["y0"] * MM for line in dashed if abs(line["y0"] - line["y1"]) < 0.01]
        (upright,) = [line["x0"] * MM for line in dashed if abs(line["x0"] - line["x1"]) < 0.01]
        for curve in page.curves:
            ring = abs(curve["width"] - curve["height"]) < 0.1 and curve["width"] * MM > 15
            if ring and curve["linewidth"] * MM > 0.45:
                x, y = (curve["x0"] + curve["x1"]) / 2 * MM, (curve["y0"] + curve["y1"]) / 2 * MM
                off = {at: abs(at[0] - x + upright) + abs(at[1] - y + level) for at in wanted}
                seen.add(min(wanted, key=off.__getitem__))
                assert min(off.values()) < 0.1
    assert seen == set(wanted)


@st.composite
def banks(draw: Callable[..., Any]) -> PullsLayout:
    """A bank of odd fronts and a pull of either system."""
    centers = draw(st.sampled_from(["160 mm", "128 mm", "5 in", "96.5 mm"]))
    pull = BANK["pull"] | {"centers": centers, "length": "9 in", "inch_sheet": True}
    wide = draw(st.one_of(INCHES, ODD))
    fronts = [BANK["fronts"][0] | {"width": inch(33 + wide)}, *BANK["fronts"][1:2],
              *(front for front in BANK["fronts"] if front["type"] != "drawer")]
    found = lay_out("pulls", BANK | {"pull": pull, "fronts": fronts})
    layout = draw(st.sampled_from(list(found)))
    assert isinstance(layout, PullsLayout)
    return layout


@MANY
@given(banks(), PAPERS)
def test_each_pull_is_where_its_row_says_and_its_holes_each_way(layout: PullsLayout, paper: Paper) -> None:
    rows = table(layout, paper)
    assert len(rows) == len(layout.pulls)
    centers = layout.bank.pull.centers
    assert centers
    for row, pull in zip(rows, layout.pulls, strict=True):
        assert says(row[2], pull.x) and says(row[3], pull.y), row
        assert says(row[4], centers / 2), row
        assert says(row[5], *(hole.from_top if pull.upright else hole.from_left for hole in pull.holes)), row
        if centers.is_short and not lengths(row[4])[0][1]:
            one, other = (at.mm for at in (centers / 2, centers / 2))
            assert one + other == centers.mm, "both halves together are the pull, exactly"


@MANY
@given(st.one_of(decks(), banks()), PAPERS)
def test_no_rounded_inch_stands_anywhere_and_about_is_explained(layout: Layout, paper: Paper) -> None:
    words = " ".join(" ".join(page.extract_text().split()) for page in printed(layout, paper))
    assert not re.search(r"about [0-9][0-9/.-]* (in|ft)\b", words)
    said = bool(re.search(r"\babout [0-9.]+ mm\b", words.replace(ABOUT, "")))
    assert not said or ABOUT in words


def test_the_reader_of_tables_sees_a_wrong_number() -> None:
    inch, other, third = Length.parse("3-1/2 in"), Length.parse("1 in"), Length.parse("10 in") / 3
    assert says("3-1/2 in (88.9 mm)", inch) and not says("3-1/2 in (88.8 mm)", inch)
    assert says("about 84.7 mm", third) and not says("84.7 mm", third)
    assert not says("on it", other) and not says("3-1/2 in", inch, other)


@pytest.mark.parametrize("paper", Paper)
def test_the_bar_between_two_holes_is_as_long_as_it_says(paper: Paper) -> None:
    layout = next(one for one in layouts(from_json(deck_json(faucet__holes="3", accessories=[]))))
    gaps = [float((other.x - one.x).mm) for one, other in pairwise(sorted(layout.drilled, key=lambda hole: hole.x))]
    assert len(gaps) == 2 and all(hole.state is State.DRILL for hole in layout.drilled)
    for page in printed(layout, paper)[1:]:
        if "A to B: 4 in (101.6 mm)" in page.extract_text():
            long = [line["width"] * MM for line in page.lines if abs(line["y0"] - line["y1"]) < 0.01]
            assert min(abs(each - gaps[0]) for each in long) < 0.05
            return
    raise AssertionError("no page has the bar")
