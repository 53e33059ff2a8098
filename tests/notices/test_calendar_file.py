"""The visits as a calendar, read back by the rules of RFC 5545 (calendar_reader), not by the library that wrote it."""

import re
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from flask.testing import FlaskClient
from freezegun import freeze_time

from portal import signing
from portal.acts.decisions.answers import approve
from portal.acts.firm.projects import change_project
from portal.acts.visiting.visits import book_visit, cancel_visit, change_visit
from portal.notices.calendar_file import calendar_file
from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.visit_rows import cancelled
from tests.house import NOW, SECRET, ZONE, House, at
from tests.notices.calendar_reader import Component, read_calendar

HOSTILE = 'Top; "stone", 3 cm\\thick\r\nEND:VEVENT\nBEGIN:VEVENT\tx\x00\x07\u2028' + "Zoë’s 奥加福 " * 9


PAGE = "https://portal.example.com/p/link/"


def file(house: House, now: int = NOW, secret: bytes = SECRET, project: int = 7) -> bytes:
    snapshot = read_snapshot(project)
    outlook = outlook_of(snapshot, schedule_of(snapshot, now))
    return calendar_file(
        snapshot, outlook, cancelled(project), lambda event: signing.event_id_for(secret, event), PAGE
    )


def events(data: bytes) -> list[Component]:
    """Each has all that an event must have (3.6.1)."""
    calendar = read_calendar(data)
    assert calendar["VERSION"] == "2.0" and calendar["PRODID"]
    assert all(event.name == "VEVENT" and {"UID", "DTSTAMP", "DTSTART"} <= set(event.raw) for event in calendar.inside)
    return calendar.inside


def visits(data: bytes) -> dict[str, Component]:
    return {event["SUMMARY"]: event for event in events(data) if isinstance(event["DTSTART"], datetime)}


def needed(data: bytes) -> dict[str, Component]:
    """By the first 40 letters; deliveries are whole days, too."""
    days = [event for event in events(data) if type(event["DTSTART"]) is date]
    return {event["SUMMARY"][:40]: event for event in days if "decision" in event["SUMMARY"]}


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
    starts = {re.findall(r"decision (\d)", one["SUMMARY"])[0]: one["DTSTART"] for one in found.values()}
    outlook = outlook_of(read_snapshot(house.project), schedule_of(read_snapshot(house.project), NOW))
    numbers = {one.id: str(one.number) for one in read_snapshot(house.project).decisions}
    days = {numbers[decision]: max(day, date(2026, 12, 2)) for decision, day in outlook.needed_by.items()}
    assert starts == days
    assert starts["5"] == date(2026, 12, 11)
    for event in found.values():
        assert event["DTEND"] - event["DTSTART"] == timedelta(days=1)
        assert event["TRANSP"] == "TRANSPARENT"


def test_an_answer_that_is_late_stands_at_today_not_in_the_past(house: House) -> None:
    late = next(event for event in needed(file(house)).values() if "decision 2" in event["SUMMARY"])
    assert late["DTSTART"] == date(2026, 12, 2) and late["SUMMARY"].startswith("Late: we need your answer to")


def test_where_we_owe_an_answer_we_ask_for_none_before_it(house: House) -> None:
    """Decision 4 was asked back; its work is booked for Wed Dec 9."""
    (ours,) = [event["SUMMARY"] for event in events(file(house)) if "decision 4" in event["SUMMARY"]]
    assert ours.startswith("Once you have our answer, we need yours to decision 4")
    tables.Visit.update(starts_at=at("2026-12-03T08:00"), ends_at=at("2026-12-03T16:30")).where(
        tables.Visit.id == house.visits["paint"]
    ).execute()
    tables.Phase.update(not_before=None).execute()
    assert not [event for event in events(file(house)) if "decision 4:" in event["SUMMARY"]], "then the delay is ours"


def test_the_visit_of_held_work_is_tentative_until_the_answer_is_there(house: House) -> None:
    """RFC 5545, 3.8.1.11: STATUS of an event."""
    drill = "Stone crew: Drill the holes in the stone top (Kitchen)"
    held = visits(file(house))[drill]
    assert held["STATUS"] == "TENTATIVE" and "waits for your answer to decision 1" in held["DESCRIPTION"]
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    free = visits(file(house))[drill]
    assert free["STATUS"] == "CONFIRMED" and "waits for" not in free["DESCRIPTION"]
    assert free["DTSTAMP"] == datetime.fromtimestamp(NOW, UTC) > held["DTSTAMP"]


def test_what_is_on_order_is_in_it_until_it_came(house: House) -> None:
    found = deliveries(file(house))
    assert {name: event["DTSTART"] for name, event in found.items()} == {
        "Delivery: Stone top": date(2026, 12, 2), "Delivery: Splash tile": date(2026, 12, 4),
    }  # fmt: skip
    tile = found["Delivery: Splash tile"]
    assert tile["STATUS"] == "TENTATIVE" and "It may come from Thu Dec 3 to Wed Dec 9." in tile["DESCRIPTION"]
    assert not deliveries(file(house, at("2026-12-05T08:00"))), "none stands in the past"


def test_an_answered_decision_asks_for_nothing_more(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[5], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert not [name for name in needed(file(house)) if "decision 5" in name]


@pytest.mark.parametrize(
    ("starts", "ends", "hours"),
    [("2026-10-31T22:00", "2026-11-01T04:00", 7), ("2027-03-13T22:00", "2027-03-14T04:00", 5),
     ("2026-11-01T08:00", "2026-11-01T16:30", 8.5), ("2027-03-14T08:00", "2027-03-14T16:30", 8.5)],
)  # fmt: skip
def test_times_are_right_over_a_change_of_the_clocks(house: House, starts: str, ends: str, hours: float) -> None:
    """The clocks of the United States change on Nov 1, 2026 and Mar 14, 2027 (15 U.S.C. 260a)."""
    tables.Visit.update(starts_at=at(starts), ends_at=at(ends)).where(tables.Visit.id == house.visits["top"]).execute()
    top = visits(file(house))["Stone crew: Set the stone top (Kitchen)"]
    there = top["DTSTART"].astimezone(ZoneInfo(ZONE)), top["DTEND"].astimezone(ZoneInfo(ZONE))
    assert [f"{moment:%Y-%m-%dT%H:%M}" for moment in there] == [starts, ends]
    assert top["DTEND"].astimezone(UTC) - top["DTSTART"].astimezone(UTC) == timedelta(hours=hours)


def moved(house: House, hour: int, seen: int, now: int) -> None:
    times: dict[str, Any] = {"starts_at": datetime(2026, 12, 4, hour), "ends_at": datetime(2026, 12, 4, 16)}
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
    before = needed(file(house))["We need your answer to decision 1: Which"]
    moved(house, 9, 1, NOW)
    times = {"starts_at": datetime(2026, 12, 8, 9), "ends_at": datetime(2026, 12, 8, 12)}
    change_visit(house.office, house.project, house.visits["drill"], 1, times, NOW)
    after = needed(file(house))["We need your answer to decision 1: Which"]
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
        "UID": ({}, signing.event_id_for(SECRET, f"visit {house.visits['top']}")), "DTSTAMP": ({}, "20261116T000000Z"),
        "SEQUENCE": ({}, "0"), "DTSTART": ({}, "20261203T150000Z"), "DTEND": ({}, "20261203T200000Z"),
        "SUMMARY": ({}, "Stone crew: Set the stone top (Kitchen)"), "STATUS": ({}, "CONFIRMED"),
        "LOCATION": ({}, "14 Tamarack Lane\\, Pell Harbor\\, Minnesota"),
        "DESCRIPTION": ({}, "Okafor house. Questions? Call Brackwater Remodeling\\, 218-555-0142."),
    }  # fmt: skip
    (day,) = [event for event in needed(file(house)).values() if "decision 5" in event["SUMMARY"]]
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
    key, unfolded = house.links["homeowner"].encode(), answer.data.replace(b"\r\n ", b"")
    head = unfolded.split(b"BEGIN:VEVENT")[0]
    assert b"/p/" + key + b"/\r\n" in head, "the calendar leads to the page (RFC 7986, 5.5)"
    assert unfolded.count(key) == 1, "events are passed on: no key in them"


def test_it_stays_the_same_until_something_changes(house: House, client: FlaskClient) -> None:
    way = f"/p/{house.links['homeowner']}/visits.ics"
    with freeze_time(datetime.fromtimestamp(NOW, UTC)) as clock:
        tag = client.get(way).headers["ETag"]
        clock.tick(timedelta(hours=3))
        assert client.get(way, headers={"If-None-Match": tag}).status_code == 304
        times = {"starts_at": datetime(2026, 12, 8, 9), "ends_at": datetime(2026, 12, 8, 12)}
        book_visit(house.office, house.project, times | {"crew": "Painter", "purpose": "Look"}, NOW)
        assert client.get(way, headers={"If-None-Match": tag}).status_code == 200


def test_the_page_leads_to_it(house: House, client: FlaskClient) -> None:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        page = client.get(f"/p/{house.links['homeowner']}/").get_data(as_text=True)
    assert '<a href="visits.ics">Put the visits in your calendar</a>' in page


def test_a_timezone_that_is_put_right_moves_what_calendars_keep(house: House) -> None:
    """DTSTART is an instant here, so it must move that the wall clock stays; and SEQUENCE says that it did."""
    change_project(house.manager, house.project, 1, {"timezone": "America/New_York"}, NOW + 60)
    top = visits(file(house))["Stone crew: Set the stone top (Kitchen)"]
    assert top["DTSTART"] == datetime(2026, 12, 3, 9, tzinfo=ZoneInfo("America/New_York"))
    assert (top["SEQUENCE"], top["DTSTAMP"]) == (1, datetime.fromtimestamp(NOW + 60, UTC))
