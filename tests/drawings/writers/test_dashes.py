"""Dashes around something small are finer, in each of the three kinds of file, so that it doesn't look like a stray."""

import io
import re

import ezdxf
import pdfplumber
import pytest

from portal.drawings.scenes.layers import PENS, Layer
from portal.drawings.scenes.scene import Rect, Scene
from portal.drawings.writers.dxf import dxf
from portal.drawings.writers.pdf import pdf
from portal.drawings.writers.svg import svg
from tests.drawings.samples import approved_sheet

TOP = Rect(Layer.EDGE, 0, 0, 1400, 650)
RAIL = Rect(Layer.UNDERNEATH, 100, 100, 1200, 300)
CLIP = Rect(Layer.UNDERNEATH, 600, 500, 25.4, 25.4)
PIPE = Rect(Layer.UNDERNEATH, 700, 500, 50, 50, radius=25)
NOTHING = Rect(Layer.UNDERNEATH, 800, 500, 0, 20)


def scene(*items: Rect) -> Scene:
    return Scene("A clip", "A clip under a top", (TOP, *items))


def test_a_small_outline_has_two_dashes_to_its_short_side() -> None:
    pen = PENS[Layer.UNDERNEATH]
    assert 2 * sum(pen.dashes_mm(50.0, CLIP.narrow)) == pytest.approx(25.4)
    assert pen.dashes_mm(50.0, RAIL.narrow) == pen.dashes_mm(50.0)
    assert pen.dashes_mm(50.0, NOTHING.narrow) == pen.dashes_mm(50.0)


def test_the_drawing_on_the_page_dashes_a_clip_and_a_pipe_finer_than_a_rail() -> None:
    patterns = [[float(n) for n in found.split()]
                for found in re.findall(r'stroke-dasharray="([0-9. ]+)"', svg(scene(RAIL, CLIP, PIPE)))]
    assert len(patterns) == 3 and sum(patterns[1]) < sum(patterns[2]) < sum(patterns[0])
    assert sum(patterns[1]) == pytest.approx(12.7, abs=0.1)


def test_the_file_for_the_machine_scales_the_line_type_of_the_clip() -> None:
    document = ezdxf.read(io.StringIO(dxf(scene(RAIL, CLIP)).decode()))
    assert not document.audit().has_errors
    rail, clip = document.modelspace().query("LWPOLYLINE[layer=='UNDERNEATH']")
    assert rail.dxf.ltscale == 1 and 0 < clip.dxf.ltscale < 1


def test_the_printed_sheet_dashes_it_finer_too() -> None:
    page = pdfplumber.open(io.BytesIO(pdf(approved_sheet(), scene(RAIL, CLIP)))).pages[0]
    patterns = [sum(each["dash"][0]) for each in page.rects if each["dash"] and each["dash"][0]]
    rail, clip = patterns
    assert 0 < clip < rail
