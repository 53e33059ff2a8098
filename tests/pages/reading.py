"""Reads a rendered page as a strict parser and as a person does."""

import re
from dataclasses import dataclass
from xml.etree.ElementTree import Element

import html5lib

from portal.pages.home.page import render_page
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House


@dataclass(frozen=True)
class Page:
    html: str
    root: Element

    @property
    def text(self) -> str:
        return words_of(self.root.find("body"))

    def section(self, heading: str) -> str:
        """The words under the second-level heading that begins so."""
        for section in self.root.iter("section"):
            title = section.find("h2")
            if title is not None and words_of(title).startswith(heading):
                return words_of(section)
        raise AssertionError(f"no section {heading!r}")

    def fold(self, words: str) -> str:
        """The words of the fold whose row begins so, its row included."""
        for fold in self.root.iter("details"):
            row = fold.find("summary")
            if row is not None and words_of(row).startswith(words):
                return words_of(fold)
        raise AssertionError(f"no fold {words!r}")

    def links(self) -> list[str]:
        return [a.get("href", "") for a in self.root.iter("a")]


def words_of(element: Element | None) -> str:
    assert element is not None
    return re.sub(r"\s+", " ", " ".join(element.itertext())).strip()


def parsed(html: str) -> Page:
    """Raises html5lib.ParseError on the first thing that HTML does not allow."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    return Page(html, parser.parse(html))


def page_of(house: House, now: int = NOW, project: int | None = None) -> Page:
    snapshot = read_snapshot(project or house.project)
    return parsed(render_page(snapshot, schedule_of(snapshot, now), now))
