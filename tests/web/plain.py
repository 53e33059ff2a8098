"""What makes a page plain: it parses, it has a title and one main heading, every input says what it is for, every link
and every form leads somewhere, and no raw codes are shown. It sits in the test client, so nobody has to remember."""

import re
from urllib.parse import urljoin, urlsplit
from xml.etree.ElementTree import Element

import html5lib
from werkzeug.exceptions import HTTPException, MethodNotAllowed
from werkzeug.routing import MapAdapter
from werkzeug.routing.exceptions import RequestRedirect

X = "{http://www.w3.org/1999/xhtml}"
UNTYPED = ("hidden", "submit")
# What only a program says: a Python value, a template that was not filled, a state's name.
RAW = re.compile(r"\bNone\b|\bTrue\b|\bFalse\b|\{\{|\}\}|\bunder_way\b|\basked_back\b|datetime\.|<[a-z]+\.|\bnull\b")


def parsed(html: str) -> Element:
    """Strictly by the HTML standard: any parse error fails."""
    return html5lib.HTMLParser(strict=True).parse(html)


def text_of(page: Element) -> str:
    body = page.find(f"{X}body")
    assert body is not None
    return " ".join(_text(body).split())


def _text(element: Element) -> str:
    """Elements stand apart, but those that only keep a length or a code on one line."""
    found = element.text or ""
    for one in element:
        found += (_text(one) if one.get("class") == "n" else f" {_text(one)} ") + (one.tail or "")
    return found


def check_plain(html: str, path: str, routes: MapAdapter) -> Element:
    page = parsed(html)
    titles = [element.text for element in page.iter(f"{X}title")]
    assert len(titles) == 1 and titles[0] and len(titles[0].split()) > 1, titles
    assert len(list(page.iter(f"{X}h1"))) == 1, "one main heading"
    ids = [element.get("id") for element in page.iter() if element.get("id")]
    assert len(ids) == len(set(ids)), f"ids twice: {sorted(ids)}"
    _check_labels(page, ids)
    _check_ways(page, path, routes)
    shown = RAW.search(text_of(page))
    assert not shown, f"{path} shows {shown and shown[0]!r}"
    return page


def _check_labels(page: Element, ids: list[str | None]) -> None:
    """Each input has a label of its own or stands in one, and what describes it is there."""
    named = {label.get("for") for label in page.iter(f"{X}label") if "".join(label.itertext()).strip()}
    inside = {id(one) for label in page.iter(f"{X}label") for one in label.iter()}
    for kind in ("input", "select", "textarea"):
        for one in page.iter(f"{X}{kind}"):
            if one.get("type") not in UNTYPED:
                assert one.get("id") in named or id(one) in inside, f"{one.get('name')} has no label"
            for described in (one.get("aria-describedby") or "").split():
                assert described in ids, f"{one.get('name')} points to {described}, which is not there"
    for button in page.iter(f"{X}button"):
        assert "".join(button.itertext()).strip(), "a button without words"


def _check_ways(page: Element, path: str, routes: MapAdapter) -> None:
    for link in page.iter(f"{X}a"):
        _named_as_seen(link)
        words = ["".join(link.itertext()), *(image.get("alt") or "" for image in link.iter(f"{X}img"))]
        assert "".join(words).strip(), "a link without words"
        _leads(urljoin(path, link.get("href") or ""), "GET", routes)
    for form in page.iter(f"{X}form"):
        _leads(urljoin(path, form.get("action") or ""), (form.get("method") or "get").upper(), routes)
        for button in form.iter(f"{X}button"):
            if button.get("formaction"):
                _leads(urljoin(path, button.get("formaction") or ""), (form.get("method") or "get").upper(), routes)


def _named_as_seen(link: Element) -> None:
    """Whoever speaks to the page says what they see (WCAG 2.2, SC 2.5.3 Label in Name)."""
    spoken, seen = link.get("aria-label"), " ".join("".join(link.itertext()).split())
    assert spoken is None or seen.casefold() in spoken.casefold(), f"“{seen}” is spoken as “{spoken}”"


def _leads(address: str, method: str, routes: MapAdapter) -> None:
    parts = urlsplit(address)
    if parts.scheme in ("tel", "sms", "mailto") or parts.netloc:
        return
    try:
        routes.match(parts.path, method)
    except MethodNotAllowed as error:
        raise AssertionError(f"{address} takes no {method}") from error
    except RequestRedirect as error:
        raise AssertionError(f"{address} is only reached by a redirect") from error
    except HTTPException as error:
        raise AssertionError(f"{address} leads nowhere") from error
