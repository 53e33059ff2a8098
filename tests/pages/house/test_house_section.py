"""The drawn house of a project: as its plan and its questions are."""

from portal.pages.house.drawn_house import DrawnHouse
from portal.pages.house.house_section import ahead_of, house_section, out_now
from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.reading.project_plan import household_of, minutes, schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import House, at
from tests.pages.house.drawing import seen
from tests.pages.reading import page_of

EVENING = at("2026-12-02T18:00")


def _drawn(house: House, now: int = EVENING) -> DrawnHouse:
    snapshot = read_snapshot(house.project)
    services = household_of(snapshot, outlook_of(snapshot, schedule_of(snapshot, now)).booked)
    return house_section(snapshot, services, ahead_of(snapshot, services, minutes(now)))


def test_each_room_shows_what_is_out_and_until_when(house: House) -> None:
    """Cooking is out until the plumber has come on Dec 7; the bath floor is closed until the next morning."""
    kitchen, bath, laundry = seen(_drawn(house)).rooms
    assert kitchen.things[:2] == [
        ("sink", "out", "No sink until the evening of Mon Dec 7."),
        ("cooktop", "out", "No cooktop until the evening of Mon Dec 7."),
    ]
    assert [words for *_, words in bath.things] == [
        "No toilet until Thu Dec 3, 7:30 am.", "No sink until Thu Dec 3, 7:30 am.", "No bath until Thu Dec 3, 7:30 am.",
    ]
    assert bath.classes == "room off" and laundry.classes == "room"


def test_it_counts_the_questions_that_wait_for_the_household(house: House) -> None:
    """Not the one that was asked back: there they wait for us. One without a room counts where it holds work."""
    names = [one.name for one in seen(_drawn(house)).rooms]
    kitchen = "Kitchen 2 questions about the Kitchen"
    assert names == [kitchen, "Hall bath", "Laundry room 1 question about the Laundry room"]
    tables.Decision.update(room=None).execute()
    assert [one.name for one in seen(_drawn(house)).rooms] == [kitchen, "Hall bath", "Laundry room"]


def test_a_closed_job_takes_nothing_and_its_house_has_no_tags(house: House) -> None:
    tables.Phase.update(started_at=EVENING - 3600, finished_at=EVENING - 60).execute()
    tables.Project.update(closed_at=EVENING).execute()
    drawn = _drawn(house)
    assert drawn.title == "All done" and drawn.instead == []
    assert not any(thing.said.tag for room in drawn.rooms for thing in room.things)
    assert "All done" in page_of(house, EVENING).section("All done")


def test_what_was_out_when_a_job_ended_early_stays_so_and_nothing_later_is_foreseen(house: House) -> None:
    before = {(room.name, thing.said.label) for room in _drawn(house).rooms for thing in room.things if thing.said.tag}
    tables.Project.update(closed_at=EVENING).execute()
    drawn = _drawn(house)
    tagged = {(room.name, thing.said.label) for room in drawn.rooms for thing in room.things if thing.said.tag}
    assert drawn.title == "As we left it" and drawn.instead == []
    assert tagged and tagged <= before


def test_what_is_out_now_is_given_by_room_service_and_name(house: House) -> None:
    snapshot = read_snapshot(house.project)
    services = household_of(snapshot, outlook_of(snapshot, schedule_of(snapshot, EVENING)).booked)
    out = out_now(ahead_of(snapshot, services, minutes(EVENING)))
    assert (house.rooms["kitchen"], "sink", "") in out and (house.rooms["bath"], "toilet", "") in out
    assert (house.rooms["kitchen"], "water", "") not in out


def test_what_was_stored_before_it_was_checked_does_not_cost_the_page(house: House) -> None:
    tables.Phase.update(takes=[{"service": "moat"}]).execute()
    tables.Room.update(services=["drawbridge"]).execute()
    assert "not listed yet" in page_of(house, EVENING).section("Tonight")


def test_nights_that_need_a_plan_are_told_ahead(house: House) -> None:
    text = page_of(house, EVENING).section("Tonight")
    assert "Plan ahead." in text and "In the night of Wed Dec 2 no toilet can be used" in text.replace("\u00a0", " ")
