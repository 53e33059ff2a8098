"""Section 4: what works tonight, in sentences."""

import pytest

from portal.store import tables
from tests.house import House, at
from tests.pages.reading import page_of


def _tonight(house: House, when: str = "2026-12-02T07:30") -> str:
    return page_of(house, at(when)).section("Tonight")


def test_it_says_from_when_to_when_it_speaks(house: House) -> None:
    assert "From 4:30 pm to Thu Dec 3, 8:00 am:" in _tonight(house)


def test_what_is_out_together_is_said_together_with_end_reason_and_advice(house: House) -> None:
    """The bath floor was laid by Tue Dec 1, 3:30 pm, and is taken for 40 hours by the clock after that."""
    text = _tonight(house)
    assert "Sink, bath or shower, toilet and floor: not to be used until Thu Dec 3, 7:30 am, because" in text
    assert "because of “Lay the floor tile”. " in text
    assert "Stay off this floor, pets too." in _tonight(house)


def test_an_end_on_a_later_day_is_told_by_its_part_of_the_day_and_by_the_work_that_gives_it_back(house: House) -> None:
    """The plumber is there on Mon Dec 7 from 8 am on, for about four hours."""
    text = _tonight(house)
    back = "back after “Connect the sink and faucet”."
    assert f"Sink and cooktop: not to be used until the evening of Mon Dec 7, {back}" in text
    assert "Use the camp stove outside." in text and "Take out the old kitchen" not in text


def test_a_floor_that_waits_for_its_grout_names_the_grout(house: House) -> None:
    """Grouted on Thu Dec 3 from 8:30 am on, for three hours; then 24 hours by the clock, on a Friday."""
    takes = [{"service": "floor", "until": "done", "back_with": house.phases["floor_grout"], "wait_hours": 24}]
    tables.Phase.update(takes=takes).where(tables.Phase.id == house.phases["floor"]).execute()
    assert "floor: not to be used until noon on Fri Dec 4, back after “Grout and seal the floor”." in _tonight(house)


@pytest.mark.parametrize(
    ("hours", "said"),
    [(16, "until Thu Dec 3, 7:30 am"), (40.5, "until the morning of Fri Dec 4"), (44, "until noon on Fri Dec 4"),
     (45, "until the evening of Fri Dec 4"), (51, "until the morning of Sat Dec 5")],
)  # fmt: skip
def test_the_part_of_the_day_is_never_before_the_end(house: House, hours: float, said: str) -> None:
    """After work that ended on Wed Dec 2, 3:30 pm."""
    takes = [{"service": "power", "until": "done", "wait_hours": hours}]
    values = {"takes": takes, "started_at": at("2026-12-01T08:00"), "finished_at": at("2026-12-02T15:30")}
    tables.Phase.update(takes=[]).execute()
    tables.Phase.update(values, state="done").where(tables.Phase.id == house.phases["out"]).execute()
    assert said in _tonight(house, "2026-12-02T15:45")


def test_the_wait_stands_outside_the_marks_of_the_name(house: House) -> None:
    takes = [{"service": "power", "until": "done", "gate": "silicone"}]
    values = {"takes": takes, "started_at": at("2026-12-01T08:00"), "finished_at": at("2026-12-02T15:30")}
    tables.Phase.update(takes=[]).execute()
    tables.Phase.update(values, state="done").where(tables.Phase.id == house.phases["out"]).execute()
    assert "because of “Take out the old kitchen” (sealant must cure)." in _tonight(house, "2026-12-02T15:45")


def test_a_rest_without_an_end_says_that_nobody_knows(house: House) -> None:
    takes = [{"service": "power", "until": "done"}]
    values = {"state": "stopped", "stopped_at": at("2026-12-02T07:00"), "resumes_at": None, "takes": takes}
    tables.Phase.update(values).where(tables.Phase.id == house.phases["cabinets"]).execute()
    assert "until further notice, because of “Set the base cabinets”" in _tonight(house)


def test_rooms_in_which_everything_works_are_named(house: House) -> None:
    assert "Elsewhere everything works: Laundry room." in _tonight(house)


def test_a_house_in_which_everything_works_says_so(house: House) -> None:
    tables.Phase.update(takes=[]).execute()
    assert "everything in the house works as usual." in _tonight(house)


def test_nights_that_need_a_plan_are_told_ahead(house: House) -> None:
    text = _tonight(house)
    assert "In the night of Wed Dec 2 no toilet can be used" in text
    assert "From the night of Wed Dec 2 to the night of Sun Dec 6 there is no way to cook" in text


def test_work_that_is_booked_takes_from_its_booked_day_on(house: House) -> None:
    """The plan would let the floor be grouted on Wed Dec 2; the tile setter is booked for Thu Dec 3."""
    takes = [{"service": "way_through", "until": "done"}]
    tables.Phase.update(takes=[]).execute()
    tables.Phase.update(takes=takes).where(tables.Phase.id == house.phases["floor_grout"]).execute()
    tables.Room.update(services=["way_through"]).where(tables.Room.id == house.rooms["bath"]).execute()
    tables.Phase.update(work_low=1200, work_likely=1200, work_high=1200).where(
        tables.Phase.id == house.phases["floor_grout"]
    ).execute()
    assert "works as usual" in _tonight(house)
    assert "Way through: not to be used" in _tonight(house, "2026-12-03T07:30")


def test_what_was_stored_before_it_was_checked_does_not_cost_the_page(house: House) -> None:
    tables.Phase.update(takes=[{"service": "moat"}]).execute()
    tables.Room.update(services=["drawbridge"]).execute()
    assert "works as usual" in _tonight(house)
