"""The house in section: states of things become marks that are seen, and sentences that are read."""

import pytest

from portal.pages.house.drawn_house import MOST_ROOMS, SPACE, DrawnRoom
from portal.planning.household.services import RoomServices
from tests.pages.house.drawing import MONDAY, SVG, by_day, drawn, out, seen
from tests.planning.homes import BATH, HALL, KITCHEN, UPSTAIRS, room

FRONT = {"service": "way_through", "name": "front door"}
HOUSE = (
    room(KITCHEN, "Kitchen", "water", "drain", "sink", "cooktop", "power", "way_through"),
    room(BATH, "Hall bath", "water", "drain", "power", "bath", "sink", "toilet"),
    room(HALL, "Hall", FRONT, "power", "sink", "toilet"),
)


def _bedrooms(count: int) -> tuple[RoomServices, ...]:
    return tuple(room(20 + at, f"Bedroom {at}", "power", "heat") for at in range(count))


def _labels(room: DrawnRoom) -> list[str]:
    return [thing.said.label for thing in room.things]


def test_what_works_is_solid_and_what_does_not_is_dashed_with_the_day_on_its_tag() -> None:
    [kitchen, bath, hall] = seen(drawn(HOUSE, out(1, KITCHEN, "sink"), by_day(2, BATH, "water"))).rooms
    assert kitchen.things == [
        ("sink", "out", "No sink until the evening of Tue Dec 15."), ("cooktop", "", "cooktop works."),
        ("door", "", "door works."),
    ]
    assert bath.things == [
        ("toilet", "", "No toilet Tue Dec 8, 8 to 3."), ("sink", "", "No sink Tue Dec 8, 8 to 3."),
        ("bath", "", "No bath Tue Dec 8, 8 to 3."),
    ]
    assert [words for *_, words in hall.things] == ["toilet works.", "sink works.", "front door works."]


def test_out_comes_first_then_what_stands_in_then_what_works_by_need() -> None:
    """The sink in the hall takes the place of the one in the kitchen."""
    house = drawn(HOUSE, out(1, KITCHEN, "cooktop", "sink"), out(2, BATH, "sink"))
    assert [_labels(one) for one in house.rooms] == [
        ["sink", "cooktop", "door"], ["sink", "toilet", "bath"], ["sink", "toilet", "front door"],
    ]


def test_a_room_in_which_nothing_can_be_used_is_washed_and_one_whose_power_is_off_is_not() -> None:
    house = seen(drawn(HOUSE, out(1, BATH, "bath", "sink", "toilet"), out(2, HALL, "power")))
    assert [one.classes for one in house.rooms] == ["room", "room off", "room"]


def test_a_room_that_is_out_by_day_only_is_not_washed() -> None:
    assert [one.classes for one in seen(drawn(HOUSE, by_day(1, BATH, "water"))).rooms] == ["room"] * 3


def test_a_closed_floor_has_barrier_tape_that_says_until_when() -> None:
    house = seen(drawn(HOUSE, out(1, BATH, "floor", until=f"{MONDAY} 15:00"), out(2, HALL, "floor")))
    [tape] = [one for one in house.root.iter("div") if one.get("class") == "wet"]
    assert "".join(tape.itertext()) == "Keep off this floor until the evening of Tue Dec 15."
    assert "Keep off" not in house.rooms[1].text and house.rooms[2].classes == "room off"


def test_a_floor_that_is_closed_by_day_is_said_in_words_and_has_no_tape() -> None:
    house = seen(drawn(HOUSE, by_day(1, BATH, "floor")))
    assert "Keep off this floor Tue Dec 8, 8 to 3." in house.rooms[1].text
    assert not [one for one in house.root.iter("div") if one.get("class") == "wet"]


def test_a_room_has_space_for_three_things_and_says_the_others() -> None:
    """What is out is seen in any case; what works is read, or printed."""
    many = room(UPSTAIRS, "Studio", "toilet", "sink", "bath", "cooktop", FRONT, "power", "water")
    [some] = drawn([many], out(1, UPSTAIRS, "toilet", "sink", "bath", "cooktop")).rooms
    assert _labels(some) == ["toilet", "sink", "bath"]
    assert some.also == ["No cooktop until the evening of Tue Dec 15."]
    assert some.rest == ["Front door, water and power work."]


def test_what_is_out_because_of_what_a_thing_needs_is_said_with_it() -> None:
    """No water: no sink, no bath, no toilet. The water stands with what is only read."""
    [bath] = drawn(HOUSE[1:2], out(1, BATH, "water")).rooms
    assert _labels(bath) == ["toilet", "sink", "bath"] and bath.also == []
    assert bath.rest == ["Water is out, too.", "Power and drain work."]


def test_what_is_out_longer_than_what_needs_it_is_drawn() -> None:
    small = room(UPSTAIRS, "Washroom", "water", "sink")
    house = drawn([small], out(1, UPSTAIRS, "water", until="2026-12-20 10:00"), by_day(2, UPSTAIRS, "sink"))
    assert _labels(house.rooms[0]) == ["sink"]
    [alone] = drawn([room(UPSTAIRS, "Cellar", "water", "power")], out(1, UPSTAIRS, "water")).rooms
    assert [(one.symbol, one.said.out) for one in alone.things] == [("tap", True), ("socket", False)]


def test_a_room_without_anything_listed_shows_its_floor() -> None:
    [attic] = seen(drawn([*HOUSE, room(UPSTAIRS, "Attic")], out(1, UPSTAIRS, "floor"))).rooms[3:]
    assert attic.things == [("floor", "out", "No floor until the evening of Tue Dec 15.")]
    assert attic.classes == "room off" and attic.text.count("until") == 1


def test_questions_about_a_room_lead_to_the_answers() -> None:
    house = seen(drawn(HOUSE, asked={KITCHEN: 3, HALL: 1}))
    assert [one.name for one in house.rooms] == [
        "Kitchen 3 questions about the Kitchen", "Hall bath", "Hall 1 question about the Hall",
    ]
    assert [a.get("href") for a in house.root.iter("a")] == ["#ask", "#ask"]


@pytest.mark.parametrize("count", range(2, 10))
def test_two_to_nine_rooms_are_all_there_in_their_order(count: int) -> None:
    """With more than four, those in which all works and nothing is asked are one line."""
    rooms = (*HOUSE, *_bedrooms(6))[:count]
    house = seen(drawn(rooms, out(1, KITCHEN, "sink"), asked={HALL: 1}))
    told = [one.name.partition(" 1 question")[0] for one in house.rooms]
    if count > MOST_ROOMS:
        assert told == ["Kitchen", "Hall"]
        fine = ["Hall bath", *(f"Bedroom {at}" for at in range(count - 3))]
        assert f"All works: {', '.join(fine[:-1])} and {fine[-1]}" in house.text
    else:
        assert told == [one.name for one in rooms] and "All works" not in house.text


def test_a_room_with_a_question_or_something_out_by_day_is_no_line() -> None:
    house = drawn((*HOUSE, *_bedrooms(3)), by_day(1, 20, "power"), asked={21: 2})
    assert [one.name for one in house.rooms] == ["Bedroom 0", "Bedroom 1"]
    assert house.fine == "Kitchen, Hall bath, Hall and Bedroom 2"


@pytest.mark.parametrize("rooms", [(), (room(KITCHEN, "Kitchen"), room(BATH, "Bath"))])
def test_a_house_of_which_nothing_is_listed_falls_back_to_words(rooms: tuple[RoomServices, ...]) -> None:
    house = seen(drawn(rooms))
    assert house.rooms == [] and not list(house.root.iter(f"{SVG}svg"))
    assert "Tonight and Tuesday" in house.text and "not listed yet: call us" in house.text


def test_it_says_that_it_is_not_to_scale_to_those_who_cannot_see_it() -> None:
    house = seen(drawn(HOUSE))
    assert "Drawn from the list of rooms, not to scale." in house.text
    assert all(svg.get("aria-hidden") == "true" for svg in house.root.iter(f"{SVG}svg"))


def test_it_is_read_in_order_as_sentences() -> None:
    text = seen(drawn(HOUSE[:2], out(1, BATH, "toilet"), asked={KITCHEN: 1})).text
    assert text == (
        ". Tonight and Tuesday Drawn from the list of rooms, not to scale. Kitchen 1 question about the Kitchen "
        "sink works. cooktop works. door works. Water, power and drain work. Hall bath No toilet until the evening of "
        "Tue Dec 15. sink works. bath works. Water, power and drain work. Call us."
    ).removeprefix(". ")


def test_words_of_people_are_escaped_and_never_lost() -> None:
    name = "<b>Bath & “toilet” with the very long name that somebody gave it</b>"
    house = seen(drawn([room(KITCHEN, name, {"service": "sink", "name": name})]))
    assert house.rooms[0].name == name and f"{name} works." in house.rooms[0].things[0][2]


def test_there_is_space_for_three() -> None:
    assert SPACE == 3
