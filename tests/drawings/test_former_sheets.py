"""What was kept with a decision before version 0.3.0 is printed as it was: the same words, each line where it stood.

`former/*.json` hold what version 0.2.0 kept of a layout of each kind (its checks had no keys), and what its pages then
said and drew.
"""

import hashlib
import io
import json
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from portal.drawings.scenes.scene_json import scene_from_json
from portal.drawings.sheets.kept_sheet import words_of_kept
from portal.drawings.sheets.paper import Paper
from portal.drawings.sheets.sheet import Sheet
from portal.drawings.writers.pdf import pdf
from tests.drawings.samples import whose

FORMER = sorted((Path(__file__).parent / "former").glob("*.json"))


def pages_of(data: bytes) -> list[dict[str, Any]]:
    """The words of each page, and a digest of its lines, curves and boxes to a tenth of a point."""
    found = []
    for page in pdfplumber.open(io.BytesIO(data)).pages:
        strokes = sorted((kind, *(round(each[name], 1) for name in ("x0", "top", "x1", "bottom")))
                         for kind, many in (("line", page.lines), ("curve", page.curves), ("rect", page.rects))
                         for each in many)
        found.append({"words": page.extract_text(),
                      "strokes": hashlib.sha256(json.dumps(strokes).encode()).hexdigest()})
    return found


def test_every_kind_of_then_is_here() -> None:
    assert {json.loads(path.read_text())["kind"] for path in FORMER} == {
        "deck", "centerline", "pulls", "overhang", "seam"}


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("path", FORMER, ids=lambda path: path.stem)
def test_it_is_printed_as_it_was(path: Path, paper: Paper) -> None:
    former = json.loads(path.read_text())
    sheet = Sheet(**whose(type_at="https://example.com/check/", **words_of_kept(former["detail"])))
    assert pages_of(pdf(sheet, scene_from_json(former["detail"]["drawing"]), paper)) == former["printed"][paper.name]
