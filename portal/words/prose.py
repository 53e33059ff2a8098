"""Markdown in, allow-listed HTML out: the only way that written text gets onto a page.

It takes a time that its length bounds, whatever it holds, since nothing can stop the converter once it has begun:
tags are no marks, a mark means nothing where there are so many that looking for the end of each takes long, and a text
of more lines, or deeper in itself, than anybody writes is refused. `tests/words/test_prose_in_time.py` counts the
steps.
"""

import re
import unicodedata
from collections.abc import Callable
from html import unescape
from typing import Any, NamedTuple

import markdown
import nh3
from markdown.extensions.sane_lists import SaneListExtension
from markdown.extensions.tables import TableExtension

from portal.words import typed

_BLANK_LINE = re.compile(r"\n[ \t]*\n")
_TAGS = {
    "p", "br", "em", "strong", "a", "ul", "ol", "li", "h2", "h3", "h4", "blockquote", "code", "pre", "hr",
    "table", "thead", "tbody", "tr", "th", "td",
}
_ATTRIBUTES = {"a": {"href"}, "th": {"align"}, "td": {"align"}}
_EXTENSIONS = [TableExtension(use_align_attribute=True), SaneListExtension()]
_SCHEMES = {"http", "https", "mailto", "tel"}

MOST_LINES = 1000
MOST_DEEP = 20
_MOST_MARKS = 500  # of each kind
_MOST_LOOKED_THROUGH = 500_000  # each bracket is looked after letter by letter, perhaps to the end of its paragraph
_LINKS = ("reference", "link", "image_link", "image_reference", "short_reference", "short_image_ref")
_OTHERS = {"`": ("backtick",), "*": ("em_strong",), "_": ("em_strong",), "<": ("autolink", "automail")}


class TooTangled(ValueError):
    """Says in a sentence what of a text's marks is too much, and what to do."""


class Prose(NamedTuple):
    """A text as it was typed and as pages show it."""

    text: str
    html: str


def html_of(text: str) -> str:
    """Turn Markdown into HTML that is safe on any page: only listed tags, headings from `h2` down, links to http,
    https, mailto and tel. Tags that were written stay as their letters. Where there are too
    many marks of a kind, they stay as their letters, too. What is shown holds what a typed text may hold
    (portal.words.typed), whatever entities it was written with. Raises TooTangled."""
    lines = text.count("\n") + 1
    if lines > MOST_LINES:
        raise TooTangled(f"This has {lines} lines. Use at most {MOST_LINES}.")
    raw = _converter(text).convert(text)
    raw = raw.replace("<h1>", "<h2>").replace("</h1>", "</h2>")
    return _as_typed(
        nh3.clean(raw, tags=_TAGS, attributes=_ATTRIBUTES, url_schemes=_SCHEMES, link_rel="noopener noreferrer")
    )


def prose(text: str) -> Prose:
    """Turn a typed text into what is kept of it. Raises TooTangled, also where nothing of it would be seen."""
    html = html_of(text)
    if not typed.seen(words_of(html)):
        raise TooTangled("Nothing of this would be seen. Write words.")
    return Prose(text, html)


def plain_of(text: str) -> str:
    """Turn Markdown into its words on one line, for titles, notices and descriptions: no marks, no tags, and `&` as it
    is written."""
    return words_of(html_of(text))


def words_of(html: str) -> str:
    """The words of what `html_of` has made, on one line."""
    return " ".join(unescape(nh3.clean(html, tags=set())).split())


def _as_typed(html: str) -> str:
    """Entities are letters by now, so that none brings back what is taken out of a typed text."""
    return unicodedata.normalize("NFC", typed.only_lines(html))


def _converter(text: str) -> markdown.Markdown:
    made = markdown.Markdown(extensions=_EXTENSIONS, output_format="html")
    made.preprocessors.deregister("html_block")
    made.inlinePatterns.deregister("html")
    unread = [pattern for mark, patterns in _OTHERS.items() if text.count(mark) > _MOST_MARKS for pattern in patterns]
    if sum(part.count("[") * len(part) for part in _BLANK_LINE.split(text)) > _MOST_LOOKED_THROUGH:
        unread += _LINKS
        made.parser.blockprocessors.deregister("reference")
    for pattern in unread:
        made.inlinePatterns.deregister(pattern, strict=False)  # stars and underlines are read by one
    made.parser.parseBlocks = _at_most_so_deep(made.parser.parseBlocks)  # type: ignore[method-assign, assignment]
    return made


def _at_most_so_deep(parse: Callable[[Any, list[str]], None]) -> Callable[[Any, list[str]], None]:
    deep = 0

    def run(parent: Any, blocks: list[str]) -> None:
        nonlocal deep
        deep += 1
        if deep > MOST_DEEP:
            raise TooTangled("Lists or quotes stand too deep in each other. Take marks away where lines begin.")
        parse(parent, blocks)
        deep -= 1

    return run
