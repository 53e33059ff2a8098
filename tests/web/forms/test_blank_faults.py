"""What is wrong with what was typed into a kind's blanks: all of it, each at its input, in words."""

from typing import Any

from portal.demo.dimensions import DECK
from portal.web.forms.blank_faults import checked


def deck(**changed: Any) -> dict[str, list[str]]:
    return checked("deck", DECK | changed, {})


def test_contradictions_of_several_things_are_told_at_once() -> None:
    found = deck(cabinet={"left_side": "30 in", "right_side": "10 in"}, window={"left": "70 in", "right": "60 in"})
    assert set(found) == {"dimensions.cabinet.right_side", "dimensions.window.right"}


def test_what_asks_for_a_thing_that_was_wrong_is_not_blamed_for_it() -> None:
    knees = {"height": "0 in", "depth_high": "10 in", "depth_low": "5 in"}
    person = {"name": "Maren", "eyes": "60 in", "height": "65 in"}
    found = checked("vanity", {"counter": "34 in", "tap": "8 in", "seated": True, "knees": knees, "people": [person],
                               "minimums": {"above_splash": "1 in", "source": "the tiler"}}, {})
    assert found == {"dimensions.knees.height": ["This is zero; measure it and give its size."]}


def test_a_fault_calls_another_blank_as_its_label_does() -> None:
    (said,), = deck(cutout=DECK["cutout"] | {"width": "70 in"}).values()
    assert said == "This runs past the right end of the top; check it against “The top: Width”."
