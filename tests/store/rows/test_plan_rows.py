"""What phases follow, what holds them and what they wait for is replaced whole, and read back in order."""

import pytest
from peewee import IntegrityError

from portal.acts.entries import keep
from portal.store import tables
from portal.store.engine.database import write
from portal.store.rows import plan_rows
from tests.held import hold_by, hold_phase
from tests.house import NOW, House


def shuffle(house: House) -> list[int]:
    """Turn the plan around: neither ids nor the last changes of rows are its order. The phases as they stand then."""
    ids = list(reversed(house.phases.values()))
    for position, phase in enumerate(ids):
        tables.Phase.update(position=position // 2).where(tables.Phase.id == phase).execute()
    return sorted(ids, key=lambda phase: (ids.index(phase) // 2, phase))


def test_phases_come_as_they_stand_in_the_plan(house: House) -> None:
    in_order = shuffle(house)
    assert [phase.id for phase in plan_rows.phases(house.project)] == in_order
    asked = {house.phases[key] for key in ("out", "top", "drill", "walk")}
    assert [phase.id for phase in plan_rows.phases_with(asked)] == [one for one in in_order if one in asked]
    assert plan_rows.phases_with([]) == []


def test_rooms_come_in_their_order_and_phases_are_the_projects(house: House) -> None:
    tables.Room.update(position=9).where(tables.Room.id == house.rooms["kitchen"]).execute()
    assert [room.name for room in plan_rows.rooms(house.project)] == ["Hall bath", "Laundry room", "Kitchen"]
    assert [phase.id for phase in plan_rows.phases(house.project)] == list(house.phases.values())
    assert plan_rows.next_room_position(house.project) == 3 and plan_rows.next_room_position(house.other_project) == 0
    assert plan_rows.rooms(house.other_project) == [] and plan_rows.phases(house.other_project) == []


def test_a_new_phase_stands_last(house: House) -> None:
    assert (plan_rows.next_position(house.project), plan_rows.next_position(house.other_project)) == (15, 0)


def test_what_a_phase_follows_is_replaced_whole(house: House) -> None:
    walk, paint, sink = (house.phases[key] for key in ("walk", "paint", "sink"))
    before = [(house.phases[key], 0) for key in ("sink", "grout", "vanity", "shelves")]
    assert plan_rows.links_of(walk) == before
    with write():
        plan_rows.set_links(walk, [(paint, 90), (sink, 30), (paint, 60)])
    assert plan_rows.links_of(walk) == [(paint, 60), (sink, 30)]
    assert plan_rows.links_of(house.phases["drill"]) == [(house.phases["top"], 16 * 60)], "others keep theirs"


def test_holds_are_added_once_and_removed_only_where_the_record_says_so(house: House) -> None:
    drill, one, two = house.phases["drill"], house.decisions[1], house.decisions[2]
    with write():
        plan_rows.add_holds([(drill, two), (drill, one), (drill, two)])
    assert plan_rows.held_by(drill) == [one, two]
    assert plan_rows.held_phases(two) == [house.phases["grout"], drill]
    added = plan_rows.holds_of_phase(drill)[1]
    with pytest.raises(IntegrityError, match="only beside an entry"), write():
        plan_rows.remove_holds([added.id])
    lifted = [{"hold": added.id, "phase": drill, "name": "Drill", "decision": 2}]
    with write():
        keep(house.manager, house.project, "hold_lifted", {"lifted": lifted}, NOW)
        plan_rows.remove_holds([added.id])
    assert plan_rows.held_by(drill) == [one]


def test_a_phase_is_held_by_what_is_open_and_not_released_for_it(house: House) -> None:
    drill, sink, one, three = house.phases["drill"], house.phases["sink"], house.decisions[1], house.decisions[3]
    hold_phase(drill, [house.decisions[2], three, one])
    hold_phase(sink, [one])
    assert [row.number for row in plan_rows.decisions_holding(drill)] == [1, 2], "3 is approved"
    tables.Release.create(phase=drill, decision=one, reason="Agreed", staff=house.manager.id, at=NOW)
    assert [row.number for row in plan_rows.decisions_holding(drill)] == [2]
    assert [row.number for row in plan_rows.decisions_holding(sink)] == [1], "released for the other alone"
    assert plan_rows.was_released(drill) and not plan_rows.was_released(sink)


def test_phases_that_were_held_and_have_started_are_known(house: House) -> None:
    one = house.decisions[1]
    assert plan_rows.started_phases(one) == []
    hold_by(one, [house.phases[key] for key in ("drill", "out", "cabinets")])
    hold_by(house.decisions[2], [house.phases["rough"]])
    in_order = shuffle(house)
    started = [one for one in in_order if one in (house.phases["out"], house.phases["cabinets"])]
    assert [row.id for row in plan_rows.started_phases(one)] == started


def test_the_network_has_the_projects_phases_and_their_links(house: House) -> None:
    names, links = plan_rows.network(house.project)
    assert names[house.phases["walk"]] == "Walk through the work with you" and len(names) == 15
    assert (house.phases["drill"], house.phases["top"]) in links and len(links) == 15
    assert plan_rows.network(house.other_project) == ({}, [])


def test_the_phases_that_wait_for_a_delivery_are_replaced_whole(house: House) -> None:
    tile = tables.Delivery.get_by_id(house.deliveries["tile"])
    assert plan_rows.delivery_phases(tile.id) == [house.phases["splash"]]
    with write():
        plan_rows.set_delivery_phases(tile, [house.phases["paint"], house.phases["top"], house.phases["paint"]])
    assert plan_rows.delivery_phases(tile.id) == [house.phases["paint"], house.phases["top"]]
    assert plan_rows.delivery_phases(house.deliveries["stone"]) == [house.phases["top"]]


def test_what_a_phase_takes_is_replaced_whole_and_counts_no_version(house: House) -> None:
    out, rough = house.phases["out"], house.phases["rough"]
    takes = [{"service": "noise"}, {"service": "water", "until": "done"}]
    with write():
        plan_rows.set_takes(out, takes)
    found = tables.Phase.get_by_id(out)
    assert (found.takes, found.version) == (takes, 1) and tables.Phase.get_by_id(rough).takes == []


def test_nothing_holds_and_nothing_is_followed_where_it_was_taken_away(house: House) -> None:
    drill, one, tile = house.phases["drill"], house.decisions[1], tables.Delivery.get_by_id(house.deliveries["tile"])
    with write():
        plan_rows.set_links(drill, [])
        hold_phase(drill, [])
        plan_rows.set_delivery_phases(tile, [])
    assert (plan_rows.links_of(drill), plan_rows.held_by(drill), plan_rows.held_phases(one)) == ([], [], [])
    assert plan_rows.delivery_phases(tile.id) == []
    assert plan_rows.links_of(house.phases["sink"]) == [(drill, 24 * 60)], "what follows it still does"


def test_rows_come_as_they_were_added_whatever_was_changed_since(house: House) -> None:
    walk, tile = house.phases["walk"], tables.Delivery.get_by_id(house.deliveries["tile"])
    three = [house.phases[key] for key in ("shelves", "paint", "drill")]
    with write():
        plan_rows.set_links(walk, [(phase, 30) for phase in three])
        hold_by(house.decisions[5], three)
        hold_phase(walk, [house.decisions[number] for number in (5, 1, 4)])
        plan_rows.set_delivery_phases(tile, three)
    tables.PhaseLink.update(wait=45).where(tables.PhaseLink.after == three[0]).execute()
    tables.PhaseHold.update(phase=three[0]).where(tables.PhaseHold.phase == three[0]).execute()
    tables.PhaseHold.update(phase=walk).where(tables.PhaseHold.decision == house.decisions[5],
                                              tables.PhaseHold.phase == walk).execute()  # fmt: skip
    tables.DeliveryHold.update(phase=three[0]).where(tables.DeliveryHold.phase == three[0]).execute()
    assert plan_rows.links_of(walk) == [(three[0], 45), (three[1], 30), (three[2], 30)]
    assert plan_rows.held_phases(house.decisions[5]) == [*three, walk]
    assert plan_rows.held_by(walk) == [house.decisions[number] for number in (5, 1, 4)]
    assert plan_rows.delivery_phases(tile.id) == three
