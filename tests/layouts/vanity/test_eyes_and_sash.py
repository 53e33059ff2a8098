"""Lamps at the eyes of each, and a mirror that reaches as high as the sash that swings in."""

from typing import Any

import pytest

from portal.layouts.vanity.layout import VanityLayout
from tests.layouts.vanity.test_layout import BATH, found, keyed, sentences

CHILD = {"name": "Ida", "eyes": "38 in", "height": "42 in"}
TALL = {"name": "Jonas", "eyes": "72 in", "height": "77 in"}
SASH = "whether the window and its open sash leave room for mirror and lamps, which reach above its lower edge"


def beside(*people: dict[str, Any], lamp: str = "12 in") -> VanityLayout:
    return keyed(found(people=list(people), lights=BATH["lights"] | {"height": lamp}), "vanity:low:beside")


def test_a_lamp_between_the_eyes_of_two_is_at_eye_height_for_neither_and_says_by_how_much() -> None:
    """Middle of 38 and 72 in is 55 in: 17 in off both, where half of a lamp is 6 in."""
    layout = beside(CHILD, TALL)
    assert layout.lamp is not None and layout.lamp.text == "55 in"
    assert sentences(layout, "vanity.eye-height") == [
        "lamp off eye height, Ida: 17 in, at most 6 in: not as advised",
        "lamp off eye height, Jonas: 17 in, at most 6 in: not as advised"]
    assert ("They are not at eye height for all: their middles are 17 in above the eyes of Ida and 17 in below the "
            "eyes of Jonas.") in layout.effects


def test_a_lamp_as_high_as_the_eyes_of_all_are_apart_is_at_eye_height_for_all() -> None:
    """Eyes at 50 and 72 in are 22 in apart."""
    short = {"name": "Maren", "eyes": "50 in", "height": "55 in"}
    assert [one.name for one in beside(short, TALL, lamp="21-7/8 in").not_at_eyes] == ["Maren", "Jonas"]
    layout = beside(short, TALL, lamp="22 in")
    assert not layout.not_at_eyes and not any(check.what.key == "vanity.eye-height" for check in layout.noted)
    assert not any("eye height" in sentence for sentence in layout.effects)


def test_only_whose_eyes_it_is_off_are_named() -> None:
    """Eyes at 60, 62 and 80 in: the middle is 70 in, and 18 in of lamp reach from 61 to 79 in."""
    people = [{"name": name, "eyes": f"{eyes} in", "height": f"{eyes + 5} in"}
              for name, eyes in (("Maren", 60), ("Ida", 62), ("Jonas", 80))]
    layout = beside(*people, lamp="18 in")
    assert [one.name for one in layout.not_at_eyes] == ["Maren", "Jonas"]


def test_no_light_above_the_mirror_comes_first_because_one_beside_it_is_off_some_eyes() -> None:
    layouts = found(people=[CHILD, TALL])
    assert [layout.light.value for layout in layouts if layout.ok][0] == "beside"
    assert not any(layout.not_at_eyes for layout in layouts if layout.light.value == "above")


@pytest.mark.parametrize(("edge", "light", "said"), [
    ("78-1/4 in", "beside", False), ("78-3/16 in", "beside", True), ("50 in", "beside", True),
    ("78-1/4 in", "above", True)])
def test_a_mirror_or_lamp_as_high_as_the_sash_is_listed_as_not_checked(edge: str, light: str, said: bool) -> None:
    """The glass ends at 77-1/4 in, its frame at 78-1/4 in; a lamp beside it at 70 in, one above it far higher."""
    layout = keyed(found(window={"sash": edge, "to_tap": "2 in"}), f"vanity:middle:{light}")
    assert layout.top.text == "77-1/4 in"
    assert (SASH in layout.not_checked) is said


def test_without_a_window_there_is_no_sash_to_name() -> None:
    assert SASH not in found(window=None)[0].not_checked
