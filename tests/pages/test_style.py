"""The style sheet: words stay legible in both colour schemes, on paper, and for a finger."""

import re

import pytest
from coloraide import Color

from portal.pages.environment import STYLE_SHEET, page_style

AA = 4.5  # WCAG 2.2, success criterion 1.4.3
NON_TEXT = 3.0  # WCAG 2.2, success criterion 1.4.11: the border of a field


def _schemes() -> dict[str, dict[str, str]]:
    """The colours of each `:root` block, in the order light, dark, paper."""
    blocks = re.findall(r":root \{(.*?)\}", STYLE_SHEET.read_text(), re.DOTALL)
    found = [dict(re.findall(r"--(\w+): (#[0-9a-f]+)", block)) for block in blocks]
    return dict(zip(("light", "dark", "print"), found, strict=True))


LEAST = {"ink": AA, "quiet": AA, "link": AA, "late": AA, "rule": NON_TEXT}


@pytest.mark.parametrize("scheme", ["light", "dark", "print"])
@pytest.mark.parametrize(("name", "least"), LEAST.items())
def test_each_colour_stands_out_from_the_paper(scheme: str, name: str, least: float) -> None:
    """Contrast by the WCAG formula (relative luminance), computed by the library coloraide."""
    colours = _schemes()[scheme]
    assert Color(colours[name]).contrast(colours["paper"], method="wcag21") >= least


def test_no_colour_is_named_outside_the_schemes() -> None:
    """So that the check above sees them all."""
    rest = re.sub(r":root \{.*?\}", "", STYLE_SHEET.read_text(), flags=re.DOTALL)
    assert re.findall(r"#[0-9a-f]{3,8}\b|rgb|hsl", rest) == []


def test_the_sheet_asks_for_nothing_from_elsewhere() -> None:
    assert not re.search(r"url\(|@import|@font-face", STYLE_SHEET.read_text())


def test_what_stands_in_the_page_means_the_same_as_the_sheet() -> None:
    """Comments and spaces are dropped; what is left must still be the same rules."""
    sheet = re.sub(r"/\*.*?\*/", "", STYLE_SHEET.read_text(), flags=re.DOTALL)
    assert re.sub(r"\s", "", page_style()) == re.sub(r"\s", "", sheet)
    assert "</style" not in page_style() and "/*" not in page_style()
    assert page_style().count("{") == page_style().count("}")
