"""Paper, and the part of it that a printer reaches."""

from dataclasses import dataclass
from enum import Enum

from portal.drawings.scenes.scene import Box

POINTS = 72 / 25.4  # points (1/72 in) in a millimetre, exact
BAR = 19.0  # mm kept free at the top of every page for the overprint
HEAD = 7.0  # mm below it on a template page: what it is for and what it is laid on
FOOT = 26.0  # mm at the bottom: whose sheet this is, and the bar along the page
MARGIN = 10.0  # mm that printers leave white, and a little more; common practice
STRIP = 14.0  # mm at the left of a template page for the bar up the page


class Paper(Enum):
    """Width and height in mm, upright (ISO 216; ANSI/ASME Y14.1 size A)."""

    LETTER = (215.9, 279.4)
    A4 = (210.0, 297.0)


@dataclass(frozen=True)
class Page:
    """One page's size in mm."""

    width: float
    height: float

    @property
    def points(self) -> tuple[float, float]:
        """Give width and height in points (1/72 in)."""
        return (self.width * POINTS, self.height * POINTS)

    @property
    def template(self) -> Box:
        """Give the box, in mm of the page, where a template page shows the drawing at 1:1."""
        return Box(MARGIN + STRIP, FOOT, self.width - MARGIN, self.height - BAR - HEAD)

    @property
    def text(self) -> Box:
        """Give the box, in mm of the page, where a written page has its words and pictures."""
        return Box(MARGIN + 6, FOOT - 12, self.width - MARGIN - 6, self.height - BAR + 2)


def upright(paper: Paper) -> Page:
    """Turn paper so that it is higher than wide."""
    return Page(*paper.value)


def sideways(paper: Paper) -> Page:
    """Turn paper so that it is wider than high."""
    width, height = paper.value
    return Page(height, width)
