"""What is said at a thing: its tag of at most seven characters, within a sentence that is read whole."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portal.pages.house.thing_words import TAG_LONGEST, Said, said_of, short_hours
from portal.planning.household.house_ahead import house_ahead
from portal.planning.household.house_services import PhaseTimes
from portal.planning.household.services import UNTIL_DONE, Take
from tests.planning.homes import BATH, CREW, HALL, house, room, took
from tests.planning.houses import at

MONDAY, TUESDAY, WEDNESDAY = "2026-12-07", "2026-12-08", "2026-12-09"
NIGHT_BEFORE, AT_SEVEN = f"{MONDAY} 18:55", f"{TUESDAY} 07:00"


def _said(when: str, *phases: PhaseTimes, service: str = "toilet") -> Said:
    ahead = house_ahead(house(CREW, *phases), at(CREW, when))
    [bath] = [room for room in ahead.rooms if room.room == BATH]
    [thing] = [one for one in bath.things if one.service == service]
    return said_of(thing, ahead, CREW)


def _until(finish: str | None, wait: int = 0, start: str = f"{MONDAY} 08:00") -> PhaseTimes:
    return took(CREW, 1, "Set the toilet", start, finish, BATH, Take("toilet", until=UNTIL_DONE, wait=wait))


def _hours(first: str, last: str, day: str = TUESDAY) -> PhaseTimes:
    visit = (f"{day} {first}", f"{day} {last}")
    return took(CREW, 2, "Hang the vanity", *visit, BATH, Take("toilet"), visits=[visit])


@pytest.mark.parametrize(
    ("when", "phase", "out", "tag", "sentence"),
    [
        (NIGHT_BEFORE, _until(f"{MONDAY} 15:00"), False, "", "toilet works."),
        (NIGHT_BEFORE, _until("2026-12-15 16:00"), True, "Dec 15", "No toilet until the evening of Tue Dec 15."),
        (NIGHT_BEFORE, _until("2026-12-15 11:00"), True, "Dec 15", "No toilet until noon on Tue Dec 15."),
        (NIGHT_BEFORE, _until("2026-12-14 16:30", 60 * 4), True, "Dec 15",
         "No toilet until the morning of Tue Dec 15."),
        (NIGHT_BEFORE, _until(f"{MONDAY} 16:00", 60 * 14), True, "Dec 8", "No toilet until Tue Dec 8, 6:00 am."),
        (NIGHT_BEFORE, _until("2027-07-01 16:00"), True, "Jul 1", "No toilet until the evening of Thu Jul 1, 2027."),
        (NIGHT_BEFORE, _until(None), True, "no date", "No toilet, no date yet."),
        (NIGHT_BEFORE, _hours("08:00", "15:00"), False, "8 to 3", "No toilet Tue Dec 8, 8 to 3."),
        (NIGHT_BEFORE, _hours("08:00", "16:30"), False, "8–4:30", "No toilet Tue Dec 8, 8–4:30."),
        (NIGHT_BEFORE, _hours("08:30", "12:00"), False, "8:30–12", "No toilet Tue Dec 8, 8:30–12."),
        (NIGHT_BEFORE, _until("2026-12-10 16:00", start=AT_SEVEN.replace("07", "08")), False, "off Tue",
         "toilet off Tue Dec 8 from 8:00 am until the evening of Thu Dec 10."),
        (NIGHT_BEFORE, _until(None, start=f"{TUESDAY} 08:00"), False, "off Tue",
         "toilet off Tue Dec 8 from 8:00 am, no date yet."),
        (AT_SEVEN, _hours("08:00", "15:00"), False, "8 to 3", "No toilet Tue Dec 8, 8 to 3."),
        (AT_SEVEN, _hours("08:00", "15:00", WEDNESDAY), False, "Wed 8–3", "No toilet Wed 8–3, Dec 9."),
        (AT_SEVEN, _hours("08:30", "15:00", WEDNESDAY), False, "Wed 8–3", "No toilet Wed 8–3, Dec 9."),
        (AT_SEVEN, _hours("08:30", "12:00", WEDNESDAY), False, "off Wed",
         "toilet off Wed Dec 9 from 8:30 am to 12:00 pm."),
    ],
)  # fmt: skip
def test_a_thing_says_how_it_stands(when: str, phase: PhaseTimes, out: bool, tag: str, sentence: str) -> None:
    said = _said(when, phase)
    assert (said.out, said.tag, said.sentence) == (out, tag, sentence)


def test_what_is_out_again_says_so() -> None:
    said = _said(NIGHT_BEFORE, _until(f"{MONDAY} 16:00", 60 * 4), _hours("10:00", "12:00"))
    assert said.tag == "Dec 7"
    assert said.sentence == "No toilet until Mon Dec 7, 8:00 pm, and again Tue Dec 8 from 10:00 am to 12:00 pm."


def test_what_is_back_for_half_an_hour_is_not_called_back() -> None:
    said = _said(NIGHT_BEFORE, _until(f"{MONDAY} 16:00", 60 * 15 + 30), _hours("08:00", "15:00"))
    assert (said.tag, said.sentence) == ("Dec 8", "No toilet until Tue Dec 8, 3:00 pm.")


def test_a_long_name_is_seen_in_part_and_read_whole() -> None:
    long = "The door behind the water heater in the old part of the house"
    attic = room(9, "Attic", {"service": "way_through", "name": long})
    ahead = house_ahead(house(CREW, also=(attic,)), at(CREW, NIGHT_BEFORE))
    said = said_of(ahead.rooms[-1].things[0], ahead, CREW)
    assert (said.label, said.sentence) == ("The door behind", f"{long} works.")


def test_a_thing_with_a_name_is_called_by_it_and_one_without_by_what_it_is() -> None:
    ahead = house_ahead(house(CREW), at(CREW, NIGHT_BEFORE))
    labels = {said_of(thing, ahead, CREW).label for one in ahead.rooms for thing in one.things if one.room == HALL}
    assert labels == {"front door", "back door"}
    assert _said(NIGHT_BEFORE, service="bath").label == "bath"


@given(st.integers(0, 24 * 60 - 1), st.integers(1, 24 * 60))
def test_hours_never_promise_more_than_there_is(since: int, length: int) -> None:
    """By the numbers in them: they begin at the hour or before, and end at the hour or after."""
    until = min(since + length, 24 * 60 - 1)
    first, last = (CREW.moment(at(CREW, f"{TUESDAY} 00:00") + one) for one in (since, until))
    words = short_hours(first, last)
    begins, ends = words.replace(" to ", "–").split("–")
    assert len(words) <= TAG_LONGEST
    assert _minutes(begins) in (since % 720, since // 60 * 60 % 720)
    assert _minutes(ends) in (until % 720, -(-until // 60) * 60 % 720)


def _minutes(clock: str) -> int:
    """Since noon or midnight."""
    hours, _, minutes = clock.partition(":")
    return int(hours) % 12 * 60 + int(minutes or 0)
