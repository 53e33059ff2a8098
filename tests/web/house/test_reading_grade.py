"""How hard the pages of a household are to read: Flesch-Kincaid (tests/content/reading.py), over their whole sentences.

A sentence is what ends with its mark; labels, dates and names by themselves are none. What people typed (questions,
options, reasons) is not ours, but it stands on the pages, so it counts.
"""

import re
from collections.abc import Callable, Iterator
from xml.etree.ElementTree import Element

import html5lib
import pytest

from portal.acts.decisions.answers import approve
from portal.pages.evidence.record_page import render_record
from portal.record.log.entry_kinds import KINDS
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import record_rows
from tests.content.reading import Counts, count, grade, words_of
from tests.demo_house import DemoHouse
from tests.house import NOW, House
from tests.pages.evidence.one_of_each import BODIES, one_of_each
from tests.web.signed_in import Desk

Opened = Callable[[str], Desk]
HARDEST = 6.0
_BLOCKS = frozenset({
    "p", "li", "dd", "dt", "figcaption", "summary", "h1", "h2", "h3", "label", "td", "div", "section", "article",
    "header", "footer", "main", "ol", "ul",
})  # fmt: skip
_SENTENCE = re.compile(r"[^.!?]+(?:\.\d[^.!?]*)*[.!?](?=[”’)]?(?:\s|$))")
_DROPPED = frozenset({"style", "script", "svg", "title", "option", "address"})
ABBREVIATED = re.compile(r"\b(in|ft|am|pm|CFR|No)\.(?=\s[a-z0-9])")


def sentences_of(html: str) -> list[str]:
    """Whole sentences of a page, in order; those of another block never run together."""
    root = html5lib.parse(html, namespaceHTMLElements=False)
    text = ABBREVIATED.sub(r"\1", re.sub(r"[ \t\xa0]+", " ", "".join(_text(root.find("body")))))
    found = [one.strip() for line in text.split("\n") for one in _SENTENCE.findall(line)]
    return [one for one in found if words_of(one)]


def _text(element: Element) -> Iterator[str]:
    """A new line at each end of a block."""
    tag = str(element.tag).rpartition("}")[2]
    if tag not in _DROPPED:
        yield "\n" if tag in _BLOCKS else ""
        yield (element.text or "").replace("\n", " ")
        for inner in element:
            yield from _text(inner)
        yield "\n" if tag in _BLOCKS else ""
    yield (element.tail or "").replace("\n", " ")


def grade_of(sentences: list[str]) -> float:
    counted = [count(one.rstrip(".!?")) for one in sentences]
    return grade(Counts(sum(c.words for c in counted), len(sentences), sum(c.syllables for c in counted)))


@pytest.mark.parametrize("way", [
    "", "decisions/1/", "decisions/1/review?revision=1&option=a", "decisions/2/", "record/", "paper/", "mail/", "copy/",
    "calendar/", "plan/", "crew/", "guide/your-page/", "guide/how-to-answer/",
])
def test_a_page_asks_for_six_years_of_school_at_most(opened: Opened, house: House, way: str) -> None:
    """Once there is an answer, which the record tells."""
    name = house.co_owner.name
    approve(house.co_owner, house.project, house.decisions[5], revision=1, option="a", name=name, now=NOW)
    reader = opened("homeowner")
    found = sentences_of(reader.client.get(f"{reader.path}{way}").get_data(as_text=True))
    assert len(found) >= 3
    hardest = sorted(found, key=lambda one: -grade_of([one]))[:5]
    assert grade_of(found) <= HARDEST, "\n".join(hardest)


def test_a_whole_record_asks_for_no_more(demo: DemoHouse) -> None:
    """That of the demo, which grew entry by entry; and one of each kind, with all that its kind can say."""
    assert set(BODIES) == set(KINDS)
    for entries in (list(record_rows.every(demo.project)), one_of_each()):
        found = sentences_of(render_record(read_snapshot(demo.project), entries, NOW))
        assert len(found) > len(entries)
        hardest = sorted(found, key=lambda one: -grade_of([one]))[:9]
        assert grade_of(found) <= HARDEST, "\n".join(hardest)


def test_sentences_are_told_apart_from_labels_and_dates() -> None:
    html = "<h2>What we owe you</h2><p>It is 3.5 in. wide. Answer by Mon Dec 7.</p><p>Call</p><ul><li>Two rests.</ul>"
    assert sentences_of(html) == ["It is 3.5 in wide.", "Answer by Mon Dec 7.", "Two rests."]


def test_a_hard_sentence_is_found() -> None:
    hard = "Notwithstanding considerable organizational difficulties, representatives reconsidered everything."
    assert grade_of([hard]) > 12 > 3 > grade_of(["We come on Monday and set the top."])
