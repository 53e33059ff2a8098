"""What the office reads out to a caller: the sentences of the page, and no others."""

from datetime import date

from portal.pages.home.page import render_page
from portal.pages.home.phone import phone_answers
from portal.pages.home.today import today_section
from portal.pages.home.tonight import needs_sentence
from portal.pages.outlook import outlook_of
from portal.planning.household.services import UNTIL_DONE, RoomServices, Service, Take
from portal.planning.household.tonight import HouseServices as Home
from portal.store.reading.forecasts import foresee
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Visit
from tests.house import NOW, House, at
from tests.planning.homes import BATH, CREW, HALL, KITCHEN, took
from tests.planning.homes import house as home

TODAY = date(2026, 12, 2)


def answers(house: House) -> dict[str, str]:
    snapshot = read_snapshot(house.project)
    schedule = schedule_of(snapshot, NOW)
    there = household_of(snapshot, outlook_of(snapshot, schedule).booked)
    found = phone_answers(snapshot, there, foresee(snapshot, schedule).forecast, TODAY)
    return {one.asked: " ".join(one.sentences) for one in found}


def book(house: House, day: str) -> None:
    Visit.update(starts_at=at(f"{day}T09:00"), ends_at=at(f"{day}T11:00")).where(
        Visit.id == house.visits["top"]).execute()


def test_who_comes_is_said_for_today_and_tomorrow(house: House) -> None:
    Visit.delete().where(Visit.id != house.visits["top"]).execute()
    book(house, "2026-12-03")
    who = answers(house)["Today and tomorrow"]
    assert who.startswith("Today, Wed Dec 2: nobody is booked to come. Tomorrow, Thu Dec 3: 9:00 am to 11:00 am, ")


def test_the_finish_and_the_price_are_the_sentences_of_the_page(house: House) -> None:
    snapshot = read_snapshot(house.project)
    page = render_page(snapshot, schedule_of(snapshot, NOW), NOW).replace("\u00a0", " ")
    said = answers(house)
    for asked in ("When it is done", "The price so far"):
        assert said[asked].split(". ")[0] in page
    assert said["The price so far"].startswith("The contract as signed")


def test_the_page_says_when_nobody_comes_tomorrow(house: House) -> None:
    Visit.delete().where(Visit.id != house.visits["top"]).execute()
    book(house, "2026-12-02")
    section = today_section(read_snapshot(house.project), TODAY)
    assert section.sentences[-1] == "Tomorrow, Thu Dec 3: nobody is booked to come."
    book(house, "2026-12-03")
    assert "Tomorrow" not in " ".join(today_section(read_snapshot(house.project), TODAY).sentences[-1:])


def test_tonight_in_one_breath() -> None:
    there = home(CREW)
    assert needs_sentence(there, TODAY).endswith("as usual.")
    out = took(CREW, 1, "Tear out", "2026-12-01 08:00", "2026-12-09 16:30", KITCHEN, Take("cooktop", until=UNTIL_DONE))
    assert "cooking does not work anywhere" in needs_sentence(home(CREW, out), TODAY)
    taken = Take("toilet", until=UNTIL_DONE)
    toilet = took(CREW, 2, "Lay the floor", "2026-12-01 08:00", "2026-12-09 16:30", BATH, taken)
    rooms = (RoomServices(BATH, "Hall bath", (Service("toilet"),)), RoomServices(HALL, "Hall", (Service("toilet"),)))
    assert "the toilet works only in Hall." in needs_sentence(Home(rooms, (toilet,), CREW), TODAY)


def test_of_a_house_without_rooms_nothing_is_said_of_tonight() -> None:
    assert needs_sentence(Home((), (), CREW), TODAY) == ""
