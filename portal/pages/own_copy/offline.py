"""Makes a page of ours work from a folder: links lead to files, forms are gone, and it says that it is a copy."""

import posixpath
import re
from collections.abc import Collection
from re import Match
from urllib.parse import urlsplit

from markupsafe import escape

from portal.content import pieces

CONTENTS, CHECKING, BY_HAND = "contents.html", "check-a-receipt.html", "check-the-record.html"
PROOF = "record/files.html"
_GUIDES = {"guide/check-the-record/index.html": BY_HAND} | {
    f"guide/{piece.name}/index.html": f"care/{piece.name}.html" for piece in pieces("care")
}

_LINK = re.compile(r'<a ([^>]*?)href="([^"]*)"([^>]*)>(.*?)</a>', re.DOTALL)
_ROW = 'class="row"'  # leads elsewhere, and says nothing else
_ASKING = re.compile(r"<section>(?:(?!</section>).)*?<form\b.*?</section>\s*", re.DOTALL)
_FORM = re.compile(r"<form\b.*?</form>\s*", re.DOTALL)
_POLICY = re.compile(r'<meta http-equiv="Content-Security-Policy" content="[^"]*">')
_BEGINS = re.compile(r'<body[^>]*>\n<div class="in[^>]*>\n')
_LIVE = re.compile(r'<span class="quiet live">.*?</span>', re.DOTALL)


def offline(html: str, path: str, files: Collection[str], as_of: str) -> bytes:
    """Turn a page into a file of a copy. `path`: where it will lie; `files`: all paths there are. Links to nothing
    become words, rows of links go. `as_of`: in words, the state that the copy shows."""
    html = _POLICY.sub(lambda policy: _policy(policy[0]), html, count=1)
    for live in (_ASKING, _FORM, _LIVE):
        html = live.sub("", html)
    html = _LINK.sub(lambda link: _link(link, path, files), html)
    return _BEGINS.sub(lambda begins: f"{begins[0]}{_banner(path, as_of)}\n", html, count=1).encode()


def _from_here(path: str, target: str) -> str:
    """The relative address of one file of the copy, as seen from another."""
    return posixpath.relpath(target, posixpath.dirname(path) or ".")


def _policy(policy: str) -> str:
    """A file is of no origin, so 'self' would forbid its photos."""
    mark = escape("'")
    policy = policy.replace(f"img-src {mark}self{mark}", "img-src file:")
    return policy.replace(f"form-action {mark}self{mark}", f"form-action {mark}none{mark}")


def _banner(path: str, as_of: str) -> str:
    contents = f'<a href="{_from_here(path, CONTENTS)}">What is in it</a>'
    return f'<nav class="quiet" aria-label="The copy"><p>Your own copy, as of {escape(as_of)}. {contents}</p></nav>'


def _link(link: Match[str], path: str, files: Collection[str]) -> str:
    before, address, after, words = link.groups()
    if urlsplit(address).scheme or address.startswith("#"):
        return link[0]
    target = posixpath.normpath(posixpath.join(posixpath.dirname(path), address))
    if address == "/check/receipt/":
        target = CHECKING
    elif address.endswith("/"):
        target = posixpath.normpath(posixpath.join(target, "index.html"))
    target = _GUIDES.get(target, target)
    if target not in files:
        return "" if _ROW in before + after else words
    return f'<a {before}href="{_from_here(path, target)}"{after}>{words}</a>'
