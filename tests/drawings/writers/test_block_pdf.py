"""A title block on paper, read back with pypdf: what stands on it, how large, and that it is always the same bytes."""

import io

import pytest
from pypdf import PdfReader

from portal.drawings.sheets.block_sheet import BlockSheet, Row
from portal.drawings.sheets.paper import Paper
from portal.drawings.writers.block_pdf import block_pdf
from tests.drawings.reading_pdf import colors_of, sizes_of

ROWS = [
    Row("House", "Okafor, 14 Tamarack Lane"), Row("Question 1", "Which holes do we drill behind the sink?"),
    Row("Choice", "One hole, for the faucet", wide=True, look="big"), Row("Price", "No change"),
    Row("Name", "", wide=True, look="pen"), Row("Check code", "fe4d-270a-0e73", wide=True, look="code"),
]  # fmt: skip
SHEET = BlockSheet("Receipt of entry 37", "Approved", ROWS, ["It counts."], ["Łucja Nguyễn is told. " * 9, "Keep it."])


def reader(sheet: BlockSheet, paper: Paper = Paper.LETTER) -> PdfReader:
    return PdfReader(io.BytesIO(block_pdf(sheet, paper)))


@pytest.mark.parametrize("paper", Paper)
def test_everything_stands_on_one_sheet_in_its_order(paper: Paper) -> None:
    (page,) = reader(SHEET, paper).pages
    said = " ".join(page.extract_text().split())
    wanted = ["It counts.", "House", "Okafor, 14 Tamarack Lane", "One hole, for the faucet", "No change", "Name",
              "fe4d-270a-0e73", "Łucja Nguyễn is told.", "Keep it."]  # fmt: skip
    places = [said.index(one) for one in wanted]
    assert places == sorted(places) and "Receipt of entry 37" in said and "Approved" in said
    width, height = (float(side) * 25.4 / 72 for side in (page.mediabox.width, page.mediabox.height))
    assert (width, height) == pytest.approx(paper.value, abs=0.01)


def test_the_same_sheet_is_the_same_bytes() -> None:
    assert block_pdf(SHEET) == block_pdf(SHEET) != block_pdf(SHEET, Paper.A4)
    assert block_pdf(SHEET) != block_pdf(BlockSheet("Receipt of entry 38", "Approved", ROWS))


def test_nothing_is_smaller_than_can_be_read_and_all_is_black() -> None:
    (page,) = reader(SHEET).pages
    assert min(sizes_of(page)) >= 11
    assert colors_of(page) <= {"0 0 0 rg", "0 0 0 RG"}


@pytest.mark.parametrize("paper", Paper)
def test_nothing_runs_out_of_its_frame_or_off_the_paper(paper: Paper) -> None:
    long = [Row("House", "Vandersloot-Abernathy and Krzyżanowska house, " * 4), Row("Question 12", "W" * 200),
            Row("Choice", "One hole " * 20, wide=True, look="big")]  # fmt: skip
    page = reader(BlockSheet("Receipt of an approval " * 5, "Approved", long), paper).pages[0]
    found: list[tuple[float, float]] = []
    page.extract_text(visitor_text=lambda text, cm, tm, font, size: found.append((tm[4], tm[5])) if text.strip() else 0)
    assert found and all(0 < x < float(page.mediabox.width) and y > 0 for x, y in found)


def test_without_a_stamp_the_title_has_the_whole_line() -> None:
    assert "Approved" not in reader(BlockSheet("Receipt", "", ROWS)).pages[0].extract_text()
