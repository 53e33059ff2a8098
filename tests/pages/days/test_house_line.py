"""The title of the drawn house, and the words below it."""

import pytest

from portal.pages.days.house_line import house_title, instead_sentences
from portal.planning.household.house_ahead import house_ahead
from portal.planning.household.house_services import PhaseTimes
from portal.planning.household.services import UNTIL_DONE, Take
from tests.planning.homes import BATH, CREW, HALL, KITCHEN, house, took
from tests.planning.houses import at

OFF = took(CREW, 4, "Hang the vanity", "2026-12-08 08:00", "2026-12-08 14:00", BATH, Take("water"),
           visits=[("2026-12-08 08:00", "2026-12-08 15:00")])


def said(when: str, *phases: PhaseTimes) -> list[str]:
    return instead_sentences(house_ahead(house(CREW, *phases), at(CREW, when)), CREW)


@pytest.mark.parametrize(
    ("when", "title"),
    [("2026-12-05 11:36", "Tonight and Sunday"), ("2026-12-07 18:55", "Tonight and Tuesday"),
     ("2026-12-07 06:40", "Today to Tuesday"), ("2026-12-07 16:29", "Today to Tuesday"),
     ("2026-12-07 16:30", "Tonight and Tuesday"), ("2026-12-25 09:00", "Tonight and Saturday")],
)  # fmt: skip
def test_the_title_names_the_time_that_it_speaks_of(when: str, title: str) -> None:
    assert house_title(house_ahead(house(CREW), at(CREW, when))) == title


@pytest.mark.parametrize(
    ("when", "begins"),
    [("2026-12-05 11:36", "From 8:00 am. "), ("2026-12-07 18:55", "From 4:30 pm. "),
     ("2026-12-07 10:00", "")],
)
def test_it_says_from_when_it_speaks_unless_that_is_now(when: str, begins: str) -> None:
    """On a Saturday that is the morning."""
    assert said(when) == [f"{begins}All works."]


def test_what_works_elsewhere_is_said_together() -> None:
    assert said("2026-12-07 18:55", OFF) == [
        "From 4:30 pm. A tag says when it is back.", "Use the sink in the Kitchen.",
        "Wash before the crew comes.", "No toilet works then: plan to be out, or call us about a portable one.",
    ]


def test_a_toilet_that_is_out_in_the_night_has_the_advice_for_a_night() -> None:
    out = took(CREW, 4, "Tear out", "2026-12-07 08:00", "2026-12-09 14:00", BATH, Take("toilet", until=UNTIL_DONE))
    (*_, last) = said("2026-12-07 18:55", out)
    assert last == "No other toilet works: plan the night elsewhere, or call us about a portable one."


def test_our_own_words_come_before_the_usual_ones_and_once() -> None:
    words = Take("water", instead="Wash at the neighbors’.")
    off = took(CREW, 4, "Hang the vanity", "2026-12-08 08:00", "2026-12-08 14:00", BATH, words)
    assert said("2026-12-07 18:55", off)[1:] == ["Wash at the neighbors’."]


def test_where_our_own_words_name_what_to_do_no_other_of_the_kind_is_named() -> None:
    sink = Take("sink", until=UNTIL_DONE, instead="Wash dishes at the tub sink.")
    out = took(CREW, 1, "Tear out", "2026-12-01 08:00", "2026-12-20 14:00", KITCHEN, sink)
    assert "Use the" not in " ".join(said("2026-12-07 18:55", out, OFF))
    assert "Wash dishes at the tub sink." in said("2026-12-07 18:55", out, OFF)


def test_one_sink_that_is_out_is_no_reason_to_fill_jugs_and_no_water_anywhere_is() -> None:
    kitchen = took(CREW, 1, "Plumb", "2026-12-08 08:00", "2026-12-08 14:00", KITCHEN, Take("water"))
    main = took(CREW, 1, "Move the main", "2026-12-08 08:00", "2026-12-08 14:00", None, Take("water", house=True))
    jugs = "Fill jugs and a bucket before the work starts."
    assert jugs not in said("2026-12-07 18:55", kitchen)
    assert jugs in said("2026-12-07 18:55", main)


def test_nobody_is_told_to_fill_jugs_once_there_is_no_water() -> None:
    """Nor after the work, while something cures."""
    water = Take("water", house=True, until=UNTIL_DONE, wait=24 * 60)
    done = took(CREW, 1, "Move the main", "2026-12-07 08:00", "2026-12-07 14:00", None, water)
    assert "jugs" not in " ".join(said("2026-12-07 18:55", done))
    assert "Take water from a neighbor, or call us." in said("2026-12-07 18:55", done)


def test_a_closed_floor_names_its_room() -> None:
    wet = took(CREW, 1, "Grout", "2026-12-07 08:00", "2026-12-07 12:00", HALL,
               Take("floor", until=UNTIL_DONE, wait=24 * 60))
    assert "Stay off the Hall floor." in said("2026-12-07 18:00", wet)
