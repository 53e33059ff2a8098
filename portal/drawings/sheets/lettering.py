"""The letters on paper: a font that goes into the file, so that every printer and every name comes out right."""

import re
from pathlib import Path

from reportlab.lib.utils import simpleSplit
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from portal.drawings.sheets.paper import POINTS

PLAIN = "SheetPlain"
BOLD = "SheetBold"
_UNIT = re.compile(r"(?<=[0-9]) (in|mm|ft)\b")
_GLUE = "\ue000"  # of no script: stands for a space at which no line ends, and is never written
_FONTS = Path(__file__).parent / "fonts"

pdfmetrics.registerFont(TTFont(PLAIN, str(_FONTS / "DejaVuSansCondensed.ttf")))
pdfmetrics.registerFont(TTFont(BOLD, str(_FONTS / "DejaVuSansCondensed-Bold.ttf")))


def width_mm(text: str, size: float, font: str = PLAIN) -> float:
    """Say how wide `text` runs in mm, at `size` points."""
    return float(pdfmetrics.stringWidth(text, font, size)) / POINTS


def glued(text: str) -> str:
    """Keep each number and its unit on one line, once `wrapped` folds the text: a number parted from it is misread."""
    return _UNIT.sub(rf"{_GLUE}\1", text)


def wrapped(text: str, size: float, width: float, font: str = PLAIN) -> list[str]:
    """Fold `text` into lines no wider than `width` mm; a word longer than a line is broken."""
    return [line.replace(_GLUE, " ") for line in _folded(text, size, width, font)]


def _folded(text: str, size: float, width: float, font: str) -> list[str]:
    lines: list[str] = []
    for line in simpleSplit(text, font, size, width * POINTS):
        while width_mm(line, size, font) > width and len(line) > 1:
            cut = next(n for n in range(len(line) - 1, 0, -1) if n == 1 or width_mm(line[:n], size, font) <= width)
            lines.append(line[:cut])
            line = line[cut:]
        lines.append(line)
    return lines


def shortened(text: str, size: float, width: float, font: str = PLAIN) -> str:
    """Cut `text` to one line no wider than `width` mm, its end left out where it must be."""
    if width_mm(text, size, font) <= width:
        return text
    return next(f"{text[:n].rstrip()}…" for n in range(len(text) - 1, -1, -1)
                if n == 0 or width_mm(f"{text[:n]}…", size, font) <= width)


def write(
    canvas: Canvas, x: float, y: float, text: str, size: float, *, font: str = PLAIN, anchor: str = "start"
) -> None:
    """Write `text` with its baseline at (x, y) mm on the page."""
    canvas.setFont(font, size)
    put = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}[anchor]
    put(x * POINTS, y * POINTS, text)
