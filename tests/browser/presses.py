"""Counts what a task costs a thumb: presses, fields, and the screens of a phone that are gone through for it."""

from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Locator, Page

from tests.browser.window import HEIGHTS, PHONE

_AT_HAND = "ancestor-or-self::*[contains(@class, 'tray') or contains(@class, 'foot')]"
HEADS = ("task", "presses", "fields", "screens")


@dataclass
class Thumb:
    """`rows`: what was done, each with its counts. What the tray holds lies within reach, wherever the page stands."""

    page: Page
    rows: list[tuple[str, int, int, int]] = field(default_factory=list)
    presses: int = 0
    fields: int = 0
    screens: int = 0
    _address: str = ""
    _furthest: int = 0

    def begin(self, address: str) -> None:
        self.page.goto(address)
        self.presses = self.fields = self.screens = 0
        self._address = ""

    def press(self, at: Locator) -> None:
        self._reach(at)
        self.presses += 1
        at.click()

    def fill(self, at: Locator, text: str) -> None:
        self._reach(at)
        self.fields += 1
        at.fill(text)

    def choose(self, at: Locator, value: str) -> None:
        self._reach(at)
        self.fields += 1
        at.select_option(value)

    def take(self, at: Locator, picture: Path) -> None:
        """Press what opens the camera, and take the picture: it is no press of the page's."""
        self._reach(at)
        self.presses += 1
        with self.page.expect_file_chooser() as chooser:
            at.click()
        chooser.value.set_files(picture)

    def done(self, task: str) -> tuple[int, int, int]:
        self.rows.append((task, self.presses, self.fields, self.screens))
        return self.presses, self.fields, self.screens

    def table(self) -> str:
        widths = [max(len(str(row[at])) for row in [HEADS, *self.rows]) for at in range(len(HEADS))]
        return "\n".join(
            "  ".join(str(cell).ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
            for row in [HEADS, *self.rows]
        )

    def _reach(self, at: Locator) -> None:
        """A page that is new counts as many screens as lie down to it; one that is open, those that are further."""
        at.wait_for()
        place, body = at.bounding_box(), self.page.locator("body").bounding_box()
        assert place and body
        at_hand = at.locator(f"xpath={_AT_HAND}").count()
        screen = 1 if at_hand else 1 + int((place["y"] - body["y"]) // HEIGHTS[PHONE])
        before = self._furthest if self.page.url == self._address else 0
        self.screens += max(0, screen - before)
        self._furthest, self._address = max(screen, before), self.page.url
