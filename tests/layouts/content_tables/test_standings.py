"""The table of what each check is worth: whole, used, and refused in plain words."""

import re

import pytest

from portal.layouts.content_tables.reading import TableError
from portal.layouts.content_tables.standings import FILE, STANDINGS, read
from tests.test_arrows import ROOT

ENTRY = '[deck.x]\nname = "x"\nstops = true\nwhy = "It breaks."\nsource = "geometry"\n'


def test_every_entry_is_a_check_of_a_kind_and_every_check_has_its_entry() -> None:
    source = "".join(path.read_text() for path in (ROOT / "portal" / "layouts").rglob("*.py"))
    assert set(re.findall(r'Measure\("([a-z.-]+)"', source)) == set(STANDINGS)


def test_rules_and_advices_both_say_why_and_who_says_so() -> None:
    assert {each.stops for each in STANDINGS.values()} == {True, False}
    for key, each in STANDINGS.items():
        assert each.why[0].isupper() and each.why.endswith("."), key
        assert "from memory" not in each.source, key


def test_an_entry_is_read_as_it_stands() -> None:
    (found,) = read(ENTRY).values()
    assert (found.name, found.stops, found.why, found.source) == ("x", True, "It breaks.", "geometry")


@pytest.mark.parametrize(("was", "becomes", "said"), [
    ("stops = true\n", "", "deck.x: give exactly name, source, stops, why"),
    ("true", '"yes"', "deck.x.stops: write true for a rule, false for an advice"),
    ('"It breaks."', '" "', "deck.x.why: is empty"), ("[deck.x]", "[deck", "is no TOML"),
])
def test_what_cannot_be_used_is_refused_by_its_place(was: str, becomes: str, said: str) -> None:
    with pytest.raises(TableError, match=f"{FILE.name}.*{said}"):
        read(ENTRY.replace(was, becomes))
