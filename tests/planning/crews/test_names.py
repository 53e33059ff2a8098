"""Which texts are the same crew, and which two are only likely to be."""

import pytest

from portal.planning.crews.names import crew_key, likely_one, likely_twins


@pytest.mark.parametrize("text", ["Stone crew", "  stone-CREW ", "Stone  Crew.", "stóne crew"])
def test_capitals_marks_signs_and_spaces_tell_no_two_crews_apart(text: str) -> None:
    assert crew_key(text) == "stone crew"


def test_a_name_without_a_letter_is_itself() -> None:
    assert crew_key(" ?? ") == "??" != crew_key("!!")


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("Plumber", "Plumbers", True), ("Tile setter", "Tilesetters", True), ("Painter", "Paniter", True),
        ("Glass companies", "Glass company", True), ("Plumber", "Painter", False), ("Tile 1", "Tile 2", False),
        ("Glass", "Grass", False), ("Carpenters", "Carpet layers", False),
    ],
)  # fmt: skip
def test_likely_one_is_what_differs_by_a_plural_a_space_or_a_slip(one: str, other: str, same: bool) -> None:
    assert likely_one(crew_key(one), crew_key(other)) is same
    assert likely_one(crew_key(other), crew_key(one)) is same


def test_likely_twins_stand_together_in_the_order_in_which_they_came() -> None:
    keys = ["plumber", "painter", "plumbers", "tile setter", "tilesetter", "painter"]
    assert likely_twins(keys) == [["plumber", "plumbers"], ["painter"], ["tile setter", "tilesetter"]]
