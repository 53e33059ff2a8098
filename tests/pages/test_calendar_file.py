"""The visits as a calendar, read back by the rules of RFC 5545 (calendar_reader), not by the library that wrote it."""

import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from flask.testing import FlaskClient
from freezegun import freeze_time
from icalendar import Calendar

from portal import signing
from portal.acts.decisions.answers import approve
from portal.acts.firm.projects import change_project
from portal.acts.visiting.visits import book_visit, cancel_visit, change_visit
from portal.pages.calendar_file import calendar_file
from portal.pages.outlook import outlook_of
from portal.pages.publishing.publish import Publisher
from portal.store import tables
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.visit_rows import cancelled
from tests.house import NOW, SECRET, ZONE, House, at
from tests.pages.calendar_reader import Component, read_calendar
from tests.pages.reading import parsed
from tests.served import serve_house

HOSTILE = 'Top; "stone", 3 cm\\thick\r\nEND:VEVENT\nBEGIN:VEVENT\tx\x00\x07\u2028' + "Zoë’s 奥加福 " * 9


PAGE = "https://portal.example.com/p/link/"


def file(house: House, now: int = NOW, secret: bytes = SECRET, project: int = 7) -> bytes:
    snapshot = read_snapshot(project)
    outlook = outlook_of(snapshot, schedule_of(snapshot, now))
    return calendar_file(
        snapshot, outlook, cancelled(project), lambda event: signing.event_id_for(secret, event), PAGE
    )


@pytest.fixture
def client(house: House, tmp_path: Path) -> FlaskClient:
    return serve_house(tmp_path).test_client()


def events(data: bytes) -> list[Component]:
    """Each has all that an event must have (3.6.1)."""
    calendar = read_calendar(data)
    assert calendar["VERSION"] == "2.0" and calendar["PRODID"]
    assert all(event.name == "VEVENT" and {"UID", "DTSTAMP", "DTSTART"} <= set(event.raw) for event in calendar.inside)
    return calendar.inside


def visits(data: bytes) -> dict[str, Component]:
    return {event["SUMMARY"]: event for event in events(data) if isinstance(event["DTSTART"], datetime)}


def needed(data: bytes) -> dict[str, Component]:
    """Deliveries are whole days, too."""
    days = [event for event in events(data) if type(event["DTSTART"]) is date]
    return {event["SUMMARY"]: event for event in days if not event["SUMMARY"].startswith("Delivery")}


def about(number: int, data: bytes) -> Component:
    """The entry of a decision."""
    question = next(one.question for one in read_snapshot(7).decisions if one.number == number)
    (found,) = [event for name, event in needed(data).items() if name.endswith(question)]
    return found


def deliveries(data: bytes) -> dict[str, Component]:
    return {event["SUMMARY"]: event for event in events(data) if event["SUMMARY"].startswith("Delivery")}


def test_every_visit_is_in_it_at_its_time(house: House) -> None:
    found = visits(file(house))
    assert len(found) == tables.Visit.select().where(tables.Visit.project == house.project).count() == 6
    top = found["Stone crew: Set the stone top (Kitchen)"]
    assert (top["DTSTART"], top["DTEND"]) == (
        datetime(2026, 12, 3, 9, tzinfo=ZoneInfo(ZONE)), datetime(2026, 12, 3, 14, tzinfo=ZoneInfo(ZONE))
    )  # fmt: skip
    assert top["LOCATION"] == "14 Tamarack Lane, Pell Harbor, Minnesota"
    assert "218-555-0142" in top["DESCRIPTION"] and top["STATUS"] == "CONFIRMED"


def test_the_dates_that_answers_are_needed_by_are_whole_days(house: House) -> None:
    found = needed(file(house))
    starts = {number: about(number, file(house))["DTSTART"] for number in (1, 2, 4, 5)}
    assert len(found) == 4
    outlook = outlook_of(read_snapshot(house.project), schedule_of(read_snapshot(house.project), NOW))
    numbers = {one.id: one.number for one in read_snapshot(house.project).decisions}
    days = {numbers[decision]: max(day, date(2026, 12, 2)) for decision, day in outlook.needed_by.items()}
    assert starts == days
    assert starts[5] == date(2026, 12, 11)
    for event in found.values():
        assert event["DTEND"] - event["DTSTART"] == timedelta(days=1)
        assert event["TRANSP"] == "TRANSPARENT"


def test_an_answer_that_is_late_stands_at_today_not_in_the_past(house: House) -> None:
    late = about(2, file(house))
    assert late["DTSTART"] == date(2026, 12, 2)
    assert late["SUMMARY"] == "Late: your answer: Which grout color for the splash?"
    assert not late.inside, "what is over reminds of nothing"


def test_where_we_owe_an_answer_we_ask_for_none_before_it(house: House) -> None:
    """Decision 4 was asked back; its work is booked for Wed Dec 9."""
    ours = about(4, file(house))
    assert ours["SUMMARY"] == "Once you have our answer, we need yours: Which white for the laundry room?"
    assert not ours.inside
    tables.Visit.update(starts_at=at("2026-12-03T08:00"), ends_at=at("2026-12-03T16:30")).where(
        tables.Visit.id == house.visits["paint"]
    ).execute()
    tables.Phase.update(not_before=None).execute()
    assert not [name for name in needed(file(house)) if "Which white" in name], "then the delay is ours"


def test_the_visit_of_held_work_is_tentative_until_the_answer_is_there(house: House) -> None:
    """RFC 5545, 3.8.1.11: STATUS of an event."""
    drill = "Stone crew: Drill the holes in the stone top (Kitchen)"
    held = visits(file(house))[drill]
    assert held["STATUS"] == "TENTATIVE" and "Waits for your answer." in held["DESCRIPTION"]
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    free = visits(file(house))[drill]
    assert free["STATUS"] == "CONFIRMED" and "Waits" not in free["DESCRIPTION"]
    assert free["DTSTAMP"] == datetime.fromtimestamp(NOW, UTC) > held["DTSTAMP"]


def test_what_is_on_order_is_in_it_until_it_came(house: House) -> None:
    found = deliveries(file(house))
    assert {name: event["DTSTART"] for name, event in found.items()} == {
        "Delivery: Stone top": date(2026, 12, 2), "Delivery: Splash tile": date(2026, 12, 4),
    }  # fmt: skip
    tile = found["Delivery: Splash tile"]
    assert tile["STATUS"] == "TENTATIVE" and "It may come from Thu Dec 3 to Wed Dec 9." in tile["DESCRIPTION"]
    assert deliveries(file(house, at("2026-12-05T08:00")))["Delivery: Splash tile"]["DTSTART"] == date(2026, 12, 5)
    assert not deliveries(file(house, at("2026-12-10T08:00"))), "none stands in the past"


def test_an_answered_decision_asks_for_nothing_more(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[5], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert not [name for name in needed(file(house)) if "laundry door" in name]


@pytest.mark.parametrize(
    ("starts", "ends", "hours"),
    [("2026-10-31T22:00", "2026-11-01T04:00", 7), ("2027-03-13T22:00", "2027-03-14T04:00", 5),
     ("2026-11-01T08:00", "2026-11-01T16:30", 8.5), ("2027-03-14T08:00", "2027-03-14T16:30", 8.5)],
)  # fmt: skip
def test_times_are_right_over_a_change_of_the_clocks(house: House, starts: str, ends: str, hours: float) -> None:
    """The clocks of the United States change on Nov 1, 2026 and Mar 14, 2027 (15 U.S.C. 260a)."""
    tables.Visit.update(starts_at=at(starts), ends_at=at(ends)).where(tables.Visit.id == house.visits["top"]).execute()
    found = visits(file(house, at(starts) - 86_400))
    (top,) = [event for name, event in found.items() if name.endswith("Set the stone top (Kitchen)")]
    there = top["DTSTART"].astimezone(ZoneInfo(ZONE)), top["DTEND"].astimezone(ZoneInfo(ZONE))
    assert [f"{moment:%Y-%m-%dT%H:%M}" for moment in there] == [starts, ends]
    assert top["DTEND"].astimezone(UTC) - top["DTSTART"].astimezone(UTC) == timedelta(hours=hours)


def moved(house: House, hour: int, seen: int, now: int) -> None:
    times: dict[str, Any] = {"starts_at": datetime(2026, 12, 4, hour), "ends_at": datetime(2026, 12, 4, 16)}
    times["reason"] = "Rain"
    change_visit(house.office, house.project, house.visits["top"], seen, times, now)


def test_a_moved_visit_keeps_its_uid_and_counts_on(house: House) -> None:
    before = visits(file(house))["Stone crew: Set the stone top (Kitchen)"]
    moved(house, 9, 1, NOW + 60)
    moved(house, 10, 2, NOW + 120)
    after = visits(file(house))["Stone crew: Set the stone top (Kitchen)"]
    assert after["UID"] == before["UID"]
    assert (before["SEQUENCE"], after["SEQUENCE"]) == (0, 2)
    assert after["DTSTAMP"] == datetime.fromtimestamp(NOW + 120, UTC) > before["DTSTAMP"]


def test_a_cancelled_visit_is_told_as_cancelled(house: House) -> None:
    before = visits(file(house))["Painter: Paint the laundry room (Laundry room)"]
    cancel_visit(house.office, house.project, house.visits["paint"], 1, because="Ill", now=NOW)
    after = visits(file(house))["Painter: Paint the laundry room (Laundry room)"]
    assert (after["UID"], after["STATUS"], after["SEQUENCE"]) == (before["UID"], "CANCELLED", 1)


def test_a_needed_by_date_that_moves_keeps_its_uid_and_counts_on(house: House) -> None:
    before = about(1, file(house))
    moved(house, 9, 1, NOW)
    times = {"starts_at": datetime(2026, 12, 8, 9), "ends_at": datetime(2026, 12, 8, 12), "reason": "Rain"}
    change_visit(house.office, house.project, house.visits["drill"], 1, times, NOW)
    after = about(1, file(house))
    assert after["DTSTART"] > before["DTSTART"]
    assert after["UID"] == before["UID"] and after["SEQUENCE"] > before["SEQUENCE"]


def test_no_two_events_share_a_uid_and_another_portal_has_others(house: House) -> None:
    ids = [event["UID"] for event in events(file(house))]
    assert len(ids) == len(set(ids)) > 8
    assert not set(ids) & {event["UID"] for event in events(file(house, secret=bytes(32)))}


def test_the_calendar_says_whose_it_is_where_it_leads_and_when_to_look_again(house: House) -> None:
    """RFC 5545, 3.6 and 3.7; RFC 7986, 5.1, 5.5, 5.7."""
    name = "Löwe; “house”, No\\1\nBEGIN:VEVENT\x07" + "♥" * 40
    tables.Project.update(name=name).where(tables.Project.id == house.project).execute()
    calendar = read_calendar(file(house))
    assert calendar.raw["REFRESH-INTERVAL"] == ({"VALUE": "DURATION"}, "PT1H")
    assert calendar.raw["URL"] == ({"VALUE": "URI"}, PAGE)
    assert calendar["NAME"] == calendar["X-WR-CALNAME"] == name.replace("\x07", " ")
    assert (calendar["CALSCALE"], calendar["PRODID"]) == ("GREGORIAN", "-//portal//visits at the house//EN")
    assert "METHOD" not in calendar.raw, "DTSTAMP would then be when the file was made (RFC 5545, 3.8.7.2)"


def test_every_property_of_an_event_is_as_it_was_published(house: House) -> None:
    """Clients know an event by UID, SEQUENCE and DTSTAMP: were one to change, a visit would be there twice."""
    top = visits(file(house))["Stone crew: Set the stone top (Kitchen)"]
    assert signing.event_id_for(SECRET, "visit 2") == "d159ad16-072c-5ec1-8221-0a97dc3455db"
    assert top.raw == {
        "UID": ({}, signing.event_id_for(SECRET, f"visit {house.visits['top']}")), "DTSTAMP": ({}, "20261202T000000Z"),
        "SEQUENCE": ({}, "0"), "DTSTART": ({}, "20261203T150000Z"), "DTEND": ({}, "20261203T200000Z"),
        "SUMMARY": ({}, "Stone crew: Set the stone top (Kitchen)"), "STATUS": ({}, "CONFIRMED"),
        "LOCATION": ({}, "14 Tamarack Lane\\, Pell Harbor\\, Minnesota"),
        "DESCRIPTION": ({}, "Okafor house. Questions? Call Brackwater Remodeling\\, 218-555-0142."),
        "URL": ({"VALUE": "URI"}, PAGE), "CLASS": ({}, "PRIVATE"),
    }  # fmt: skip
    day = about(5, file(house))
    assert (day.raw["DTSTART"], day.raw["DTEND"]) == (({"VALUE": "DATE"}, "20261211"), ({"VALUE": "DATE"}, "20261212"))
    assert (day.raw["DTSTAMP"], day.raw["SEQUENCE"]) == (({}, "20261202T000000Z"), ({}, "0"))


def test_hostile_text_stays_text(house: House) -> None:
    count = len(events(file(house)))
    tables.Visit.update(purpose=HOSTILE).where(tables.Visit.id == house.visits["top"]).execute()
    found = events(file(house))
    assert len(found) == count
    (summary,) = [event["SUMMARY"] for event in found if "3 cm" in event["SUMMARY"]]
    assert summary.startswith('Stone crew: Top; "stone", 3 cm\\thick\nEND:VEVENT\nBEGIN:VEVENT x')
    assert "Zoë’s 奥加福 Zoë’s 奥加福" in summary


def test_the_link_opens_it_and_another_houses_does_not_show_it(house: House, client: FlaskClient) -> None:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        answer = client.get(f"/p/{house.links['homeowner']}/visits.ics")
        other = client.get(f"/p/{house.links['other_homeowner']}/visits.ics")
        wrong = client.get("/p/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA/visits.ics")
    assert answer.status_code == 200 and answer.content_type == "text/calendar; charset=utf-8"
    assert len(visits(answer.data)) == 6 and visits(other.data) == {}
    assert wrong.status_code == 404
    calendar, page = read_calendar(answer.data), f"http://localhost/p/{house.links['homeowner']}/"
    assert calendar["URL"] == page, "the calendar leads to the page (RFC 7986, 5.5)"
    assert {event["URL"] for event in calendar.inside} == {page, *(f"{page}decisions/{n}/" for n in (1, 2, 4, 5))}
    assert {event["CLASS"] for event in calendar.inside} == {"PRIVATE"}, "the link in it is a key (RFC 5545, 3.8.1.3)"


def test_it_is_published_beside_the_page_for_when_the_service_is_down(house: House, tmp_path: Path) -> None:
    cancel_visit(house.office, house.project, house.visits["top"], 1, because="Rain.", now=NOW)
    Publisher(tmp_path / "site", SECRET, background=False).publish(house.project, NOW)
    kept = (tmp_path / "site/pages/7/visits.kept.ics").read_bytes()
    answered = file(house)
    assert b"CANCELLED" in kept and b"URL" in answered
    less = re.sub(rb"(URL;VALUE=URI:.*?|CLASS:PRIVATE)\r\n(?! )", b"", answered, flags=re.DOTALL)
    assert kept == less, "the same, but nobody's link"


def test_it_stays_the_same_until_something_changes(house: House, client: FlaskClient) -> None:
    way = f"/p/{house.links['homeowner']}/visits.ics"
    with freeze_time(datetime.fromtimestamp(NOW, UTC)) as clock:
        tag = client.get(way).headers["ETag"]
        clock.tick(timedelta(hours=3))
        assert client.get(way, headers={"If-None-Match": tag}).status_code == 304
        times = {"starts_at": datetime(2026, 12, 8, 9), "ends_at": datetime(2026, 12, 8, 12), "reason": "Rain"}
        book_visit(house.office, house.project, times | {"crew": "Painter", "purpose": "Look"}, NOW)
        assert client.get(way, headers={"If-None-Match": tag}).status_code == 200


def test_the_page_leads_to_it(house: House, client: FlaskClient) -> None:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        page = client.get(f"/p/{house.links['homeowner']}/").get_data(as_text=True)
    assert '<a class="row" href="calendar/">Calendar</a>' in page


def test_one_press_subscribes_to_it(house: House, client: FlaskClient) -> None:
    """The scheme is webcal, which calendars open; the address is the whole one of this very link."""
    link = house.links["co_owner"]
    page = parsed(client.get(f"/p/{link}/calendar/").get_data(as_text=True))
    assert page.links()[:2] == ["../", f"webcal://localhost/p/{link}/visits.ics"]
    assert f"http://localhost/p/{link}/visits.ics" in page.text and "../visits.ics" in page.links()
    assert client.get("/p/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA/calendar/").status_code == 404


def test_a_visit_reminds_of_itself_the_evening_before(house: House) -> None:
    """RFC 5545, 3.6.6: a display alarm has an action, a description and a trigger, before the start where it is below
    zero (3.8.6.3). Six in the evening, by the clocks of the house."""
    (alarm,) = visits(file(house))["Stone crew: Set the stone top (Kitchen)"].inside
    assert (alarm.name, alarm["ACTION"], alarm["TRIGGER"]) == ("VALARM", "DISPLAY", timedelta(hours=-15))
    assert alarm["DESCRIPTION"] == "Tomorrow at 9:00 am: Stone crew"
    (answer,) = about(5, file(house)).inside
    assert (answer["TRIGGER"], answer["ACTION"]) == (timedelta(hours=-6), "DISPLAY")
    assert answer["DESCRIPTION"] == "Tomorrow is the last day: Your answer: Do you want to keep the old laundry door?"
    assert not [event for event in deliveries(file(house)).values() if event.inside]


def test_the_evening_is_that_of_the_clock_over_its_change(house: House) -> None:
    """The clocks go forward on Sun Mar 14, 2027, at two in the morning (15 U.S.C. 260a): an hour less lies between."""
    times = {"starts_at": at("2027-03-14T09:00"), "ends_at": at("2027-03-14T10:00")}
    tables.Visit.update(**times).where(tables.Visit.id == house.visits["paint"]).execute()
    week = {day: [["08:00", "16:30"]] for day in ("mon", "tue", "wed", "thu", "fri", "sat", "sun")}
    tables.Project.update(calendar={"week": week}).execute()
    (alarm,) = visits(file(house))["Painter: Paint the laundry room (Laundry room)"].inside
    assert alarm["TRIGGER"] == timedelta(hours=-14)


def test_a_visit_that_can_not_be_kept_says_so_and_reminds_of_nothing(house: House) -> None:
    """The stone top comes on Thu Dec 10, after it is to be set."""
    day = date(2026, 12, 10)
    tables.Delivery.update(expected_low=day, expected_on=day, expected_high=day).where(
        tables.Delivery.item == "Stone top").execute()
    top = visits(file(house))["Can’t come: Stone crew: Set the stone top (Kitchen)"]
    assert top["STATUS"] == "TENTATIVE" and not top.inside
    assert "Stone top is expected on Thu Dec 10. First day that works: Fri Dec 11." in top["DESCRIPTION"]


def test_past_visits_are_out_and_those_of_today_are_in(house: House) -> None:
    cancel_visit(house.office, house.project, house.visits["top"], 1, because="Rain.", now=NOW)
    assert len(visits(file(house, at("2026-12-02T23:00")))) == 6
    later = file(house, at("2026-12-04T08:00"))
    assert {event["DTSTART"].day for event in visits(later).values()} == {4, 7, 9}
    assert b"CANCELLED" not in later, "the cancelled one is past, too"


def test_the_library_of_others_reads_it_as_well(house: House) -> None:
    """The icalendar library, which wrote it, finds no property that it can't read."""
    calendar = Calendar.from_ical(file(house))
    assert calendar.errors == [] and all(not event.errors for event in calendar.walk())
    assert len(calendar.walk("VALARM")) == 8


def test_a_timezone_that_is_put_right_moves_what_calendars_keep(house: House) -> None:
    """DTSTART is an instant here, so it must move that the wall clock stays; and SEQUENCE says that it did."""
    change_project(house.manager, house.project, 1, {"timezone": "America/New_York"}, NOW + 60)
    top = visits(file(house))["Stone crew: Set the stone top (Kitchen)"]
    assert top["DTSTART"] == datetime(2026, 12, 3, 9, tzinfo=ZoneInfo("America/New_York"))
    assert (top["SEQUENCE"], top["DTSTAMP"]) == (1, datetime.fromtimestamp(NOW + 60, UTC))
