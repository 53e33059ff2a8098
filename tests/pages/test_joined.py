"""What is read as one stays on one line, and nothing else of a page changes."""

import pytest

from portal.pages.home.page import render_page
from portal.pages.joined import joined
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House
from tests.pages.reading import parsed

NBSP = "\u00a0"


@pytest.mark.parametrize("words", ["Mon Dec 7", "November 25", "7:42 pm", "12:05 am", "4 in", "160 mm", "24 h"])
def test_words_that_belong_together_are_joined(words: str) -> None:
    assert joined(f"<p>by {words}, then</p>") == f"<p>by {words.replace(' ', NBSP)}, then</p>"


@pytest.mark.parametrize(
    "whole", ["22-1/4 in", "6-5/16 in", "3/8 in", "22-1/4", "3fa9-01bc-77de", "21fe-31df-a154-a261", "218-555-0142"]
)
def test_what_holds_a_hyphen_or_a_stroke_does_not_wrap_and_is_copied_as_it_was_written(whole: str) -> None:
    assert joined(f"<p>at {whole}.</p>") == f'<p>at <span class="n">{whole}</span>.</p>'


@pytest.mark.parametrize(
    "html",
    [
        '<input value="22-1/4 in">', "<textarea>Mon Dec 7</textarea>", "<option>Mon Dec 7, 7:42 pm</option>",
        "<title>Mon Dec 7</title>", "<style>a{b:4 in}</style>", "<svg><text>22-1/4 in</text></svg>",
        '<img alt="Mon > Dec, Mon Dec 7">', "<a title='a > 22-1/4 in'>b</a>", "<pre>3fa9-01bc-77de</pre>",
        '<a href="tel:218-555-0142">call</a>', "<code>" + "3fa9" * 16 + "</code>", "<p>2026-12-07</p>",
    ],
)  # fmt: skip
def test_what_is_sent_back_drawn_or_read_by_programs_stays(html: str) -> None:
    assert joined(html) == html


def test_the_text_of_the_page_is_the_same(house: House) -> None:
    snapshot = read_snapshot(house.project)
    html = render_page(snapshot, schedule_of(snapshot, NOW), NOW)
    assert f"Fri{NBSP}Dec{NBSP}4" in html and '<span class="n">218-555-0142</span>' in html
    assert "Tomorrow , Thu Dec 3 :" in parsed(html).text
