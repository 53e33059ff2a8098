"""Setting up a house: the project with its calendar, rooms, household and links, and the firm."""

from datetime import date

import pytest

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.store.tables import Firm, Link, Person, Project, Room
from tests.house import House
from tests.household import CALENDAR
from tests.web.signed_in import Desk

PLAIN = {"name": "Berg house", "address": "2 Gannet Court", "timezone": "America/Chicago", "starts_on": "2027-01-11"}


def test_a_house_is_set_up_step_by_step(office: Desk, house: House) -> None:
    office.open("/desk/projects/new")
    office.send(**PLAIN, contract_cents="48,600", calendar__country="us", calendar__state="mn",
                calendar__days_off="2027-02-15\n2027-03-01", calendar__half_days="2027-01-15 08:00 to 12:00",
                calendar__week__mon__begins="08:00", calendar__week__mon__ends="12:00",
                calendar__week__mon__again="13:00", calendar__week__mon__until="00:00")  # fmt: skip
    assert "The house is set up." in office.says
    project = Project.get(Project.name == "Berg house")
    assert project.contract_cents == 4_860_000
    assert project.calendar["week"]["mon"] == [["08:00", "12:00"], ["13:00", "24:00"]]
    assert project.calendar["holidays"] == {"country": "US", "subdivision": "MN"}
    assert project.calendar["half_days"] == {"2027-01-15": [["08:00", "12:00"]]}
    assert office.path == f"/desk/projects/{project.id}/rooms/"
    office.send(name="Kitchen", services=["sink", "water"])
    assert Room.get(Room.project == project.id).services == ["sink", "water"]
    office.open("../people/new").send(name="Ann Berg", phone="218-555-0170", may_approve="on")
    office.send()
    assert "http://localhost/p/" in office.says
    assert office.open("../").says.count("Has a link that opens.") == 1


def test_an_unfinished_calendar_is_marked_where_it_is_wrong(office: Desk, house: House) -> None:
    office.open("/desk/projects/new")
    office.send(status=422, **PLAIN, calendar__week__tue__begins="08:00", calendar__days_off="Thanksgiving",
                calendar__half_days="soon", contract_cents="a lot")  # fmt: skip
    assert "“Thanksgiving” is no date" in office.wrong("calendar.days_off")
    assert "“soon” can’t be read" in office.wrong("calendar.half_days")
    assert office.wrong("contract_cents") == "Give dollars, such as 640 or 48,600.50."
    office.send(status=422, calendar__days_off="", calendar__half_days="", contract_cents="")
    assert office.wrong("calendar.week.tue.ends") == "Give both times, or leave both empty."
    office.send(status=422, calendar__week__tue__ends="07:00")
    assert "ends before it starts" in office.says
    office.send(status=422, calendar__week__tue__ends="15:00", calendar__country="US", calendar__state="ZZ")
    assert "'ZZ' is not known in US" in office.wrong("calendar.state")
    office.send(status=422, calendar__state="", timezone="Minnesota")
    assert "no IANA zone" in office.wrong("timezone")
    assert office.typed()["name"] == "Berg house"
    assert Project.select().count() == 2


def ticks(desk: Desk, checked: bool = False) -> dict[str, str]:
    """What is said at each holiday of the form, by its name; `checked`: only of those that have their tick."""
    labels = [label for label in desk.page.iter() if label.get("class") == "tick"]
    found = [(one, " ".join("".join(label.itertext()).split())) for label in labels for one in label.iter()
             if one.get("name") == "calendar.off"]
    return {str(one.get("value")): words for one, words in found if not checked or one.get("checked") is not None}


def test_each_holiday_of_the_state_has_a_tick_with_its_next_date(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/change").send(calendar__country="US", calendar__state="WI")
    assert "they are listed now, to untick those that are worked" in manager.says
    found = ticks(manager.open("change"))
    assert found["Christmas Day"] == "Christmas Day: Fri Dec 25, 2026"
    assert found["New Year's Day"] == "New Year's Day: Fri Jan 1, 2027"
    assert found == ticks(manager, checked=True) and len(found) >= 10


def test_a_holiday_without_its_tick_is_a_work_day(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/change").send(calendar__country="US", calendar__state="MN")
    ticked = list(ticks(manager.open("change")))
    manager.send(calendar__off=[name for name in ticked if name != "Veterans Day"])
    kept = Project.get_by_id(7).calendar
    assert kept["holidays"] == {"country": "US", "subdivision": "MN", "except": ["Veterans Day"]}
    calendar = WorkCalendar.of(kept, "America/Chicago")
    assert calendar.is_working_day(date(2027, 11, 11)) and not calendar.is_working_day(date(2026, 12, 25))
    manager.open("change").send(name="Okafor home")
    assert Project.get_by_id(7).calendar == kept, "what is kept comes back as it was"
    manager.open("change").send(calendar__off=ticked)
    assert Project.get_by_id(7).calendar["holidays"] == {"country": "US", "subdivision": "MN"}


def test_ticks_of_one_state_say_nothing_of_another(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/change").send(calendar__country="US", calendar__state="MN")
    manager.open("change")
    manager.looked(manager.typed() | {"calendar.state": "WI", "calendar.off": []})
    assert Project.get_by_id(7).calendar["holidays"] == {"country": "US", "subdivision": "WI"}
    manager.open("change")
    manager.looked(manager.typed() | {"calendar.country": "", "calendar.state": ""})
    assert Project.get_by_id(7).calendar["holidays"] is None


def test_the_next_house_begins_with_the_holidays_of_the_last(office: Desk, manager: Desk, house: House) -> None:
    newest = Project.select().order_by(Project.id.desc()).first().id
    manager.open(f"/desk/projects/{newest}/change").send(calendar__country="US", calendar__state="MN")
    manager.open("change")
    manager.send(calendar__off=["Christmas Day"])
    office.open("/desk/projects/new").send(**PLAIN)
    made = Project.get(Project.name == "Berg house").calendar["holidays"]
    assert made["subdivision"] == "MN" and "Labor Day" in made["except"] and "Christmas Day" not in made["except"]


def test_a_refused_form_keeps_its_ticks(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/change").send(calendar__country="US", calendar__state="MN")
    manager.open("change").send(status=422, name="", calendar__off=["Labor Day"])
    assert list(ticks(manager, checked=True)) == ["Labor Day"]


def test_changing_a_project_keeps_its_calendar(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/change").send(promised_on="2026-12-23")
    project = Project.get_by_id(7)
    assert {key: project.calendar[key] for key in CALENDAR} == CALENDAR
    assert project.contract_cents == 4_860_000
    manager.open("change")
    old = manager.typed()
    manager.send(name="Okafor home")
    manager.path = "/desk/projects/7/change"
    manager.post(old, 412)
    assert Project.get_by_id(7).name == "Okafor home"


def test_setting_up_twice_by_a_double_press_makes_one(office: Desk, house: House) -> None:
    office.open("/desk/projects/new")
    sent = office.typed() | PLAIN
    for _ in range(2):
        office.path = "/desk/projects/new"
        office.post(sent)
        assert office.path.endswith("/rooms/")
    assert Project.select().where(Project.name == "Berg house").count() == 1


def test_rooms_are_renamed_and_only_empty_ones_removed(office: Desk, house: House) -> None:
    kitchen = house.rooms["kitchen"]
    office.open("/desk/projects/7/rooms/").send(status=422, name="Kitchen")
    assert "already a room called" in office.wrong("name")
    office.send(name="Attic", services=[])
    attic = Room.get(Room.name == "Attic")
    office.open(f"{attic.id}/remove").send()
    office.open(f"{kitchen}/change").send(name="Big kitchen")
    assert Room.get_by_id(kitchen).name == "Big kitchen"
    office.open(f"{kitchen}/remove").send(status=422)
    assert "There is still work, a question, a message or an open item in this room." in office.says


def test_what_a_room_says_beyond_its_services_stays(office: Desk, house: House) -> None:
    door = {"service": "way_through", "name": "back door"}
    Room.update(services=["water", door]).where(Room.id == house.rooms["laundry"]).execute()
    office.open(f"/desk/projects/7/rooms/{house.rooms['laundry']}/change")
    office.send(name="Laundry", services=["power", "way_through"])
    assert Room.get_by_id(house.rooms["laundry"]).services == [door, "power"]


def test_a_new_link_takes_the_place_of_the_old_and_is_shown_once(office: Desk, house: House) -> None:
    way = f"/desk/projects/7/people/{house.homeowner.id}/link"
    assert "There is a link already" in office.open(way).says
    office.send()
    assert "The link is made. The one before opens nothing any longer." in office.says
    link = next(one.text for one in office.page.iter() if one.get("id") == "link")
    assert link and office.client.get(link.removeprefix("http://localhost"), buffered=True).status_code == 200
    assert office.client.get(f"/p/{house.links['homeowner']}/").status_code == 404
    assert link not in office.open(way).says


def test_a_revoked_link_opens_nothing(office: Desk, house: House) -> None:
    office.open(f"/desk/projects/7/people/{house.homeowner.id}/revoke").send()
    assert office.client.get(f"/p/{house.links['homeowner']}/").status_code == 404
    assert Link.select().where(Link.revoked_at.is_null(False)).count() == 1
    assert "Has no link." in office.open("/desk/projects/7/people/").says


def test_the_phone_of_the_firm_has_digits_and_its_mark_letters(manager: Desk, house: House) -> None:
    manager.open("/desk/firm").send(status=422, phone="abc", letters="🏠")
    assert manager.wrong("phone") == "A phone number has digits in it. Write it out, or leave this empty."
    assert manager.wrong("letters").startswith("The mark has letters and digits only")


def test_a_phone_number_has_digits(office: Desk, house: House) -> None:
    office.open("/desk/projects/7/people/new").send(status=422, name="Ada Okafor", phone="call Maren")
    assert office.wrong("phone") == "A phone number has digits in it. Write it out, or leave this empty."
    assert "crews cut and drill on it" in office.says


@pytest.mark.parametrize(
    ("field", "typed"),
    [("name", {"name": "maren okafor"}), ("name", {"name": "OKAFOR, Maren"}),
     ("email", {"name": "Ada Okafor", "email": "Maren@Example.org"})],
)
def test_the_same_person_is_not_added_twice_by_mistake(
    office: Desk, house: House, field: str, typed: dict[str, str]
) -> None:
    office.open("/desk/projects/7/people/new").send(status=422, **typed)
    assert office.wrong(field).startswith("Maren Okafor of this household has this")
    office.send(twice="on")
    assert "is added. Next: the private link." in office.says
    assert Person.select().where(Person.project == 7).count() == 3


def test_who_is_changed_is_not_taken_for_their_own_double(office: Desk, house: House) -> None:
    office.open(f"/desk/projects/7/people/{house.homeowner.id}/change").send(phone="218-555-0199")
    assert "The person is changed." in office.says
    office.open(f"/desk/projects/7/people/{house.homeowner.id}/change").send(status=422, email="jonas@example.org")
    assert office.wrong("email").startswith("Jonas Okafor of this household has this e-mail address already.")


def test_who_has_approved_stays_in_the_household(office: Desk, house: House) -> None:
    office.open(f"/desk/projects/7/people/{house.homeowner.id}/remove").send(status=422)
    assert "their name stays. Instead, untick “May approve decisions” and revoke their link." in office.says
    office.open("change").send(phone="218-555-0199", may_approve=[])
    person = Person.get_by_id(house.homeowner.id)
    assert (person.phone, person.may_approve) == ("218-555-0199", False)


def test_the_firms_details_stand_on_every_page(manager: Desk, house: House) -> None:
    manager.open("/desk/firm").send(phone="218-555-0100", registrations="Remodeler BC-000000\nLead-safe NAT-000000-0")
    assert Firm.get().registrations == ["Remodeler BC-000000", "Lead-safe NAT-000000-0"]
    with manager.client.get("/desk/projects/7/page/") as page:
        assert "218-555-0100" in page.get_data(as_text=True)


def test_a_new_installation_writes_its_firm_down_first(manager: Desk) -> None:
    Firm.delete().execute()
    manager.open("/desk/firm").send(name="Brackwater Remodeling", phone="218-555-0142", office_hours="Mondays")
    assert Firm.select().get().name == "Brackwater Remodeling"
    manager.open("/desk/firm").send(phone="218-555-0143")
    assert (Firm.select().count(), Firm.select().get().phone) == (1, "218-555-0143")


def test_a_timezone_that_is_put_right_leaves_the_visits_at_their_hour(manager: Desk, house: House) -> None:
    manager.open(f"/desk/projects/7/visits/{house.visits['top']}/change")
    booked = manager.typed()["starts_at"]
    manager.open("/desk/projects/7/change").send(timezone="America/New_York")
    assert "Booked visits stay at their time by the clock at the house." in manager.says
    assert manager.open(f"/desk/projects/7/visits/{house.visits['top']}/change").typed()["starts_at"] == booked
    manager.open("/desk/projects/7/change").send(name="Okafor")
    assert "by the clock" not in manager.says


def test_a_promise_before_the_end_of_the_plan_asks_first(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/change")
    manager.post(manager.typed() | {"promised_on": "2026-12-10"}, 409)
    assert "Promised is Thu Dec 10. By the plan as booked, all is done on Mon Dec 14, 4 days later." in manager.says
    assert str(Project.get_by_id(7).promised_on) != "2026-12-10"
    manager.post(manager.typed())
    assert str(Project.get_by_id(7).promised_on) == "2026-12-10"
