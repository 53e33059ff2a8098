"""What rooms give and phases take, read strictly."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.content import cures
from portal.planning.household.services import (
    BURDENS,
    LONGEST_WAIT,
    NEEDS,
    SERVICES,
    UNTIL_DONE,
    UNTIL_WORK_ENDS,
    HouseholdError,
    Take,
    check_takes,
    read_services,
    service_json,
    take_json,
)
from portal.planning.household.services import read_takes as read_takes_with
from tests.planning.homes import BATH, HALL, KITCHEN, rooms

BY_ID = {room.room: room for room in rooms()}


def read_takes(given: object) -> tuple[Take, ...]:
    return read_takes_with(given, cures())


@pytest.mark.parametrize(
    ("entry", "field"),
    [
        ("sink", "takes[0]"),
        ({}, "takes[0].service"),
        ({"service": "kettle"}, "takes[0].service"),
        ({"service": "sink", "until": "tomorrow"}, "takes[0].until"),
        ({"service": "sink", "untill": "done"}, "takes[0].untill"),
        ({"service": "sink", "room": "kitchen"}, "takes[0].room"),
        ({"service": "sink", "room": True}, "takes[0].room"),
        ({"service": "sink", "room": 0}, "takes[0].room"),
        ({"service": "sink", "room": 1.0}, "takes[0].room"),
        ({"service": "sink", "name": 5}, "takes[0].name"),
        ({"service": "sink", "name": "x" * 81}, "takes[0].name"),
        ({"service": "sink", "until": "done", "back_with": 0}, "takes[0].back_with"),
        ({"service": "sink", "until": "done", "wait_hours": True}, "takes[0].wait_hours"),
        ({"service": "sink", "until": "done", "wait_hours": "24"}, "takes[0].wait_hours"),
        ({"service": "sink", "gate": "silicone"}, "takes[0].gate"),
        ({"service": 5}, "takes[0].service"),
        ({"service": "clear"}, "takes[0].words"),
        ({"service": "clear", "words": " "}, "takes[0].words"),
        ({"service": "clear", "words": "x" * 201}, "takes[0].words"),
        ({"service": "clear", "words": "Empty it.", "until": "done"}, "takes[0].until"),
        ({"service": "clear", "words": "Empty it.", "room": "kitchen"}, "takes[0].room"),
        ({"service": "at_home", "room": 1}, "takes[0].room"),
        ({"service": "at_home", "words": 5}, "takes[0].words"),
        ({"service": "sink", "words": "Empty it."}, "takes[0].words"),
        ({"service": "sink", "until": "done", "wait_hours": -1}, "takes[0].wait_hours"),
        ({"service": "sink", "until": "done", "wait_hours": LONGEST_WAIT + 1}, "takes[0].wait_hours"),
        ({"service": "sink", "until": "done", "wait_hours": float("nan")}, "takes[0].wait_hours"),
        ({"service": "sink", "until": "done", "gate": "glue"}, "takes[0].gate"),
        ({"service": "sink", "wait_hours": 24}, "takes[0].wait_hours"),
        ({"service": "sink", "back_with": 4}, "takes[0].back_with"),
        ({"service": "sink", "instead": "x" * 201}, "takes[0].instead"),
    ],
)
def test_a_wrong_take_is_refused_by_its_field(entry: object, field: str) -> None:
    with pytest.raises(HouseholdError) as refused:
        read_takes([entry])
    assert refused.value.field == field
    assert refused.value.message


@pytest.mark.parametrize(
    ("services", "field"),
    [
        ("sink", "services"),
        (["noise"], "services[0].service"),
        ({"sink": True}, "services"),
        (5, "services"),
        (["water", 5], "services[1]"),
        ([{"service": "cooktop", "needs": "floor"}], "services[0].needs"),
        ([{"service": "cooktop", "name": "x" * 81}], "services[0].name"),
        ([{"service": "sink", "colour": "white"}], "services[0].colour"),
        ([{"service": "cooktop", "needs": ["gas"]}], "services[0].needs"),
        (["sink", "sink"], "services[1]"),
    ],
)
def test_wrong_services_are_refused_by_their_field(services: object, field: str) -> None:
    with pytest.raises(HouseholdError) as refused:
        read_services(services)
    assert refused.value.field == field


def test_a_take_says_where() -> None:
    own, whole, other = read_takes(
        [{"service": "noise"}, {"service": "water", "room": None}, {"service": "toilet", "room": BATH}]
    )
    assert (own.place(KITCHEN), whole.place(KITCHEN), other.place(KITCHEN)) == (KITCHEN, None, BATH)
    assert own.place(None) is None, "a phase of the whole house takes from the whole house"


def test_a_gate_gives_the_wait_and_the_label_governs() -> None:
    gated, labelled = read_takes(
        [
            {"service": "sink", "until": "done", "gate": "silicone"},
            {"service": "sink", "until": "done", "gate": "silicone", "wait_hours": 0.5},
        ]
    )
    assert gated.wait == cures()["silicone"].hours * 60
    assert labelled.wait == 30


def test_a_wait_that_only_a_label_knows_is_none_until_it_is_entered() -> None:
    entry = {"service": "floor", "until": "done", "gate": "floor_finish_oil"}
    missing, entered = read_takes([entry, entry | {"wait_hours": 30}])
    assert (missing.wait, entered.wait) == (0, 30 * 60)
    assert missing.unknown and not entered.unknown
    assert not read_takes([entry | {"gate": "silicone", "wait_hours": 0}])[0].unknown
    assert "wait_hours" not in take_json(missing) and take_json(entered)["wait_hours"] == 30


def test_usual_needs_can_be_replaced() -> None:
    usual, gas = read_services(["cooktop", {"service": "cooktop", "name": "gas cooktop", "needs": ["floor"]}])
    assert usual.relies_on == NEEDS["cooktop"]
    assert gas.relies_on == {"floor"}


@pytest.mark.parametrize(
    ("take", "own_room", "field"),
    [
        (Take("toilet"), KITCHEN, "takes[0].service"),
        (Take("way_through", name="side door"), HALL, "takes[0].service"),
        (Take("sink", room=9), KITCHEN, "takes[0].room"),
        (Take("sink", until=UNTIL_DONE, back_with=9), KITCHEN, "takes[0].back_with"),
    ],
)
def test_what_is_not_there_can_not_be_taken(take: Take, own_room: int, field: str) -> None:
    with pytest.raises(HouseholdError) as refused:
        check_takes([take], own_room, BY_ID, {1, 2})
    assert refused.value.field == field


def test_what_is_there_can_be_taken() -> None:
    takes = [Take("toilet", house=True), Take("way_through", room=HALL, name="back door"), Take("noise"), Take("floor")]
    check_takes(takes, KITCHEN, BY_ID, {1})


def _entries() -> st.SearchStrategy[dict[str, Any]]:
    common = {"service": st.sampled_from((*SERVICES, *BURDENS))}
    where = {"room": st.none() | st.integers(1, 99), "name": st.sampled_from(["", "front door"])}
    lasting = {
        "back_with": st.none() | st.integers(1, 99),
        "gate": st.sampled_from(tuple(cures())), "wait_hours": st.sampled_from([0, 0.25, 24, 25 / 60]),
    }
    return st.one_of(
        st.fixed_dictionaries(common, optional=where),
        st.fixed_dictionaries({**common, "until": st.just(UNTIL_WORK_ENDS)}, optional=where),
        st.fixed_dictionaries(common | {"until": st.just(UNTIL_DONE)}, optional=where | lasting),
    )


@settings(max_examples=50)
@given(st.lists(_entries(), max_size=4))
def test_what_is_written_reads_back_the_same(entries: list[dict[str, Any]]) -> None:
    takes = read_takes(entries)
    assert read_takes([take_json(take) for take in takes]) == takes


def test_services_written_read_back_the_same() -> None:
    for room in rooms():
        assert read_services([service_json(service) for service in room.services]) == room.services
    odd = read_services([{"service": "cooktop", "name": "gas cooktop", "needs": []}, "floor"])
    assert read_services([service_json(service) for service in odd]) == odd


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ("sink", "give an object with service, room, name, until, back_with, gate, wait_hours, instead"),
        ({"service": "sink", "floor": 2},
         "is not known here; use service, room, name, until, back_with, gate, wait_hours, instead"),
        ({"service": "sink", "until": "soon"}, "'soon' is not known here; use one of work, done"),
        ({"service": "sink", "room": "kitchen"}, "give its id, a whole number"),
        ({"service": "sink", "instead": 5}, "give text of at most 200 characters"),
        ({"service": "sink", "wait_hours": 2}, 'only goes with "until": "done"'),
        ({"service": "sink", "until": "done", "wait_hours": -1}, "give clock hours from 0 to 2160"),
    ],
)
def test_a_refusal_says_what_to_give_instead(entry: object, words: str) -> None:
    with pytest.raises(HouseholdError) as refused:
        read_takes([entry])
    assert refused.value.message == words
    assert str(refused.value) == f"{refused.value.field}: {words}"


def test_takes_are_a_list() -> None:
    for wrong in ("sink", {"service": "sink"}, None):
        with pytest.raises(HouseholdError, match="takes: give a list"):
            read_takes(wrong)


def test_limits_are_taken_to_the_last() -> None:
    (take,) = read_takes([
        {"service": "sink", "room": 1, "name": "n" * 80, "until": "done", "wait_hours": LONGEST_WAIT,
         "instead": "i" * 200},
    ])
    assert (take.room, take.wait, len(take.name), len(take.instead)) == (1, 90 * 24 * 60, 80, 200)


def test_words_are_taken_without_the_space_around_them() -> None:
    (take,) = read_takes([{"service": "sink", "name": " bar sink ", "instead": " Use the other. "}])
    assert (take.name, take.instead) == ("bar sink", "Use the other.")


@pytest.mark.parametrize(
    ("take", "own_room", "words"),
    [
        (Take("toilet"), KITCHEN, "Kitchen does not list a toilet; add it to the room's services"),
        (Take("way_through", name="side door"), HALL,
         "Hall does not list a way_through named side door; add it to the room's services"),
        (Take("sink", house=True, name="bar sink"), None,
         "no room lists a sink named bar sink; add it to the room's services"),
        (Take("sink", room=9), KITCHEN, "room 9 is not in this project"),
        (Take("sink", until=UNTIL_DONE, back_with=9), KITCHEN, "phase 9 is not in this plan"),
    ],
)
def test_what_can_not_be_taken_is_said_in_words(take: Take, own_room: int | None, words: str) -> None:
    with pytest.raises(HouseholdError) as refused:
        check_takes([Take("noise"), take], own_room, BY_ID, {1, 2})
    assert refused.value.message == words
    assert refused.value.field.startswith("takes[1].")


@pytest.mark.parametrize(
    ("take", "entry"),
    [
        (Take("noise"), {"service": "noise", "until": "work"}),
        (Take("water", house=True), {"service": "water", "until": "work", "room": None}),
        (Take("sink", room=3, name="bar sink"), {"service": "sink", "until": "work", "room": 3, "name": "bar sink"}),
        (Take("sink", until=UNTIL_DONE, wait=90, back_with=4, gate="silicone", instead="Wash upstairs."),
         {"service": "sink", "until": "done", "wait_hours": 1.5, "back_with": 4, "gate": "silicone",
          "instead": "Wash upstairs."}),
        (Take("sink", until=UNTIL_DONE, wait=120), {"service": "sink", "until": "done", "wait_hours": 2}),
    ],
)
def test_a_take_is_written_with_what_differs_from_the_usual(take: Take, entry: dict[str, Any]) -> None:
    assert take_json(take) == entry


def test_a_service_is_written_by_its_name_alone_where_that_says_it_all() -> None:
    plain, named, gas = read_services(
        ["sink", {"service": "sink", "name": "bar sink"}, {"service": "cooktop", "needs": ["power", "floor"]}]
    )
    assert service_json(plain) == "sink"
    assert service_json(named) == {"service": "sink", "name": "bar sink"}
    assert service_json(gas) == {"service": "cooktop", "needs": ["floor", "power"]}


@pytest.mark.parametrize(
    "entry",
    [{"service": "clear", "words": "Empty the vanity."}, {"service": "clear", "words": "x" * 200, "room": 3},
     {"service": "clear", "words": "Clear the hall.", "room": None}, {"service": "at_home"},
     {"service": "at_home", "words": "We ask where the hooks go."}],
)  # fmt: skip
def test_what_the_household_is_asked_to_do_reads_back_as_it_was_written(entry: dict[str, Any]) -> None:
    (take,) = read_takes([entry])
    assert take_json(take) == entry and take.words == entry.get("words", "")
    assert take.house == ("room" in entry and entry["room"] is None) and take.room == entry.get("room")


def test_a_room_that_is_not_there_can_not_be_cleared() -> None:
    with pytest.raises(HouseholdError, match="room 99"):
        check_takes([Take("clear", room=99, words="Empty it.")], KITCHEN, BY_ID, ())
