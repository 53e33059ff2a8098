"""A page of ours in a folder: links lead to files or become words, forms are gone, and it says that it is a copy."""

import pytest

from portal.pages.environment import content_policy
from portal.pages.own_copy.offline import offline

BEGINS = '<body>\n<div class="in slim">\n'
FILES = {
    "index.html", "contents.html", "record/index.html", "record/7/index.html", "decisions/4/index.html",
    "photos/a-large.jpg", "check-the-record.html", "care/stone-top.html",
}  # fmt: skip


def body(html: str, path: str = "decisions/4/index.html", as_of: str = "Wednesday, December 2, 2026") -> str:
    return offline(f"{BEGINS}{html}", path, FILES, as_of).decode().partition("</nav>\n")[2]


@pytest.mark.parametrize(("path", "address", "leads"), [
    ("decisions/4/index.html", "../../", "../../index.html"), ("decisions/4/index.html", "./", "index.html"),
    ("index.html", "record/", "record/index.html"), ("index.html", "decisions/4/", "decisions/4/index.html"),
    ("record/index.html", "7/", "7/index.html"),
    ("record/7/index.html", "../../decisions/4/", "../../decisions/4/index.html"),
    ("record/7/index.html", "../../photos/a-large.jpg", "../../photos/a-large.jpg"),
    ("record/7/index.html", "../../guide/check-the-record/", "../../check-the-record.html"),
    ("index.html", "guide/stone-top/", "care/stone-top.html"),
])
def test_a_link_leads_to_the_file_of_the_page(path: str, address: str, leads: str) -> None:
    link = f'<a class="x" href="{address}" download>there</a>'
    assert body(link, path) == f'<a class="x" href="{leads}" download>there</a>'


@pytest.mark.parametrize("address", [
    "../../guide/living-with-the-work/", "/guide/stone-top/", "visits.ics", "../5/", "/", "../../../x",
])
def test_a_link_to_what_is_not_in_the_copy_becomes_words(address: str) -> None:
    assert body(f'See <a href="{address}">these <b>words</b></a>.') == "See these <b>words</b>."


def test_a_row_that_leads_to_nothing_is_left_out() -> None:
    rows = '<nav><a class="row" href="plan/">The plan</a><a class="row" href="../../record/">The record</a></nav>'
    assert body(rows) == '<nav><a class="row" href="../../record/index.html">The record</a></nav>'


@pytest.mark.parametrize("address", ["tel:218-555-0142", "mailto:a@example.com", "https://example.com/", "#choices"])
def test_a_link_elsewhere_or_within_the_page_stays(address: str) -> None:
    assert body(f'<a href="{address}">there</a>') == f'<a href="{address}">there</a>'


def test_several_links_are_each_looked_at_and_other_tags_are_not() -> None:
    rest = '<abbr title="x">three</abbr> <img src="../../photos/a-large.jpg">'
    html = f'<a href="../../">one</a> <a href="nowhere/">two</a> {rest}'
    assert body(html) == f'<a href="../../index.html">one</a> two {rest}'


def test_forms_are_gone_with_the_section_that_asks_and_other_sections_stay() -> None:
    html = (
        "<section>\n<h2>Read</h2>\n</section>\n<section>\n<h2>Answer</h2>\n<form method=\"post\">x</form>\n</section>\n"
        "<p>After</p>\n<form>y</form>\n<p>End</p>"
    )
    assert body(html) == "<section>\n<h2>Read</h2>\n</section>\n<p>After</p>\n<p>End</p>"


def test_what_says_that_the_page_is_live_is_gone() -> None:
    assert body('<p>Today <span class="quiet live">kept up to date</span>.</p>') == "<p>Today .</p>"


@pytest.mark.parametrize(("path", "contents"), [
    ("index.html", "contents.html"), ("record/7/index.html", "../../contents.html"),
    ("care/stone-top.html", "../contents.html"),
])
def test_every_page_says_that_it_is_a_copy_as_of_when_and_leads_to_what_is_in_it(path: str, contents: str) -> None:
    html = offline(f"{BEGINS}<p>Hello</p>\n{BEGINS}", path, FILES, "today <b>").decode()
    banner = f'Your own copy, as of today &lt;b&gt;. <a href="{contents}">What is in it</a>'
    assert html == f'{BEGINS}<nav class="quiet" aria-label="The copy"><p>{banner}</p></nav>\n<p>Hello</p>\n{BEGINS}'


def test_photos_may_be_read_from_the_folder_and_forms_lead_nowhere() -> None:
    """A file has no origin, so that 'self' would forbid its own photos."""
    assert "img-src 'self'" in content_policy() and "form-action 'self'" in content_policy()
    escaped = content_policy().replace("'", "&#39;")
    meta = f'<meta http-equiv="Content-Security-Policy" content="{escaped}">'
    html = offline(meta, "index.html", FILES, "x").decode()
    assert "img-src file:" in html and "form-action &#39;none&#39;" in html
    assert "&#39;self&#39;" not in html.partition("img-src")[2]
