"""What was asked is checked again by the checks of today: what they find that was not said then is said, once."""

from copy import deepcopy
from typing import Any

import pytest

from portal.demo.dimensions import DECK
from portal.layouts.checks_today import found_today
from portal.layouts.kinds import lay_out
from tests.drawn import TIGHT
from tests.layouts.test_kinds import EXAMPLES

PASSED = lay_out("deck", DECK)[1].to_json()
FAILED = next(one for one in lay_out("deck", TIGHT) if one.key == PASSED["key"]).to_json()


def option(layout: Any) -> dict[str, Any]:
    return {"key": "a", "title": "One", "detail": {"layout": layout}}


def before_keys(layout: dict[str, Any]) -> dict[str, Any]:
    """As it was kept before checks and layouts had keys."""
    plain: dict[str, Any] = deepcopy(layout)
    del plain["key"]
    for check in plain["checks"]:
        del check["key"], check["stops"]
    return plain


@pytest.mark.parametrize(("kind", "dimensions"), EXAMPLES)
def test_what_is_computed_as_it_was_asked_finds_nothing(kind: str, dimensions: dict[str, Any]) -> None:
    for layout in lay_out(kind, dimensions)[:5]:
        assert found_today(kind, {"dimensions": dimensions}, option(layout.to_json())) == ""
        assert found_today(kind, {"dimensions": dimensions}, option(before_keys(layout.to_json()))) == ""


@pytest.mark.parametrize("layout", [PASSED, before_keys(PASSED)])
def test_a_rule_that_is_broken_today_and_was_not_then_is_said(layout: dict[str, Any]) -> None:
    said = found_today("deck", {"dimensions": TIGHT}, option(layout))
    assert said.startswith("The checks of today find: hole to hole, faucet and soap dispenser: 2-11/16 in, at least 3")
    assert said.endswith("Ask it again before anything is cut.")


@pytest.mark.parametrize("layout", [FAILED, before_keys(FAILED)])
def test_what_was_said_then_is_not_said_twice(layout: dict[str, Any]) -> None:
    assert found_today("deck", {"dimensions": TIGHT}, option(layout)) == ""


def test_a_hole_that_would_stand_elsewhere_today_is_said_and_one_that_would_not_is_not() -> None:
    """What was asked before the slop counted: a soap dispenser 3-1/2 in from the faucet has 3/16 in to its hole."""
    loose = DECK | {"place": {"center_line": "47-1/2 in", "row_from_front": "22-1/4 in"},
                    "minimums": DECK["minimums"] | {"slop": "1/8 in"}}
    before, today = (next(one for one in lay_out("deck", each) if one.key == PASSED["key"]).to_json()
                     for each in (DECK | {"place": loose["place"] | {"pitch": "3-1/2 in"}}, loose))
    assert "place its holes elsewhere" in found_today("deck", {"dimensions": loose}, option(before))
    assert found_today("deck", {"dimensions": loose}, option(today)) == ""


@pytest.mark.parametrize("holes", [7, [], [7], [{"from_left_end": 7}], [{"from_left_end": {"mm": "7"}}]])
def test_holes_that_can_not_be_read_say_nothing(holes: Any) -> None:
    assert found_today("deck", {"dimensions": DECK}, option(PASSED | {"holes": holes})) == ""


def test_a_layout_that_is_found_no_more_says_so() -> None:
    fewer = DECK | {"accessories": []}
    assert "don’t find this layout" in found_today("deck", {"dimensions": fewer}, option(PASSED))
    nameless = option(PASSED | {"key": 7, "title": 7})
    assert "don’t find this layout" in found_today("deck", {"dimensions": DECK}, nameless)


@pytest.mark.parametrize("dimensions", [{}, {"top": 7}, DECK | {"cutout": None}, DECK | {"colour": "red"}])
def test_dimensions_that_are_read_no_more_say_so(dimensions: dict[str, Any]) -> None:
    assert "can’t read the dimensions" in found_today("deck", {"dimensions": dimensions}, option(PASSED))


@pytest.mark.parametrize("detail", [None, 7, [], {}, {"dimensions": None}, {"dimensions": "96 in"}])
def test_without_dimensions_or_a_layout_there_is_nothing_to_say(detail: Any) -> None:
    assert found_today("deck", detail, option(PASSED)) == ""
    for other in ({"key": "a", "title": "Oak"}, option(None), option("deck"), {"detail": 7}):
        assert found_today("deck", {"dimensions": TIGHT}, other) == ""
    assert found_today("general", {"dimensions": TIGHT}, option(PASSED)) == ""
