"""The firm's working days at the desk: what they would move is said first; a house takes them with one tick."""

from typing import Any

from portal.store.tables import Firm, Project
from tests.house import House
from tests.household import CALENDAR
from tests.web.desk.house.test_setting_up import PLAIN
from tests.web.signed_in import Desk

TICK = "Work days as the firm’s (Mon to Fri 8:00 to 4:30, holidays of Minnesota, 1 other day off)"
NO_FRIDAY = {"calendar.usual.days": ["mon", "tue", "wed", "thu"]}


def written_down() -> None:
    Firm.update(timezone="America/Chicago", calendar=CALENDAR).execute()


def kept(project: int = 7) -> tuple[Any, bool]:
    row = Project.get_by_id(project)
    return {name: row.calendar[name] for name in CALENDAR}, row.as_firm


def test_the_form_begins_with_what_the_newest_house_goes_by(manager: Desk, house: House) -> None:
    assert "/desk/firm/calendar" in manager.open("/desk/").ways
    typed = manager.open("/desk/firm/calendar").typed()
    assert (typed["timezone"], typed["calendar.state"]) == ("America/Chicago", "MN")
    manager.send()
    assert "No house is changed by it." in manager.says
    assert Firm.get().calendar["holidays"] == {"country": "US", "subdivision": "MN"}


def test_what_it_does_to_houses_is_said_before_it_is_saved(manager: Desk, house: House) -> None:
    written_down()
    Project.update(as_firm=True).where(Project.id == 7).execute()
    manager.open("/desk/firm/calendar")
    manager.post(manager.typed() | NO_FRIDAY, 409)
    assert "It changes the days and hours of 1 house." in manager.says
    assert "Okafor house, 14 Tamarack Lane, Pell Harbor, Minnesota: done " in manager.says
    assert " instead of Mon Dec 14, " in manager.says
    assert kept() == (CALENDAR, True) and Firm.get().calendar == CALENDAR
    manager.post(manager.typed())
    assert "They go for 1 house from now on." in manager.says
    assert "fri" not in Project.get_by_id(7).calendar["week"]
    assert "fri" in Project.get_by_id(house.other_project).calendar["week"]


def test_many_houses_are_counted_and_a_handful_is_named(manager: Desk, house: House) -> None:
    written_down()
    for number in range(7):
        copied = Project.get_by_id(house.other_project).__data__ | {"id": 40 + number, "name": f"House {number}"}
        Project.insert(copied | {"as_firm": True}).execute()
    Project.update(as_firm=True).where(Project.id == 7).execute()
    manager.open("/desk/firm/calendar")
    manager.post(manager.typed() | NO_FRIDAY, 409)
    assert "It changes the days and hours of 8 houses." in manager.says
    assert "The finish of 7 houses stays." in manager.says


def test_houses_with_days_of_their_own_are_ticked_to_follow(manager: Desk, house: House) -> None:
    manager.open("/desk/firm/calendar")
    manager.looked(manager.typed() | {"houses": ["7"], "calendar.days_off": "2026-11-27"})
    assert "They go for 1 house from now on." in manager.says
    assert kept() == (CALENDAR, True) and not kept(house.other_project)[1]


def test_a_days_fault_stands_at_its_day(manager: Desk, house: House) -> None:
    manager.open("/desk/firm/calendar").send(status=422, calendar__week__fri__begins="08:00")
    assert manager.wrong("calendar.week.fri.ends") == "Give both times, or leave both empty."
    manager.send(status=422, calendar__week__fri__ends="15:00", calendar__usual__ends="")
    assert manager.wrong("calendar.usual.ends") == "Give both times, or leave both empty."
    manager.send(status=422, calendar__usual__ends="07:00")
    assert manager.wrong("calendar.usual.begins")
    manager.send(status=422, calendar__usual__ends="16:30", timezone="Minnesota")
    assert "no IANA zone" in manager.wrong("timezone")
    manager.send(status=422, timezone="America/Chicago", calendar__state="ZZ")
    assert "'ZZ' is not known in US" in manager.wrong("calendar.state")
    assert Firm.get().calendar is None


def test_a_new_house_goes_by_the_firms_days_unless_it_gets_its_own(office: Desk, house: House) -> None:
    written_down()
    assert TICK in office.open("/desk/projects/new").says
    office.send(**{name: value for name, value in PLAIN.items() if name != "timezone"})
    assert Project.get(Project.name == "Berg house").as_firm
    office.open("/desk/projects/new").send(status=422, **PLAIN | {"name": "Holm"},
                                          calendar__week__fri__begins="08:00", calendar__week__fri__ends="12:00")
    assert "Take this off to keep them." in office.wrong("as_firm")
    office.send(as_firm=[])
    own = Project.get(Project.name == "Holm")
    assert not own.as_firm and own.calendar["week"]["fri"] == [["08:00", "12:00"]]


def test_a_house_takes_the_firms_days_and_gets_its_own_back(manager: Desk, house: House) -> None:
    written_down()
    Project.update(calendar=CALENDAR | {"days_off": []}).where(Project.id == 7).execute()
    manager.open("/desk/projects/7/change")
    manager.looked(manager.typed() | {"as_firm": "on"})
    assert kept() == (CALENDAR, True)
    manager.open("change").send(name="Okafor home")
    assert kept() == (CALENDAR, True)
    manager.open("change")
    manager.looked(manager.typed() | {"as_firm": [], "calendar.days_off": ""})
    assert kept() == (CALENDAR | {"days_off": []}, False)


def test_days_with_the_same_hours_are_one_row_and_one_change_is_of_all_of_them(manager: Desk, house: House) -> None:
    week = {**dict.fromkeys(("mon", "tue", "wed", "thu"), [["07:00", "12:00"], ["12:30", "15:30"]]),
            "fri": [["07:00", "12:00"]]}  # fmt: skip
    Firm.update(timezone="America/Chicago", calendar=CALENDAR | {"week": week}).execute()
    typed = manager.open("/desk/firm/calendar").typed()
    usual = {name: typed[f"calendar.usual.{name}"] for name in ("begins", "ends", "again", "until", "days")}
    assert usual == {"begins": "07:00", "ends": "12:00", "again": "12:30", "until": "15:30",
                     "days": ["mon", "tue", "wed", "thu"]}  # fmt: skip
    assert (typed["calendar.week.fri.ends"], typed["calendar.week.mon.begins"]) == ("12:00", "")
    manager.send()
    assert Firm.get().calendar["week"] == week, "as it was, to the letter"
    manager.open("/desk/firm/calendar").looked(manager.typed() | {
        "calendar.usual.begins": "06:30", "calendar.usual.days": ["tue", "wed", "thu"]})
    later = [["06:30", "12:00"], ["12:30", "15:30"]]
    assert Firm.get().calendar["week"] == {"tue": later, "wed": later, "thu": later, "fri": [["07:00", "12:00"]]}
