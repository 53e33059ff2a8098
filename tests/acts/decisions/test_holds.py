"""Holds are set freely and dropped only when their decision is settled, from the phase's side and the decision's."""

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.holds import (
    dropping_fault,
    refuse_removing_held,
    set_holds_of_decision,
    set_holds_of_phase,
)
from portal.acts.plan.starting import release_phase, start_phase
from portal.acts.refusals import FieldRefused
from portal.store.engine.database import write
from portal.store.rows import plan_rows
from portal.store.tables import Phase
from tests.held import hold_phase
from tests.house import NOW, House


def phase(house: House, key: str = "drill") -> Phase:
    found: Phase = Phase.get_by_id(house.phases[key])
    return found


def yes(house: House, number: int = 1) -> None:
    approve(
        house.homeowner, house.project, house.decisions[number], revision=1, option="a", name=house.homeowner.name,
        now=NOW,
    )  # fmt: skip


def test_an_open_decision_is_not_dropped(house: House) -> None:
    fault = dropping_fault(phase(house), [house.decisions[1]])
    assert "is held by decision 1, which is not approved. Release it instead, with a reason." in fault
    assert fault.startswith("Drill the holes in the stone top")


def test_several_are_named_in_the_order_of_their_numbers(house: House) -> None:
    hold_phase(house.phases["drill"], [house.decisions[number] for number in (4, 1, 3)])
    fault = dropping_fault(phase(house), [house.decisions[n] for n in (1, 3, 4)])
    assert "decision 1 and decision 4" in fault


def test_nothing_dropped_is_no_fault(house: House) -> None:
    assert dropping_fault(phase(house), []) == ""
    assert dropping_fault(phase(house, "cabinets"), []) == ""


def test_another_open_decision_is_no_reason_to_keep_this_one(house: House) -> None:
    hold_phase(house.phases["drill"], [house.decisions[1], house.decisions[3]])
    assert dropping_fault(phase(house), [house.decisions[3]]) == ""


def test_an_approved_or_released_decision_may_go(house: House) -> None:
    yes(house)
    assert dropping_fault(phase(house), [house.decisions[1]]) == ""
    release_phase(house.manager, house.project, house.phases["grout"], reason="By phone", now=NOW)
    assert dropping_fault(phase(house, "grout"), [house.decisions[2]]) == ""


def test_of_work_that_has_started_no_hold_goes_at_all(house: House) -> None:
    yes(house)
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    assert "has started; what held it stays." in dropping_fault(phase(house), [house.decisions[1]])


def test_from_the_phases_side_what_stays_is_kept_and_what_comes_is_added(house: House) -> None:
    with write():
        both = [house.decisions[1], house.decisions[2]]
        set_holds_of_phase(house.manager, house.project, phase(house), both, "held_by", NOW)
    assert plan_rows.held_by(house.phases["drill"]) == [house.decisions[1], house.decisions[2]]
    with pytest.raises(FieldRefused, match="decision 2") as refused, write():
        set_holds_of_phase(house.manager, house.project, phase(house), [house.decisions[1]], "held_by", NOW)
    assert refused.value.field == "held_by"
    assert plan_rows.held_by(house.phases["drill"]) == [house.decisions[1], house.decisions[2]]


def test_from_the_decisions_side_each_phase_that_it_lets_go_is_asked(house: House) -> None:
    drill, top, sink = (house.phases[key] for key in ("drill", "top", "sink"))
    with write():
        set_holds_of_decision(house.manager, house.project, house.decisions[1], [drill, top, sink], "holds", NOW)
    assert plan_rows.held_phases(house.decisions[1]) == [drill, top, sink]
    with pytest.raises(FieldRefused, match="Set the stone top is held by decision 1") as refused, write():
        set_holds_of_decision(house.manager, house.project, house.decisions[1], [drill, sink], "holds", NOW)
    assert refused.value.field == "holds"
    assert plan_rows.held_phases(house.decisions[1]) == [drill, top, sink]
    yes(house)
    with write():
        set_holds_of_decision(house.manager, house.project, house.decisions[1], [drill], "holds", NOW)
    assert plan_rows.held_phases(house.decisions[1]) == [drill]


def test_a_phase_is_not_taken_off_and_put_back_without_its_hold(house: House) -> None:
    with pytest.raises(FieldRefused, match="Release it instead") as refused:
        refuse_removing_held(phase(house))
    assert refused.value.field == "id"
    release_phase(house.manager, house.project, house.phases["drill"], reason="By phone", now=NOW)
    with pytest.raises(FieldRefused, match="was released without an approval. That is on the record") as refused:
        refuse_removing_held(phase(house))
    assert refused.value.field == "id"


@pytest.mark.parametrize("key", ["top", "vanity"])
def test_what_is_not_held_or_approved_may_go(house: House, key: str) -> None:
    refuse_removing_held(phase(house, key))
