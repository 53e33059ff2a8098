"""Every piece of guidance has the same simple form, leads somewhere, and can be read in one go by anyone."""

import re
from pathlib import Path

import pytest

from portal.content import parse
from tests.content.reading import count, grade, sentences, words_of
from tests.content.written import Written, written

HARDEST_GRADE = 8.0  # WCAG 2.2 SC 3.1.5 asks for an easier form above lower secondary school, about grade 9
LONGEST_SENTENCE = 26  # our own limit: no published source names one

# One word for one thing: what the pages never say, and what they say instead.
SYNONYMS = {
    "appointment": "visit", "client": "homeowner", "customer": "homeowner", "user": "homeowner",
    "deadline": "needed by", "due date": "needed by", "task": "phase", "subcontractor": "crew",
    "sign-off": "approval", "log in": "sign in", "change order": "change to the contract", "selection": "decision",
    "colour": "color", "grey": "gray",
}
EMPTY_LINK_WORDS = {"here", "click here", "this", "link", "more", "read more"}

every_piece = pytest.mark.parametrize("piece", written(), ids=lambda piece: piece.name)


def test_all_three_folders_hold_pieces() -> None:
    assert {piece.path.parent.name for piece in written()} >= {"guide", "decisions", "cautions"}


@every_piece
def test_a_piece_begins_with_a_title_and_one_sentence_that_sums_it_up(piece: Written) -> None:
    first, blank, summary, after, *_ = piece.text.splitlines()
    assert re.fullmatch(r"# \S.*", first) and blank == after == ""
    assert summary == f"> {piece.summary}" and len(sentences(piece.summary)) == 1 and summary.endswith(".")
    assert not piece.title.endswith(".")


@every_piece
def test_the_portal_reads_the_same_title_and_summary(piece: Written) -> None:
    read = parse(piece.path.stem, piece.text)
    assert (read.title, read.summary) == (piece.title, piece.summary)
    assert "<h1" not in read.html and "&gt; " not in read.html


@every_piece
def test_a_piece_holds_no_html(piece: Written) -> None:
    assert not re.search(r"<[A-Za-z/!]", piece.text)


@every_piece
def test_its_links_lead_to_pages_of_the_guide_and_say_where(piece: Written) -> None:
    slugs = {guide.path.stem for guide in written("guide")}
    for words, target in piece.links:
        slug = re.fullmatch(r"/guide/([a-z0-9-]+)/", target)
        assert slug and slug[1] in slugs, f"{piece.name} links to {target}"
        assert words.lower() not in EMPTY_LINK_WORDS


@every_piece
def test_it_is_readable_after_eight_years_of_school(piece: Written) -> None:
    assert grade(count(piece.prose)) <= HARDEST_GRADE


@every_piece
def test_no_sentence_is_long(piece: Written) -> None:
    long = [sentence for sentence in sentences(piece.prose) if len(words_of(sentence)) > LONGEST_SENTENCE]
    assert long == []


@every_piece
def test_it_has_one_word_for_one_thing(piece: Written) -> None:
    said = [word for word in SYNONYMS if re.search(rf"\b{word}s?\b", piece.prose, re.IGNORECASE)]
    assert said == [], {word: SYNONYMS[word] for word in said}


@every_piece
def test_its_sources_stand_at_the_end(piece: Written) -> None:
    assert list(piece.sections)[-1] == "Sources"
    assert piece.items("Sources")


@every_piece
def test_heading_levels_are_not_skipped(piece: Written) -> None:
    levels = [len(marks) for marks in re.findall(r"^(#+) ", piece.text, flags=re.MULTILINE)]
    assert all(after <= before + 1 for before, after in zip(levels, levels[1:], strict=False))
    assert levels.count(1) == 1


def test_what_the_guide_says_of_the_page_stands_there_by_the_same_words() -> None:
    """Each name in bold: in a template of the page, or in what a module says of it."""
    page = next(piece for piece in written("guide") if piece.path.stem == "your-page")
    named = [name.rstrip(".") for name in re.findall(r"\*\*(.+?)\*\*", page.text)]
    pages = Path(__file__).parents[2] / "portal/pages"
    said = [path.read_text(encoding="utf-8") for kind in ("*.html", "*.py") for path in sorted(pages.rglob(kind))]
    assert len(named) > 12
    assert [name for name in named if not any(name in text for text in said)] == []
