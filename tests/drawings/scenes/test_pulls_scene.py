"""Pulls as drawn and measured: each height of the bank, and each front once more on the day."""

import io

import pytest
from pypdf import PdfReader

from portal.drawings.drawing_kinds import drawn
from portal.drawings.scenes.coordinates import letter
from portal.drawings.scenes.scene import Dimension, Side
from portal.drawings.sheets.paper import Paper
from portal.drawings.writers.pdf import pdf
from tests.drawings.samples import sheet_of
from tests.layouts.pulls import test_layout as banks


def test_each_height_of_a_long_bank_is_dimensioned_once() -> None:
    """Twelve drawers of three heights, each hung at another height above the floor."""
    row = [banks.BANK["fronts"][2] | {"name": f"drawer {n}", "from_left": f"{n * 16} in", "height": f"{6 + n % 3} in",
                                      "from_floor": f"{20 + n / 4} in"} for n in range(12)]
    scene = drawn(banks.found(fronts=row)[0]).scene
    found = [(i.text, i.y1, i.y2) for i in scene.items if isinstance(i, Dimension) and i.side is Side.RIGHT]
    last = {6: 22.25, 7: 22.5, 8: 22.75}
    assert sorted(found) == [(f"{high} in", low * 25.4, (low + high) * 25.4) for high, low in last.items()]


def test_each_front_is_measured_once_more_on_the_day() -> None:
    """A pull that fits the first front says nothing of a front that was made 1/4 in short."""
    found = drawn(banks.found()[0]).coordinates.found
    assert found == (
        ("The pull in hand, hole to hole", "160 mm"),
        ("Front A, width by height", "33 in (838.2 mm) by 12 in (304.8 mm)"),
        ("Front B, width by height", "33 in (838.2 mm) by 6 in (152.4 mm)"),
        ("Front C, width by height", "15 in (381 mm) by 6 in (152.4 mm)"),
        ("Front D, width by height", "15 in (381 mm) by 22 in (558.8 mm)"))


@pytest.mark.parametrize("paper", Paper)
def test_the_most_fronts_have_their_blanks_on_one_page(paper: Paper) -> None:
    row = [banks.BANK["fronts"][2] | {"name": f"drawer {n}", "from_left": f"{n * 16} in"} for n in range(24)]
    layout = banks.found(fronts=row)[0]
    sheet = sheet_of(layout, approved_by="Ana Ruiz", approved_at="Thu Dec 3, 2026, 6:12 pm")
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(pdf(sheet, drawn(layout).scene, paper))).pages]
    (blanks,) = [text for text in pages if "Found on the day" in text]
    assert all(f"Front {letter(n)}, width by height" in blanks for n in range(24)) and "Read back aloud" in blanks
