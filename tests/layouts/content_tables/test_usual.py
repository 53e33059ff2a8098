"""The table of usual holes and lifetimes: each figure with who says it, and no figure where nobody does."""

import pytest

from portal.layouts.content_tables.reading import TableError
from portal.layouts.content_tables.usual import FILE, USUAL, read
from portal.layouts.deck.dimensions import USES
from portal.layouts.length import Length

SOAP = '[soap]\nname = "soap dispenser"\nhole = "1-1/4 in"\nusual = "about 1-1/4 in"\nsource = "trade guides"\n'


def test_every_use_of_a_hole_has_its_line_and_there_is_no_other() -> None:
    assert {*USUAL, "other"} == set(USES)


def test_a_figure_has_its_source_and_none_is_from_memory() -> None:
    assert "memory" not in FILE.read_text()
    for one in USUAL.values():
        assert one.hole or one.usual is None or one.usual.endswith("its sheet says which")
    assert {one.use for one in USUAL.values() if one.usual is None} == {"hot_water"}


def test_a_hole_that_may_be_picked_is_the_one_that_is_said_in_words() -> None:
    for one in USUAL.values():
        if one.hole:
            assert one.usual == f"about {Length.parse(one.hole).text}"


@pytest.mark.parametrize(("change", "why"), [
    (('"1-1/4 in"', '"wide"'), "soap.hole"), (("hole", "holes"), "give only"),
    (("source", "lasts"), "usual and source together"),
    (("trade guides", " "), "soap.source: is empty"), (("[soap]", "[soap"), "is no TOML"),
    (("source = ", 'lasts = "a year"\nsource = '), "lasts and lasts_source together"),
    (('usual = "about 1-1/4 in"\n', ""), "usual and source together"), (("name = ", "hole = "), "TOML"),
])  # fmt: skip
def test_a_table_that_can_not_be_used_is_refused_by_its_entry(change: tuple[str, str], why: str) -> None:
    assert read(SOAP)["soap"].hole == "1-1/4 in"
    with pytest.raises(TableError, match=why):
        read(SOAP.replace(*change))
