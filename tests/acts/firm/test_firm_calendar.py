"""The firm's working calendar: it moves the houses that go by it, and no others."""

from typing import Any

import pytest

from portal.acts.firm.ending import close_house, open_house
from portal.acts.firm.firm_calendar import change_firm_calendar
from portal.acts.firm.projects import add_project, change_project
from portal.acts.refusals import FieldRefused, NotYours, Stale
from portal.store.tables import Firm, Project, Visit
from portal.words.dates import when_words
from tests.acts.firm_calls import PROJECT
from tests.acts.kept import entries, newest
from tests.house import NOW, House
from tests.household import CALENDAR

FRIDAYS_OFF = CALENDAR | {"week": {day: hours for day, hours in CALENDAR["week"].items() if day != "fri"}}
OWN = CALENDAR | {"days_off": ["2026-12-24"]}


def firms(house: House, calendar: dict[str, Any] = CALENDAR, zone: str = "America/Chicago", **more: Any) -> Firm:
    values = {"timezone": zone, "calendar": calendar, **more}
    return change_firm_calendar(house.manager, Firm.get().version, values, NOW)


def change(house: House, project: int = 0, **values: Any) -> Project:
    row = Project.get_by_id(project or house.project)
    return change_project(house.manager, row.id, row.version, values, NOW)


def test_the_firms_days_move_the_houses_that_go_by_them_and_no_other(house: House) -> None:
    firms(house)
    change(house, as_firm=True)
    before = len(entries(house.project))
    firms(house, FRIDAYS_OFF)
    ours, other = Project.get_by_id(house.project), Project.get_by_id(house.other_project)
    assert (ours.calendar, ours.as_firm) == (FRIDAYS_OFF, True)
    assert (other.calendar, other.as_firm) == (CALENDAR, False)
    assert len(entries(house.project)) == before + 1 and not entries(house.other_project)
    assert newest(house.project)["kind"] == "project_changed"
    assert newest(house.project)["body"]["calendar_before"] == CALENDAR
    firms(house, FRIDAYS_OFF)
    assert len(entries(house.project)) == before + 1, "where nothing moves, nothing is told"


def test_houses_that_are_ticked_drop_their_own_days(house: House) -> None:
    firms(house, FRIDAYS_OFF, houses=[house.other_project])
    other = Project.get_by_id(house.other_project)
    assert (other.calendar, other.as_firm) == (FRIDAYS_OFF, True)
    assert not Project.get_by_id(house.project).as_firm


def test_a_house_with_days_of_its_own_keeps_them_and_is_as_the_firms_no_more(house: House) -> None:
    firms(house)
    change(house, as_firm=True)
    assert change(house, name="Okafor home", calendar=CALENDAR, timezone="America/Chicago").as_firm
    assert not change(house, calendar=OWN).as_firm
    firms(house, FRIDAYS_OFF)
    assert Project.get_by_id(house.project).calendar == OWN


def test_the_firms_and_others_at_once_are_refused(house: House) -> None:
    firms(house)
    with pytest.raises(FieldRefused, match="of its own are given as well") as refused:
        change(house, as_firm=True, calendar=OWN)
    assert refused.value.field == "as_firm"
    with pytest.raises(FieldRefused, match="of its own are given as well"):
        add_project(house.manager, PROJECT | {"as_firm": True, "timezone": "America/Denver"}, NOW)
    assert add_project(house.manager, PROJECT | {"as_firm": True}, NOW).as_firm


def test_nobody_goes_by_what_the_firm_has_not_written_down(house: House) -> None:
    with pytest.raises(FieldRefused, match="no working days yet"):
        change(house, as_firm=True)
    Firm.delete().execute()
    with pytest.raises(FieldRefused, match="not written down yet"):
        change_firm_calendar(house.manager, 0, {"timezone": "America/Chicago", "calendar": CALENDAR}, NOW)


def test_a_closed_house_stays_and_goes_by_the_firms_days_once_it_is_open_again(house: House) -> None:
    firms(house)
    shut = change(house, as_firm=True)
    close_house(house.manager, shut.id, shut.version, reason="They moved out", now=NOW)
    told = len(entries(shut.id))
    firms(house, FRIDAYS_OFF)
    assert Project.get_by_id(shut.id).calendar == CALENDAR and len(entries(shut.id)) == told
    opened = open_house(house.manager, shut.id, Project.get_by_id(shut.id).version, reason="Work goes on", now=NOW)
    assert opened.calendar == FRIDAYS_OFF


def test_with_the_firms_zone_visits_stay_at_their_time_by_the_clock(house: House) -> None:
    firms(house)
    change(house, as_firm=True)
    visit = house.visits["top"]
    before = Visit.get_by_id(visit).starts_at
    firms(house, zone="America/New_York")
    after = Visit.get_by_id(visit).starts_at
    assert after != before and when_words(after, "America/New_York") == when_words(before, "America/Chicago")


def test_what_can_not_be_counted_or_was_not_seen_changes_nothing(house: House) -> None:
    with pytest.raises(FieldRefused) as refused:
        firms(house, CALENDAR | {"week": {}})
    assert refused.value.field == "calendar.week"
    with pytest.raises(FieldRefused, match="is no holiday there"):
        firms(house, CALENDAR | {"holidays": {"country": "US", "subdivision": "MN", "except": ["Moonday"]}})
    with pytest.raises(Stale):
        change_firm_calendar(house.manager, 99, {"timezone": "America/Chicago", "calendar": CALENDAR}, NOW)
    with pytest.raises(NotYours, match="for the manager"):
        change_firm_calendar(house.office, 1, {"timezone": "America/Chicago", "calendar": CALENDAR}, NOW)
    assert Firm.get().calendar is None
