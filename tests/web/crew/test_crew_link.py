"""A crew's private link: its sheet of one day, open until the day is over, and nothing else; and its calendar."""

from collections.abc import Iterator
from datetime import UTC, date, datetime

import pytest
from flask import Flask
from flask.testing import FlaskClient
from freezegun import freeze_time
from icalendar import Calendar

from portal.acts.crews.crew_links import make_crew_link, revoke_crew_links
from portal.acts.crews.crews import add_crew
from portal.acts.household.crew_notes import write_crew_note
from portal.acts.refusals import FieldRefused
from portal.acts.visiting.visits import book_visit, cancel_visit
from portal.planning.conflicts.crew_days import PLANNED
from portal.store import tables
from portal.store.reading.crews.week import crews_ahead
from portal.store.rows.crews import crew_link_rows
from portal.words.dates import local
from tests.drawn import approve_it, ask_deck
from tests.house import NOW, SECRET, House, at
from tests.web.signed_in import Desk

DAY = date(2026, 12, 3)


@pytest.fixture
def crew(house: House) -> int:
    return int(add_crew(house.office, {"name": "Stone crew", "phone": "218-555-0144"}, NOW).id)


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


def linked(house: House, crew: int, day: date | None = DAY, now: int = NOW) -> str:
    return f"/c/{make_crew_link(house.office, crew, day=day, secret=SECRET, now=now)}/"


def text(client: FlaskClient, way: str, status: int = 200) -> str:
    answer = client.get(way)
    assert answer.status_code == status, way
    return answer.get_data(as_text=True).replace("\u00a0", " ").replace("\u2011", "-")


def book(house: House, project: int, day: int, hour: int = 15, by: str = "stone crew") -> tables.Visit:
    when = {"starts_at": datetime(2026, 12, day, hour), "ends_at": datetime(2026, 12, day, hour + 1)}
    return book_visit(house.office, project, {"crew": by, "purpose": "Template", **when}, NOW)


def test_the_sheet_says_where_what_and_how_to_get_in_and_no_price(
    client: FlaskClient, house: House, crew: int
) -> None:
    write_crew_note(house.homeowner, house.project, {"keys": "Under the blue pot", "pets": "A cat"}, NOW)
    tables.Phase.update(note="The old top weighs 300 lb and cost $4,000").where(
        tables.Phase.id == house.phases["top"]).execute()
    book(house, house.other_project, 3)
    page = text(client, linked(house, crew))
    for said in ("Thursday, December 3, 2026", "14 Tamarack Lane", "9:00 am to 2:00 pm: Set the stone top",
                 "Keys: Under the blue pot.", "Pets: A cat.", "3:00 pm to 4:00 pm: Template"):
        assert said in page
    assert "$" not in page and "(price left out)" in page
    assert page.index("14 Tamarack") < page.index("3:00 pm"), "in the order of the day"


@pytest.mark.parametrize(
    ("away_from", "away_to", "said_on"),
    [(4, 4, {3, 4}), (5, None, {4}), (1, 3, {3}), (6, 9, set())],
    ids=["tomorrow", "from the day after, for good", "until today", "later"],
)
def test_that_nobody_is_home_is_said_while_they_are_away_and_the_day_before(
    client: FlaskClient, house: House, crew: int, away_from: int, away_to: int | None, said_on: set[int]
) -> None:
    """An empty house is nobody's business earlier, or later."""
    dates = {"away_from": date(2026, 12, away_from), "away_to": away_to and date(2026, 12, away_to)}
    write_crew_note(house.homeowner, house.project, {**dates, "pets": "A cat"}, NOW)
    pages = {day: text(client, linked(house, crew, date(2026, 12, day))) for day in (3, 4)}
    assert all("A cat" in page for page in pages.values())
    assert {day for day, page in pages.items() if "Away:" in page} == said_on


def test_what_another_crew_does_that_day_is_on_its_own_sheet(client: FlaskClient, house: House, crew: int) -> None:
    write_crew_note(house.other_homeowner, house.other_project, {"keys": "With the neighbor"}, NOW)
    book(house, house.other_project, 3, by="Tile setter")
    other = add_crew(house.office, {"name": "Tile setter"}, NOW).id
    ours, theirs = text(client, linked(house, crew)), text(client, linked(house, other))
    assert "3 Quarry Road" in theirs and "With the neighbor" in theirs
    assert "3 Quarry Road" not in ours and "With the neighbor" not in ours


def test_a_house_for_which_it_is_only_planned_is_not_on_its_sheet_nor_is_the_way_in(
    client: FlaskClient, house: House, crew: int
) -> None:
    """Nobody has booked them: who is at home that day does not expect them."""
    write_crew_note(house.homeowner, house.project, {"keys": "Under the blue pot"}, NOW)
    for one in list(tables.Visit.select().where(tables.Visit.crew == "Stone crew")):
        cancel_visit(house.office, house.project, one.id, one.version, because="", now=NOW)
    days = {local(one.starts * 60, "America/Chicago").date() for one in crews_ahead(NOW, NOW).stretches
            if one.key == f"crew:{crew}" and one.kind == PLANNED}
    assert days
    for day in days:
        page = text(client, linked(house, crew, day))
        assert "Nothing is booked for this day." in page and "blue pot" not in page and "14 Tamarack" not in page


def test_a_day_without_work_says_so(client: FlaskClient, house: House, crew: int) -> None:
    assert "Nothing is booked for this day." in text(client, linked(house, crew, date(2026, 12, 6)))


def test_its_heads_keep_it_out_of_caches_and_searches(client: FlaskClient, house: House, crew: int) -> None:
    heads = client.get(linked(house, crew)).headers
    assert heads["Cache-Control"] == "no-store" and heads["X-Robots-Tag"] == "noindex"
    assert heads["Referrer-Policy"] == "same-origin"


def test_whoever_holds_it_changes_nothing_and_sees_no_page_of_a_house(
    app: Flask, client: FlaskClient, house: House, crew: int
) -> None:
    link = linked(house, crew).split("/")[2]
    rules = [rule for rule in app.url_map.iter_rules() if rule.endpoint.startswith("crew.")]
    assert len(rules) == 3 and all("POST" not in (rule.methods or ()) for rule in rules)
    for way in (f"/p/{link}/", f"/p/{link}/record/", f"/c/{house.links['homeowner']}/", f"/c/{link}/record/"):
        text(client, way, 404)
    assert client.post(f"/c/{link}/").status_code == 405
    assert client.get("/api/v1/projects", headers={"Authorization": f"Bearer {link}"}).status_code == 401
    assert client.get("/desk/").status_code == 303


@pytest.mark.parametrize("way", ["/c/nobodys/", "/c/nobodys/visits.ics", "/c/nobodys/houses/7/decisions/1/sheet.pdf"])
def test_a_wrong_one_names_nothing(client: FlaskClient, house: House, crew: int, way: str) -> None:
    page = text(client, way, 404)
    assert "This link opens nothing" in page and "Stone crew" not in page and "Okafor" not in page


def test_it_ends_with_the_day_and_takes_the_sheet_along(client: FlaskClient, house: House, crew: int) -> None:
    link = linked(house, crew)
    with freeze_time("2026-12-04T05:59:59Z"):  # a second before midnight at the house
        assert "Nothing is booked" not in text(client, link)
    with freeze_time("2026-12-04T06:00:00Z"):
        wrong = text(client, link, 404)
    assert wrong == text(client, "/c/nobodys/", 404)


@pytest.mark.parametrize(
    ("day", "ends"),
    [(date(2027, 3, 14), "2027-03-15T00:00"), (date(2026, 11, 1), "2026-11-02T00:00")],
    ids=["the hour that the clock skips", "the hour that comes twice"],
)
def test_a_day_with_a_clock_change_ends_at_its_midnight(house: House, day: date, ends: str) -> None:
    assert crew_link_rows.end_of(day) == at(ends)


def test_a_house_that_is_closed_keeps_no_day_open_and_a_firm_without_one_goes_by_utc(house: House) -> None:
    projects = tables.Project.update(timezone="America/Los_Angeles", closed_at=NOW)
    projects.where(tables.Project.id == house.other_project).execute()
    assert crew_link_rows.end_of(DAY) == at("2026-12-04T00:00")
    tables.Project.update(closed_at=NOW).execute()
    assert crew_link_rows.end_of(DAY) == int(datetime(2026, 12, 4, tzinfo=UTC).timestamp())


def test_at_its_midnight_it_is_no_longer_among_those_that_open_and_none_is_made(house: House, crew: int) -> None:
    linked(house, crew)
    midnight = at("2026-12-04T00:00")
    assert len(crew_link_rows.live(crew, midnight - 1)) == 1 and crew_link_rows.live(crew, midnight) == []
    linked(house, crew, now=midnight - 1)
    with pytest.raises(FieldRefused, match="That day is over"):
        linked(house, crew, now=midnight)


def test_in_the_last_house_that_has_the_day(client: FlaskClient, house: House, crew: int) -> None:
    """The house whose day is over is left out, and with it how to get in; the link ends with the last one."""
    write_crew_note(house.homeowner, house.project, {"keys": "Under the blue pot"}, NOW)
    tables.Project.update(timezone="America/Los_Angeles").where(tables.Project.id == house.other_project).execute()
    book(house, house.other_project, 3)
    link = linked(house, crew)
    with freeze_time("2026-12-04T06:00:00Z"):
        page = text(client, link)
        assert "Template" in page and "blue pot" not in page and "14 Tamarack" not in page
    with freeze_time("2026-12-04T08:00:00Z"):
        text(client, link, 404)


def test_a_new_one_takes_the_place_of_the_old_one_and_revoking_ends_all(
    client: FlaskClient, house: House, crew: int
) -> None:
    old, other, feed = linked(house, crew), linked(house, crew, date(2026, 12, 4)), linked(house, crew, None)
    new = linked(house, crew)
    text(client, old, 404)
    assert text(client, new) and text(client, other) and text(client, f"{feed}visits.ics")
    assert revoke_crew_links(house.office, crew, now=NOW) == 3
    for way in (new, other, f"{feed}visits.ics"):
        text(client, way, 404)


def test_a_day_that_is_over_gets_no_link(house: House, crew: int) -> None:
    with pytest.raises(FieldRefused, match="That day is over"):
        linked(house, crew, date(2026, 12, 1))


def test_only_the_approved_sheet_of_that_days_work_opens(client: FlaskClient, house: House, crew: int) -> None:
    held_by = ask_deck(house)
    link = linked(house, crew, date(2026, 12, 4))
    sheet = f"{link}houses/{house.project}/decisions/{held_by.number}/sheet.pdf"
    assert "sheet.pdf" not in text(client, link) and "Do not begin." in text(client, link)
    text(client, sheet, 404)
    approve_it(house, held_by)
    assert f"houses/{house.project}/decisions/{held_by.number}/sheet.pdf" in text(client, link)
    assert client.get(sheet).data.startswith(b"%PDF")
    for way in (f"{sheet}?option=b", f"{sheet}?revision=1", sheet.replace(f"houses/{house.project}", "houses/8"),
                f"{linked(house, crew)}houses/{house.project}/decisions/{held_by.number}/sheet.pdf"):
        text(client, way, 404)


@pytest.fixture
def feed(client: FlaskClient, house: House, crew: int) -> Iterator[str]:
    write_crew_note(house.homeowner, house.project, {"keys": "Under the blue pot"}, NOW)
    called_off = book(house, house.other_project, 8)
    cancel_visit(house.office, house.other_project, called_off.id, called_off.version, because="", now=NOW)
    yield f"{linked(house, crew, None)}visits.ics"


def test_the_calendar_has_its_visits_at_all_houses_as_private_events(client: FlaskClient, feed: str) -> None:
    data = client.get(feed).data
    events = Calendar.from_ical(data).walk("VEVENT")
    assert {str(one["CLASS"]) for one in events} == {"PRIVATE"}
    assert [(str(one["SUMMARY"]), str(one["STATUS"])) for one in events] == [
        ("Okafor house: Set the stone top", "CONFIRMED"),
        ("Okafor house: Drill the holes in the stone top", "TENTATIVE"),
        ("Sorensen bath: Template", "CANCELLED"),
    ]
    assert str(events[0]["LOCATION"]).startswith("14 Tamarack Lane") and b"blue pot" not in data
    again = client.get(feed, headers={"If-None-Match": client.get(feed).headers["ETag"]})
    assert again.status_code == 304


def test_the_link_of_the_calendar_opens_no_sheet_and_that_of_a_day_no_calendar(
    client: FlaskClient, house: House, crew: int, feed: str
) -> None:
    text(client, feed.removesuffix("visits.ics"), 404)
    text(client, f"{linked(house, crew)}visits.ics", 404)


def test_the_desk_prints_it_and_makes_its_link(office: Desk, house: House, crew: int) -> None:
    write_crew_note(house.homeowner, house.project, {"keys": "Under the blue pot"}, NOW)
    office.open(f"/desk/crews/{crew}/day?on=2026-12-03")
    assert "9:00 am to 2:00 pm: Set the stone top" in office.says and "Under the blue pot" in office.says
    office.send()
    assert "It opens their sheet of Thu Dec 3, and nothing once that day is over." in office.says
    assert any(way.startswith("sms:2185550144?body=") for way in office.ways)
    office.open(f"/desk/crews/{crew}/day?on=2026-12-03")
    assert "Links that open now: Thu Dec 3." in office.says
    office.send(status=409)
    assert "There is a link already. A new one takes its place, and the old one stops working." in office.says
    assert [one.id for one in crew_link_rows.live(crew, NOW)] == [1], "the first one still opens"
    office.send()
    assert [one.id for one in crew_link_rows.live(crew, NOW)] == [2]
    office.open(f"/desk/crews/{crew}/day?on=2026-12-03")
    office.open(f"/desk/crews/{crew}/revoke").send()
    assert "No link of Stone crew opens anything any longer." in office.says


def test_what_nobody_wrote_for_the_crew_is_not_spoken_of(office: Desk, house: House, crew: int) -> None:
    secret = "it says what the household wrote for the crew alone"
    assert secret not in office.open(f"/desk/crews/{crew}/day?on=2026-12-03").says
    write_crew_note(house.homeowner, house.project, {"keys": "Under the blue pot"}, NOW)
    assert secret in office.open(f"/desk/crews/{crew}/day?on=2026-12-03").says


def test_a_link_stands_there_whole_and_a_crew_without_a_phone_is_given_one(office: Desk, crew: int) -> None:
    tables.Crew.update(phone="").where(tables.Crew.id == crew).execute()
    office.open(f"/desk/crews/{crew}/day?on=2026-12-03").send()
    assert "/c/" in office.says and f"/desk/crews/{crew}/change" in office.ways
    assert not any(way.startswith("sms:") for way in office.ways)
