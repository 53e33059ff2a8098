"""The plan's rows: what a new one says of itself, what must be told apart, and what goes with what."""

from datetime import date

import pytest

from portal.store import tables
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database
from tests.unguarded import unguard

WORK = {"work_low": 60, "work_likely": 90, "work_high": 150}


def test_a_new_phase_waits_for_nobody_and_has_not_begun(house: House) -> None:
    made = tables.Phase.create(project=house.project, name="Sweep", **WORK)
    found = tables.Phase.get_by_id(made.id)
    assert (found.state, found.crew, found.note, found.starter) == ("waiting", "", "", "")
    assert (found.position, found.rested, found.takes, found.version) == (0, 0, [], 1)
    unset = ("room_id", "not_before", "started_at", "finished_at", "remaining", "inspection_at", "stopped_at",
             "resumes_at")  # fmt: skip
    assert [getattr(found, name) for name in unset] == [None] * len(unset)
    assert (found.work_low, found.work_likely, found.work_high) == (60, 90, 150)


def test_a_phase_has_its_name_alone_in_its_project(house: House) -> None:
    with refused_by_the_database("(?i)unique"):
        tables.Phase.create(project=house.project, name="Paint the laundry room", **WORK)
    assert tables.Phase.create(project=house.other_project, name="Paint the laundry room", **WORK).id


def test_a_phase_follows_another_once_and_at_once(house: House) -> None:
    walk, paint = house.phases["walk"], house.phases["paint"]
    made = tables.PhaseLink.create(phase=walk, after=paint)
    assert tables.PhaseLink.get_by_id(made.id).wait == 0
    with refused_by_the_database("(?i)unique"):
        tables.PhaseLink.create(phase=walk, after=paint, wait=60)
    tables.PhaseLink.create(phase=paint, after=walk)  # no two of one name; that it is a loop is for the plan to say


@pytest.mark.parametrize("key", ["splash", "grout"])
def test_a_phase_goes_with_its_links_on_either_side_and_leaves_its_visits(house: House, key: str) -> None:
    phase = house.phases[key]
    visit = tables.Visit.create(project=house.project, phase=phase, crew="Tile setter", purpose="Look", starts_at=NOW,
                                ends_at=NOW + 60)  # fmt: skip
    unguard("phase_hold")
    tables.Phase.delete().where(tables.Phase.id == phase).execute()
    links = tables.PhaseLink.select()
    assert links.where((tables.PhaseLink.phase == phase) | (tables.PhaseLink.after == phase)).count() == 0
    assert tables.PhaseHold.select().where(tables.PhaseHold.phase == phase).count() == 0
    assert tables.DeliveryHold.select().where(tables.DeliveryHold.phase == phase).count() == 0
    assert tables.Visit.get_by_id(visit.id).phase_id is None, "whoever comes still comes"
    assert tables.Decision.get_by_id(house.decisions[2]) and tables.Delivery.get_by_id(house.deliveries["tile"])


def test_a_new_visit_is_not_cancelled_and_was_not_changed_since_that_is_kept(house: House) -> None:
    made = tables.Visit.create(
        project=house.project, crew="Glazier", purpose="Measure", starts_at=4_102_444_800, ends_at=4_102_448_400
    )
    found = tables.Visit.get_by_id(made.id)
    assert (found.phase_id, found.cancelled_at, found.cancelled_because, found.changed_at) == (None, None, "", 0)
    assert (found.starts_at, found.ends_at, found.version) == (4_102_444_800, 4_102_448_400, 1)


def test_a_new_delivery_has_not_arrived_and_holds_a_phase_once(house: House) -> None:
    days = {"expected_low": date(2027, 1, 4), "expected_on": date(2027, 1, 6), "expected_high": date(2027, 1, 12)}
    made = tables.Delivery.create(project=house.project, item="Brackets", **days)
    found = tables.Delivery.get_by_id(made.id)
    assert (found.arrived_at, found.note, found.version) == (None, "", 1)
    assert [found.expected_low, found.expected_on, found.expected_high] == list(days.values())
    tables.DeliveryHold.create(delivery=made.id, phase=house.phases["shelves"])
    with refused_by_the_database("(?i)unique"):
        tables.DeliveryHold.create(delivery=made.id, phase=house.phases["shelves"])
    tables.Delivery.delete().where(tables.Delivery.id == made.id).execute()
    assert tables.DeliveryHold.select().where(tables.DeliveryHold.delivery == made.id).count() == 0
