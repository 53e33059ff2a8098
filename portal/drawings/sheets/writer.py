"""The pen that writes the pages of a sheet from top to bottom."""

from collections.abc import Callable
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from portal.drawings.sheets.lettering import PLAIN, wrapped, write
from portal.drawings.sheets.paper import POINTS, Page

TEXT = 9.5  # points


@dataclass
class Writer:
    """A pen that moves down the page and asks for the next page when there is no room."""

    canvas: Canvas
    page: Page
    turn: Callable[[], None]
    y: float = 0.0

    def __post_init__(self) -> None:
        self.y = self.page.text.top

    def room(self, height: float) -> None:
        """Make sure that `height` mm are free below."""
        if not self.fits(height) and self.y < self.page.text.top:
            self.next_page()

    def fits(self, height: float) -> bool:
        """Say whether `height` mm are free below."""
        return self.y - height >= self.page.text.bottom

    def next_page(self) -> None:
        """Go on at the top of the next page."""
        self.turn()
        self.y = self.page.text.top

    def lines(
        self, text: str, size: float = TEXT, *, font: str = PLAIN, indent: float = 0.0, right: float = 0.0
    ) -> None:
        """Write wrapped text; `indent` and `right` are kept free, in mm."""
        box, step = self.page.text, size * 1.3 / POINTS
        for line in wrapped(text, size, box.width - indent - right, font):
            self.room(step)
            self.y -= step
            write(self.canvas, box.left + indent, self.y + step * 0.22, line, size, font=font)

    def gap(self, height: float) -> None:
        """Leave `height` mm free."""
        self.y -= height
