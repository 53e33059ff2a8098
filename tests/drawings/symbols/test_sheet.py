"""A page holds each shape that it uses once, and no other."""

import xml.etree.ElementTree as ET

import pytest

from portal.drawings.symbols.shapes import SYMBOLS
from portal.drawings.symbols.sheet import shapes_used, use, with_shapes


def test_a_page_holds_what_it_uses_once() -> None:
    page = f"<p>{use('sink')}{use('door')}{use('sink', 's')}</p>"
    sheet = ET.fromstring(shapes_used(page))
    assert [symbol.get("id") for symbol in sheet] == ["s-door", "s-sink"]
    assert all(symbol.get("viewBox") == "0 0 48 48" and len(symbol) for symbol in sheet)


def test_a_page_without_symbols_holds_none() -> None:
    assert shapes_used("<p>s-sink, and #s-sink</p>") == ""


def test_words_that_look_like_a_use_choose_nothing() -> None:
    """Words of people are escaped; and a name that is no symbol is passed over."""
    assert shapes_used("&lt;use href=&quot;#s-sink&quot;/&gt;") == ""
    assert shapes_used('<use href="#s-moat"/>') == ""


@pytest.mark.parametrize("key", SYMBOLS)
def test_every_symbol_is_well_formed_and_out_of_the_way_of_readers(key: str) -> None:
    place = ET.fromstring(use(key))
    assert place.get("aria-hidden") == "true" and place[0].get("href") == f"#s-{key}"
    assert ET.fromstring(shapes_used(use(key)))[0].get("id") == f"s-{key}"


def test_a_symbol_that_is_not_there_is_refused() -> None:
    with pytest.raises(KeyError):
        use("moat")


def test_the_shapes_stand_at_the_end_of_the_body() -> None:
    page = with_shapes(f"<html><body><p>&lt;/body&gt;</p>{use('phone')}</body></html>")
    assert page.endswith(f"{shapes_used(use('phone'))}</body></html>")
    assert page.count("<symbol") == 1


def test_what_is_no_page_stays_as_it_is() -> None:
    assert with_shapes("<p>no body</p>") == "<p>no body</p>"
