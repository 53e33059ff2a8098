"""Written text becomes HTML of an allow-list, whatever was written; and in time, however much of it."""

import re

import html5lib
import pytest

from portal.words.prose import html_of, plain_of

HOSTILE = [
    "<script>alert(1)</script>",
    "[read](javascript:alert(1))",
    "[read](JaVaScRiPt:alert(1))",
    "[read](&#106;avascript:alert(1))",
    "[read](java\tscript:alert(1))",
    "[read](java\nscript:alert(1))",
    "[read](java&#9;script:alert(1))",
    '<a href="java&#10;script:alert(1)">x</a>',
    '<a href=" &#1;javascript:alert(1)">x</a>',
    "[read](data:text/html;base64,PHNjcmlwdD4=)",
    "[read](vbscript:x)",
    "<javascript:alert(1)>",
    '<a href="javascript:alert(1)" onclick="alert(1)">x</a>',
    "<img src=x onerror=alert(1)>",
    "![x](https://elsewhere.example.com/seen.png)",
    "<svg onload=alert(1)><animate onbegin=alert(1)></svg>",
    "<math><mtext><table><mglyph><style><img src=x onerror=alert(1)>",
    "<style>body { display: none }</style>",
    '<p style="position: fixed" id="x" class="approved">x</p>',
    "<form action=https://elsewhere.example.com><input name=name></form>",
    "<iframe srcdoc='<script>alert(1)</script>'></iframe>",
    "<meta http-equiv=refresh content='0;url=https://elsewhere.example.com'>",
    '[x]: javascript:alert(1) "t"\n\n[x]',
    "| a |\n|---|\n| <script>alert(1)</script> |",
    "<<script>script>alert(1)<</script>/script>",
    "<noscript><p title='</noscript><img src=x onerror=alert(1)>'>",
]  # fmt: skip
ALLOWED = {
    "a": {"href", "rel", "title"}, "th": {"align"}, "td": {"align"},
    **dict.fromkeys(("p", "br", "em", "strong", "ul", "ol", "li", "h2", "h3", "h4", "blockquote", "code", "pre", "hr",
                     "table", "thead", "tbody", "tr"), frozenset()),
}  # fmt: skip


@pytest.mark.parametrize("text", HOSTILE)
def test_nothing_but_what_is_allowed_is_left(text: str) -> None:
    """Read back as a browser reads it (html5lib follows the HTML standard's parsing)."""
    for element in html5lib.parseFragment(html_of(text), namespaceHTMLElements=False).iter():
        if element.tag == "DOCUMENT_FRAGMENT":
            continue
        assert element.tag in ALLOWED, html_of(text)
        assert set(element.attrib) <= ALLOWED[element.tag], html_of(text)
        target = re.sub(r"[\t\n\r]", "", element.get("href", "https:"))  # as the URL standard reads it
        scheme = re.match(r"([A-Za-z][A-Za-z0-9+.-]*):", target.strip())
        assert scheme is None or scheme[1].lower() in ("http", "https", "mailto", "tel"), html_of(text)


def test_words_and_links_stay() -> None:
    assert html_of("**Dry** by [noon](https://example.com/a)") == (
        '<p><strong>Dry</strong> by <a href="https://example.com/a" rel="noopener noreferrer">noon</a></p>'
    )
    assert plain_of("# Dry by *noon*") == "Dry by noon"


def test_plain_words_hold_no_marks_of_html_but_the_characters_that_they_stand_for() -> None:
    assert plain_of("Nuts & bolts, < 3 in, `1 > 0`, 5 &amp; 6") == "Nuts & bolts, < 3 in, 1 > 0, 5 & 6"
    assert plain_of("- one\n- two\n\n*three*") == "one two three"


def test_more_brackets_than_anybody_writes_are_no_links() -> None:
    """Looking for the end of each would take a minute, in which nobody else can write."""
    assert "<a " in html_of("[a](https://example.com) " * 20)
    assert html_of("[a](b) " * 250).count("<a ") == 250
    assert html_of("[a](b)\n\n" * 400).count("<a ") == 400  # each is looked after in its own paragraph
    assert "<a " not in html_of("[a](b) " * 300)
    many = html_of("[a](https://example.com) " * 600)
    assert "<a " not in many and many.count("[a](") == 600


def test_a_cell_keeps_the_side_on_which_it_was_written_to_stand() -> None:
    table = html_of("| a | b |\n|--:|:--|\n| 1 | 2 |")
    assert '<th align="right">a</th>' in table and '<td align="left">2</td>' in table


def test_a_tag_is_no_mark_and_stays_as_its_letters() -> None:
    shown = html_of("<b>5</b> & <script>6</script>")
    assert shown == "<p>&lt;b&gt;5&lt;/b&gt; &amp; &lt;script&gt;6&lt;/script&gt;</p>"
    assert '<a href="https://example.com/a"' in html_of("<https://example.com/a>")
