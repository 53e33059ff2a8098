"""Markdown in, allow-listed HTML out: the only way that written text gets onto a page."""

from html import unescape

import markdown
import nh3

_TAGS = {
    "p", "br", "em", "strong", "a", "ul", "ol", "li", "h2", "h3", "h4", "blockquote", "code", "pre", "hr",
    "table", "thead", "tbody", "tr", "th", "td",
}
_ATTRIBUTES = {"a": {"href"}, "th": {"align"}, "td": {"align"}}
_MOST_LINKS = 500
_SCHEMES = {"http", "https", "mailto", "tel"}


def html_of(text: str) -> str:
    """Turn Markdown into HTML that is safe on any page: only listed tags, headings from `h2` down, links to http,
    https, mailto and tel. Other tags go, their text stays; scripts and styles go whole. Of a text with more than 500
    opening brackets none is a link."""
    if text.count("[") > _MOST_LINKS:  # each is looked after to the end of the text: 19,000 of them take a minute
        text = text.replace("[", "\\[")
    raw = markdown.markdown(text, extensions=["tables", "sane_lists"], output_format="html")
    raw = raw.replace("<h1>", "<h2>").replace("</h1>", "</h2>")
    return nh3.clean(
        raw, tags=_TAGS, attributes=_ATTRIBUTES, url_schemes=_SCHEMES, link_rel="noopener noreferrer"
    )


def plain_of(text: str) -> str:
    """Turn Markdown into its words on one line, for titles, notices and descriptions: no marks, no tags, and `&` as it
    is written."""
    return " ".join(unescape(nh3.clean(html_of(text), tags=set())).split())
