"""A thing is drawn as what its household calls it."""

import pytest

from portal.drawings.symbols.choosing import USUAL, symbol_of
from portal.drawings.symbols.shapes import THINGS
from portal.planning.household.services import SERVICES


def test_every_service_has_a_symbol_of_its_own() -> None:
    assert set(USUAL) == set(SERVICES)
    assert set(USUAL.values()) <= set(THINGS)
    assert len(set(USUAL.values())) == len(USUAL)


@pytest.mark.parametrize(
    ("service", "name", "symbol"),
    [
        ("sink", "", "sink"), ("sink", "laundry tub", "tub-sink"), ("sink", "Tub sink", "tub-sink"),
        ("sink", "bar sink", "sink"), ("sink", "stubborn old sink", "sink"), ("bath", "Shower", "shower"),
        ("bath", "tub with shower", "bath"), ("cooktop", "hot plate", "hot-plate"),
        ("cooktop", "gas cooktop", "cooktop"), ("cooktop", "microwave", "microwave"),
        ("way_through", "back door", "door"), ("way_through", "garage door", "garage"),
        ("way_through", "stairs to the cellar", "stairs"), ("way_through", "sliding door", "slider"),
        ("way_through", "door to the hall", "door"),
        ("way_through", "way to the hall", "opening"), ("power", "refrigerator", "fridge"), ("power", "Lights", "lamp"),
        ("water", "washing machine", "washer"), ("toilet", "shower toilet", "toilet"),
        ("heat", "Größe", "radiator"),
    ],
)  # fmt: skip
def test_a_name_chooses_by_the_beginnings_of_its_words(service: str, name: str, symbol: str) -> None:
    assert symbol_of(service, name) == symbol


def test_what_is_no_service_has_no_symbol() -> None:
    with pytest.raises(KeyError):
        symbol_of("moat", "bridge")
