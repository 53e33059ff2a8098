"""The bits that are sold for a hole: never a narrower one, and each difference said."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.drawings.scenes.coordinates import bits_for
from portal.layouts.content_tables.bits import CORE, TWIST, read
from portal.layouts.content_tables.reading import TableError
from portal.layouts.length import Length

GOOD = '[core]\nsizes = ["1 in", "26 mm"]\nover = "1 mm"\nsource = "somebody"\n'


@pytest.mark.parametrize(("hole", "sold"), [
    ("1-3/8 in", ["1-3/8 in", "35 mm"]), ("1-1/4 in", ["1-1/4 in", "32 mm"]), ("35 mm", ["35 mm"]), ("33 mm", []),
    ("34.8 mm", ["1-3/8 in", "35 mm"]),
])
def test_the_nearest_of_each_system_that_is_not_narrower_is_found(hole: str, sold: list[str]) -> None:
    assert [bit.text for bit in CORE.sold_for(Length.parse(hole))] == sold


@settings(max_examples=100)
@given(st.fractions(min_value=1, max_value=80, max_denominator=64))
def test_no_bit_is_narrower_than_its_hole_or_much_wider(mm: object) -> None:
    hole = Length.of_mm(mm)  # type: ignore[arg-type]
    for bit in CORE.sold_for(hole):
        assert 0 <= (bit - hole).mm <= CORE.over.mm


def test_a_sheet_says_each_size_once_with_what_is_sold_and_by_how_much_it_is_wider() -> None:
    """35 - 34.925 = 0.075 mm; 32 - 31.75 = 0.25 mm."""
    holes = [Length.parse(hole) for hole in ("1-3/8 in", "1-1/4 in", "1-3/8 in", "33 mm")]
    (said,) = bits_for({hole: CORE.sold_for(hole) for hole in holes}, CORE.source)
    assert said == (
        "Bits as sold (common practice): for 1-3/8 in: 1-3/8 in or 35 mm (0.075 mm wider); for 1-1/4 in: 1-1/4 in or "
        "32 mm (0.25 mm wider); for 33 mm: no usual one, ask the shop first.")
    assert bits_for({}, CORE.source) == ()
    pull = Length.parse("3/16 in")
    (said,) = bits_for({pull: TWIST.sold_for(pull)}, TWIST.source)
    assert said.endswith("for 3/16 in: 3/16 in or 5 mm (0.2375 mm wider).")


@pytest.mark.parametrize(("changed", "why"), [
    ("[core", "is no TOML"), (GOOD.replace("over", "under"), "give exactly"), (GOOD.replace("somebody", " "), "source"),
    (GOOD.replace("26 mm", "26"), "no unit"), (GOOD.replace('["1 in", "26 mm"]', '"1 in"'), "must be a list"),
])
def test_a_table_that_can_not_be_used_is_refused_with_its_entry(changed: str, why: str) -> None:
    assert [size.text for size in read(GOOD)["core"].sizes] == ["1 in", "26 mm"]
    with pytest.raises(TableError, match=why):
        read(changed)
