"""A timezone that was a slip is put right: a visit at nine is a visit at nine, only what was kept for it changes."""

import json
from datetime import datetime

import pytest

from portal.acts.firm.projects import change_project
from portal.acts.visiting.timezones import same_clock
from portal.acts.visiting.visits import cancel_visit, change_visit
from portal.pages.evidence.entry_words import entry_words
from portal.store.refusals import FieldRefused
from portal.store.rows import record_rows
from portal.store.tables import Delivery, Notice, Phase, Project, Visit
from tests.house import NOW, House, at

EAST = "America/New_York"


def put_right(house: House, zone: str = EAST) -> None:
    project = Project.get_by_id(house.project)
    change_project(house.manager, house.project, project.version, {"timezone": zone}, NOW)


def last_entry(house: House) -> dict[str, object]:
    return dict(json.loads(list(record_rows.every(house.project))[-1][2]))


def test_a_visit_to_come_stays_at_its_time_by_the_clock(house: House) -> None:
    put_right(house)
    visit = Visit.get_by_id(house.visits["top"])
    assert (visit.starts_at, visit.ends_at) == (at("2026-12-03T09:00", EAST), at("2026-12-03T14:00", EAST))
    assert (visit.version, visit.changed_at) == (2, NOW)


def test_a_visit_that_is_over_by_both_clocks_is_history(house: House) -> None:
    over = Visit.create(
        project=house.project, crew="Tile setter", purpose="Measure", starts_at=NOW - 9 * 3600, ends_at=NOW - 7 * 3600
    )
    put_right(house)
    assert (Visit.get_by_id(over.id).starts_at, Visit.get_by_id(over.id).version) == (NOW - 9 * 3600, 1)


def test_a_visit_that_is_over_by_one_clock_only_goes_on_by_the_other(house: House) -> None:
    """It is 7:30 in Chicago and 5:30 in Los Angeles: somebody who comes until six is still to come there."""
    early = Visit.create(
        project=house.project,
        crew="Plumber",
        purpose="Turn it on",
        starts_at=at("2026-12-02T05:00"),
        ends_at=at("2026-12-02T06:00"),
    )
    put_right(house, "America/Los_Angeles")
    assert Visit.get_by_id(early.id).ends_at == at("2026-12-02T06:00", "America/Los_Angeles")


def test_the_record_says_what_was_and_what_is(house: House) -> None:
    put_right(house)
    entry = last_entry(house)
    body = entry["body"]
    assert isinstance(body, dict)
    assert (entry["kind"], body["before"], body["timezone"]) == ("timezone_changed", "America/Chicago", EAST)
    assert len(body["visits"]) == len(house.visits)
    top = next(one for one in body["visits"] if one["visit"] == house.visits["top"])
    assert (top["before"]["starts_at"], top["starts_at"]) == ("2026-12-03T15:00:00Z", "2026-12-03T14:00:00Z")
    assert entry_words(entry, EAST) == (
        "put the time zone right, from America/Chicago to America/New_York. Visits stay at their time by the clock"
    )


def test_what_is_expected_stays_and_what_has_happened_is_an_instant(house: House) -> None:
    started = house.phases["cabinets"]
    Phase.update(resumes_at=at("2026-12-04T08:00"), started_at=NOW - 60).where(Phase.id == started).execute()
    arrived = Delivery.get_by_id(house.deliveries["faucet"]).arrived_at
    put_right(house)
    phase = Phase.get_by_id(started)
    assert (phase.resumes_at, phase.started_at) == (at("2026-12-04T08:00", EAST), NOW - 60)
    assert Delivery.get_by_id(house.deliveries["faucet"]).arrived_at == arrived


def test_the_household_is_told_once_that_nobody_comes_at_another_time(house: House) -> None:
    put_right(house)
    assert [(row.kind, row.person_id) for row in Notice.select().order_by(Notice.id)] == [
        ("timezone_changed", house.homeowner.id), ("timezone_changed", house.co_owner.id),
    ]  # fmt: skip


def test_where_nobody_is_to_come_nobody_is_told(house: House) -> None:
    for visit in house.visits.values():
        cancel_visit(house.office, house.project, visit, 1, because="", now=NOW)
    told = Notice.select().count()
    put_right(house)
    assert Notice.select().count() == told


def test_letters_that_were_not_sent_yet_tell_the_same_times(house: House) -> None:
    times = {"starts_at": datetime(2026, 12, 8, 9), "ends_at": datetime(2026, 12, 8, 14), "reason": "Rain"}
    change_visit(house.office, house.project, house.visits["top"], 1, times, NOW)
    cancel_visit(house.office, house.project, house.visits["paint"], 1, because="", now=NOW)
    put_right(house)
    moved, _, cancelled, _ = [row.about for row in Notice.select().order_by(Notice.id)][:4]
    assert (moved["starts_at"], moved["before"]["starts_at"]) == (
        at("2026-12-08T09:00", EAST), at("2026-12-03T09:00", EAST),
    )  # fmt: skip
    assert cancelled["ends_at"] == at("2026-12-09T16:30", EAST)
    assert Visit.get_by_id(house.visits["top"]).starts_at == moved["starts_at"]


@pytest.mark.parametrize("values", [{"timezone": "America/Chicago"}, {"name": "Okafor house"}])
def test_what_leaves_the_timezone_leaves_the_visits(house: House, values: dict[str, str]) -> None:
    project = Project.get_by_id(house.project)
    change_project(house.manager, house.project, project.version, values, NOW)
    assert Visit.get_by_id(house.visits["top"]).version == 1
    assert not Notice.select().exists()


def test_a_timezone_that_is_none_changes_nothing(house: House) -> None:
    with pytest.raises(FieldRefused) as refusal:
        put_right(house, "America/Chicagoo")
    assert refusal.value.field == "timezone"
    assert Visit.get_by_id(house.visits["top"]).version == 1


def test_there_and_back_again_is_where_it_was(house: House) -> None:
    before = {visit.id: (visit.starts_at, visit.ends_at) for visit in Visit.select()}
    put_right(house, "Asia/Kathmandu")
    put_right(house, "America/Chicago")
    assert {visit.id: (visit.starts_at, visit.ends_at) for visit in Visit.select()} == before


def test_a_time_that_the_other_clock_skips_is_an_hour_on(house: House) -> None:
    """PEP 495: in the gap of March 14, 2027 (Energy Policy Act of 2005, section 110), 2:30 is read as 3:30. Phoenix has
    no such gap (15 U.S.C. 260a; Arizona has exempted itself)."""
    found = same_clock(at("2027-03-14T02:30", "America/Phoenix"), "America/Phoenix", "America/Chicago")
    assert found == at("2027-03-14T03:30", "America/Chicago")


def test_a_visit_over_the_hour_that_comes_twice_never_ends_before_it_starts(house: House) -> None:
    """On November 1, 2026, Chicago has the time from one to two twice; Phoenix does not."""
    starts = at("2026-11-01T01:50")
    visit = Visit.create(
        project=house.other_project, crew="Plumber", purpose="Watch", starts_at=starts, ends_at=starts + 20 * 60
    )
    project = Project.get_by_id(house.other_project)
    change_project(house.manager, house.other_project, project.version, {"timezone": "America/Phoenix"}, starts - 86400)
    after = Visit.get_by_id(visit.id)
    assert after.starts_at == at("2026-11-01T01:50", "America/Phoenix") < after.ends_at


def test_phases_of_which_nothing_is_expected_are_not_written(house: House) -> None:
    """Whoever has one of them open would otherwise be told that it was changed."""
    before = {row.id: row.version for row in Phase.select()}
    row = Project.get_by_id(house.project)
    change_project(house.office, house.project, row.version, {"timezone": "America/Denver"}, NOW)
    assert {row.id: row.version for row in Phase.select()} == before
