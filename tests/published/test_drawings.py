"""Drawings against sources outside the project: what is read back from the files has the published sizes.

Hole geometry (check values, section 3): in a strip of 33 x 4 in, holes of 1-3/8 in at 12.5, 16.5 and 20.5 in leave
2.625 in between holes and 1.3125 in to each long edge, by shapely's `distance`.
"""

import io
from functools import cache
from xml.etree import ElementTree

import ezdxf
import pdfplumber
import pytest
from shapely.geometry import LineString, Point

from portal.drawings.sheets.paper import Paper
from portal.drawings.writers.dxf import dxf
from portal.drawings.writers.pdf import pdf
from portal.drawings.writers.svg import svg
from tests.drawings.samples import STRIP, approved_sheet, deck_scene

INCH = 25.4  # mm, exact: NIST SP 811, appendix B
NS = "{http://www.w3.org/2000/svg}"

Circles = list[tuple[float, float, float]]


def from_svg() -> Circles:
    root = ElementTree.fromstring(svg(deck_scene()))
    group = root.find(f".//{NS}g[@data-layer='hole']")
    assert group is not None
    return [(float(c.get("cx", "")), -float(c.get("cy", "")), float(c.get("r", ""))) for c in group.iter(f"{NS}circle")]


def from_dxf() -> Circles:
    found = ezdxf.read(io.StringIO(dxf(deck_scene()).decode())).modelspace().query('CIRCLE[layer=="HOLE"]')
    return [(c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in found]


@pytest.mark.parametrize("circles", [from_svg(), from_dxf()], ids=["svg", "dxf"])
def test_stone_between_holes_and_to_the_edges_is_what_shapely_says(circles: Circles) -> None:
    """Circles by 4 x 512 straight pieces: off by less than a thousandth of a millimetre."""
    discs = [Point(x, y).buffer(r, quad_segs=512) for x, y, r in circles]
    back = LineString([(0, STRIP[1]), STRIP])
    front = LineString([(0, 0), (STRIP[0], 0)])
    assert len(discs) == 3
    for one, other in zip(discs, discs[1:], strict=False):
        assert one.distance(other) == pytest.approx(2.625 * INCH, abs=0.01)
    for disc in discs:
        assert disc.distance(back) == pytest.approx(1.3125 * INCH, abs=0.01)
        assert disc.distance(front) == pytest.approx(1.3125 * INCH, abs=0.01)


@cache
def full_size(paper: Paper) -> pdfplumber.page.Page:
    return pdfplumber.open(io.BytesIO(pdf(approved_sheet(), deck_scene(), paper))).pages[1]


@pytest.mark.parametrize("paper", Paper)
def test_on_paper_too(paper: Paper) -> None:
    """The same web on the full-size page, under a rule; the unit of PDF is 1/72 in (ISO 32000-1, 8.3.2.3)."""
    mm = INCH / 72
    curves = [c for c in full_size(paper).curves if abs((c["x1"] - c["x0"]) * mm - 34.925) < 0.1]
    rims = sorted({(round(c["x0"] * mm, 3), round(c["x1"] * mm, 3)) for c in curves})
    gaps = [b[0] - a[1] for a, b in zip(rims, rims[1:], strict=False)]
    assert gaps == pytest.approx([2.625 * INCH] * 2, abs=0.1)


@pytest.mark.parametrize(
    ("paper", "size"),
    [
        (Paper.A4, (210, 297)),  # ISO 216, table 1
        (Paper.LETTER, (8.5 * INCH, 11 * INCH)),  # ANSI/ASME Y14.1, size A
    ],
)
def test_paper_has_its_standard_size(paper: Paper, size: tuple[float, float]) -> None:
    page = full_size(paper)
    assert sorted((page.width * INCH / 72, page.height * INCH / 72)) == pytest.approx(size, abs=0.01)


def test_the_check_bars_are_the_exact_inch_and_the_exact_millimetre() -> None:
    """4 in = 101.6 mm, 100 mm = 3.937 in (NIST SP 811, appendix B)."""
    page = full_size(Paper.A4)
    lengths = [
        max(abs(line["x1"] - line["x0"]), abs(line["y1"] - line["y0"])) * INCH / 72 for line in page.lines
    ]
    assert min(abs(x - 4 * INCH) for x in lengths) < 0.001
    assert min(abs(x - 100) for x in lengths) < 0.001
