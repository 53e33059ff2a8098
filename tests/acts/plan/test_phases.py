"""Phases of the plan: what they follow, in which place they stand, and what can't be said of them."""

from datetime import date
from typing import Any

import pytest

from portal.acts.plan.phases import add_phase, change_phase, remove_phase
from portal.acts.plan.starting import start_phase
from portal.acts.refusals import FieldRefused, NotFound, Stale
from portal.store.rows import plan_rows
from portal.store.tables import Phase, Visit
from tests.held import hold_phase
from tests.house import NOW, House

HOURS = {"work_low": 60, "work_likely": 90, "work_high": 150}


def add(house: House, **values: Any) -> Phase:
    return add_phase(house.manager, house.project, {"name": "Hang the mirror", **HOURS} | values, now=NOW)


def change(house: House, phase: Phase, seen: int | None = None, **values: Any) -> Phase:
    return change_phase(house.manager, house.project, phase.id, seen or phase.version, values, now=NOW)


def test_a_phase_is_added_behind_the_others(house: House) -> None:
    first = add(house, room=house.rooms["bath"], crew="Glazier", not_before=date(2026, 12, 14), note="Two people")
    assert (first.name, first.room_id, first.crew, first.not_before, first.note, first.state) == (
        "Hang the mirror", house.rooms["bath"], "Glazier", date(2026, 12, 14), "Two people", "waiting"
    )  # fmt: skip
    assert (first.work_low, first.work_likely, first.work_high) == (60, 90, 150)
    assert first.position == len(house.phases)
    assert add(house, name="Hang the lamp").position == len(house.phases) + 1
    assert add(house, name="Hang the towel rail", position=2).position == 2


def test_it_follows_others_with_their_waits(house: House) -> None:
    top, sink = house.phases["top"], house.phases["sink"]
    phase = add(house, after=[{"phase": top, "wait": 120}, {"phase": sink, "wait": 0}])
    assert plan_rows.links_of(phase.id) == [(top, 120), (sink, 0)]
    change(house, phase, after=[{"phase": sink, "wait": 30}])
    assert plan_rows.links_of(phase.id) == [(sink, 30)]
    change(house, Phase.get_by_id(phase.id), name="Hang both mirrors")
    assert plan_rows.links_of(phase.id) == [(sink, 30)]


def test_it_is_held_by_decisions(house: House) -> None:
    phase = add(house, held_by=[house.decisions[1], house.decisions[2]])
    assert plan_rows.held_by(phase.id) == [house.decisions[1], house.decisions[2]]


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"room": 10**6}, "room"), ({"after": [{"phase": 10**6, "wait": 0}]}, "after"),
        ({"held_by": [10**6]}, "held_by"), ({"takes": [{"service": "sink"}]}, "takes"),
        ({"name": "Set the stone top"}, "name"),
    ],
)  # fmt: skip
def test_what_is_not_there_is_refused_by_its_field(house: House, values: dict[str, Any], field: str) -> None:
    """In the laundry room there is no sink to take; and of two phases with one name nobody knows which is meant."""
    before = Phase.select().count()
    with pytest.raises(FieldRefused) as refused:
        add(house, **({"room": house.rooms["laundry"]} | values))
    assert refused.value.field == field
    assert Phase.select().count() == before
    phase = add(house, room=house.rooms["laundry"])
    with pytest.raises(FieldRefused) as refused:
        change(house, phase, **values)
    assert refused.value.field == field
    assert Phase.get_by_id(phase.id).version == phase.version


def test_a_phase_is_named_once_among_those_that_it_follows(house: House) -> None:
    top = house.phases["top"]
    with pytest.raises(FieldRefused, match="named twice") as refused:
        add(house, after=[{"phase": top, "wait": 0}, {"phase": top, "wait": 60}])
    assert refused.value.field == "after"


def test_phases_do_not_wait_for_each_other(house: House) -> None:
    top = Phase.get_by_id(house.phases["top"])
    with pytest.raises(FieldRefused, match="would wait for each other: .*Set the stone top") as refused:
        change(house, top, after=[{"phase": house.phases[one], "wait": 0} for one in ("cabinets", "sink")])
    assert refused.value.field == "after.1.phase", "the one that closes the loop"
    assert plan_rows.links_of(top.id) == [(house.phases["cabinets"], 0)]
    phase = add(house)
    with pytest.raises(FieldRefused, match="would wait"):
        change(house, phase, after=[{"phase": phase.id, "wait": 0}])


def test_only_what_takes_or_moves_is_asked_for_its_services(house: House) -> None:
    phase = add(house, room=house.rooms["kitchen"], takes=[{"service": "sink"}])
    with pytest.raises(FieldRefused) as refused:
        change(house, phase, room=house.rooms["laundry"])
    assert refused.value.field == "takes"
    Phase.update(takes=[{"service": "no_such_thing"}]).where(Phase.id == phase.id).execute()
    assert change(house, phase, crew="Glazier").crew == "Glazier"


def test_of_a_phase_only_what_is_its_own_is_changed(house: House) -> None:
    phase = add(house)
    changed = change(house, phase, crew="Glazier", state="done", started_at=NOW, remaining=30)
    assert (changed.crew, changed.state, changed.started_at, changed.remaining) == ("Glazier", "waiting", None, 30)


def test_who_has_seen_an_older_phase_changes_and_removes_nothing(house: House) -> None:
    phase = add(house)
    change(house, phase, crew="Glazier")
    with pytest.raises(Stale):
        change(house, phase, crew="Mason")
    with pytest.raises(Stale):
        remove_phase(house.manager, house.project, phase.id, phase.version, now=NOW)
    assert Phase.get_by_id(phase.id).crew == "Glazier"


def test_a_phase_goes_with_its_links_and_its_visits_stay(house: House) -> None:
    paint = Phase.get_by_id(house.phases["paint"])
    Phase.update(state="waiting").where(Phase.id == paint.id).execute()
    hold_phase(paint.id, [])
    remove_phase(house.manager, house.project, paint.id, paint.version, now=NOW)
    assert Phase.get_or_none(Phase.id == paint.id) is None
    assert plan_rows.links_of(house.phases["shelves"]) == []
    assert Visit.get_by_id(house.visits["paint"]).phase_id is None


def test_what_was_started_is_history_and_stays(house: House) -> None:
    cabinets = Phase.get_by_id(house.phases["cabinets"])
    with pytest.raises(FieldRefused, match="has been started and stays on the plan") as refused:
        remove_phase(house.manager, house.project, cabinets.id, cabinets.version, now=NOW)
    assert refused.value.field == "id"
    phase = start_phase(house.manager, house.project, add(house).id, now=NOW)
    with pytest.raises(FieldRefused):
        remove_phase(house.manager, house.project, phase.id, phase.version, now=NOW)


def test_the_phase_of_another_house_is_not_found(house: House) -> None:
    phase = add(house)
    with pytest.raises(NotFound):
        change_phase(house.manager, house.other_project, phase.id, phase.version, {"crew": "Mason"}, now=NOW)
    with pytest.raises(NotFound):
        remove_phase(house.manager, house.other_project, phase.id, phase.version, now=NOW)
    with pytest.raises(FieldRefused):
        add_phase(house.manager, house.other_project, {"name": "Mirror", **HOURS, "room": house.rooms["bath"]}, now=NOW)
    with pytest.raises(FieldRefused):
        add_phase(
            house.manager, house.other_project,
            {"name": "Mirror", **HOURS, "after": [{"phase": phase.id, "wait": 0}]}, NOW,
        )
    with pytest.raises(FieldRefused):
        add_phase(house.manager, house.other_project, {"name": "Mirror", **HOURS, "held_by": [house.decisions[1]]}, NOW)
