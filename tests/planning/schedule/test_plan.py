"""What the schedule is computed from, and what follows from it by itself."""

from dataclasses import replace
from datetime import date

import pytest

from portal.planning.schedule.plan import (
    DONE,
    INSPECTION,
    STATES,
    STOPPED,
    UNDER_WAY,
    Decision,
    Delivery,
    Phase,
    Plan,
    PlanError,
    Predecessor,
    Visit,
)
from tests.planning.homes import CREW
from tests.planning.houses import at, phase, plan_of

START = "2026-12-01 08:00"
EIGHT = at(CREW, START)
BEGUN = {"state": UNDER_WAY, "started": EIGHT}


def plan(*phases: Phase, **more: object) -> Plan:
    return plan_of(CREW, START, phases, **more)


@pytest.mark.parametrize(
    ("points", "minutes"),
    [
        ((60, 60, 60), 60),
        ((60, 120, 240), 130),  # (60 + 480 + 240) / 6
        ((0, 0, 1), 0),  # 1/6
        ((0, 0, 3), 1),  # a half is rounded up
        ((0, 1, 4), 1),  # 8/6
        ((1, 2, 2), 2),  # 11/6
        ((0, 0, 0), 0),
    ],
)
def test_the_expected_work_is_the_pert_mean_to_the_minute(points: tuple[int, int, int], minutes: int) -> None:
    assert Phase(1, "tile", *points).expected == minutes


def test_a_released_hold_holds_no_more() -> None:
    held = Phase(1, "drill", 1, 1, 1, held_by=(7, 8, 9), released=(8,))
    assert held.holds == (7, 9)


def test_everything_but_waiting_is_begun() -> None:
    known = {"started": EIGHT, "finished": EIGHT}
    begun = {state: phase(1, 60, state=state, **known).begun for state in STATES}
    assert begun == {"waiting": False, "under_way": True, "stopped": True, "inspection": True, "done": True}


@pytest.mark.parametrize(
    ("wrong", "field", "words"),
    [
        ({"low": 70}, "work", "set the top: give low, likely and high in rising order, not below 0"),
        ({"high": 50}, "work", "set the top: give low, likely and high in rising order, not below 0"),
        ({"low": -5}, "work", "set the top: give low, likely and high in rising order, not below 0"),
        ({"state": "resting"}, "state",
         "set the top: 'resting' is none of waiting, under_way, stopped, inspection, done"),
        ({"state": DONE}, "finished", "set the top is done; say when it finished"),
        ({"state": UNDER_WAY}, "started", "set the top has been started; say when"),
        ({"state": STOPPED}, "started", "set the top has been started; say when"),
        ({"state": DONE, "started": 9, "finished": 8}, "finished", "set the top would finish before it started"),
        ({"after": (Predecessor(1, -1),)}, "after", "set the top: a wait can't be below 0"),
    ],
)
def test_a_phase_that_contradicts_itself_is_refused(wrong: dict[str, object], field: str, words: str) -> None:
    values = {"low": 60, "likely": 60, "high": 60, **wrong}
    with pytest.raises(PlanError) as refused:
        plan(Phase(1, "set the top", **values))  # type: ignore[arg-type]
    assert (refused.value.field, refused.value.message) == (field, words)
    assert str(refused.value) == f"{field}: {words}"


@pytest.mark.parametrize(
    "fine",
    [
        {"low": 0, "likely": 0, "high": 0},
        {"state": DONE, "started": 8, "finished": 8},
        {"state": DONE, "finished": 8},
        {"state": INSPECTION},
        {"after": (Predecessor(2, 0),)},
    ],
)
def test_what_does_not_contradict_itself_is_taken(fine: dict[str, object]) -> None:
    values = {"low": 60, "likely": 60, "high": 60, **fine}
    plan(Phase(1, "set the top", **values), phase(2, 60))  # type: ignore[arg-type]


def test_two_phases_of_one_id_are_refused() -> None:
    with pytest.raises(PlanError, match="phases: two phases have the same id"):
        plan(phase(1, 60), phase(1, 30))


def test_a_delivery_to_a_phase_that_is_not_there_is_refused() -> None:
    with pytest.raises(PlanError, match="deliveries: phase 9 is not in this plan"):
        plan(phase(1, 60), deliveries=(Delivery(1, (1, 9), *[date(2026, 12, 3)] * 3),))


def test_what_a_phase_follows_binds_it_until_it_has_begun() -> None:
    waiting = plan(phase(1, 60), phase(2, 60, [1]), phase(3, 60, [(1, 90), 2]))
    assert waiting.predecessors == ((), ((0, 0),), ((0, 90), (1, 0)))
    assert waiting.successors == (((1, 0), (2, 90)), ((2, 0),), ())
    begun = plan(phase(1, 60), phase(2, 60, [1], **BEGUN), phase(3, 60, [(1, 90), 2]))
    assert begun.predecessors == ((), (), ((0, 90), (1, 0)))
    assert begun.successors == (((2, 90),), ((2, 0),), ())


def test_work_is_what_is_still_to_begin() -> None:
    made = plan(phase(1, 60, **BEGUN), phase(2, 45), phase(3, 0))
    assert made.work == (0, 45, 0)


def test_what_happens_by_the_clock() -> None:
    """No work, or an event that nobody works for; a phase under way without work is still at work."""
    made = plan(
        phase(1, 60), phase(2, 0), phase(3, 60, state=DONE, finished=EIGHT), phase(4, 60, state=INSPECTION),
        phase(5, 60, **BEGUN), phase(6, 0, **BEGUN),
    )
    assert made.by_clock == {1, 2, 3}


def test_open_decisions_hold_what_has_not_begun() -> None:
    phases = (
        phase(1, 60, held_by=(7,)), phase(2, 60, held_by=(7, 8)), phase(3, 60, held_by=(7,), **BEGUN),
        phase(4, 60, held_by=(7,), released=(7,)), phase(5, 60, held_by=(9,)),
    )
    made = plan(*phases, decisions=(Decision(7, 1), Decision(8, 2), Decision(9, 3, open=False), Decision(10, 4)))
    assert {decision: [one.id for one in held] for decision, held in made.held.items()} == {7: [1, 2], 8: [2], 10: []}
    assert set(made.open_decisions) == {7, 8, 10}


def test_of_the_answered_those_count_whose_day_is_known() -> None:
    day = date(2026, 11, 30)
    decisions = (
        Decision(7, 1, open=False, answered=day), Decision(8, 2, open=False), Decision(9, 3, open=True, answered=day),
    )
    assert set(plan(phase(1, 60), decisions=decisions).answered) == {7}


def test_deliveries_are_found_by_the_phases_that_wait_for_them() -> None:
    tile, faucet = (Delivery(n, phases, *[date(2026, 12, 3)] * 3) for n, phases in ((1, (1, 2)), (2, (2,))))
    made = plan(phase(1, 60), phase(2, 60), phase(3, 60), deliveries=(tile, faucet))
    assert made.delivered_to == {1: [tile], 2: [tile, faucet]}


def test_the_next_visit_is_the_first_that_is_not_over() -> None:
    visits = tuple(
        Visit(n, "stone", EIGHT + start, EIGHT + start + 60, phase=of)
        for n, (start, of) in enumerate([(600, 1), (0, 1), (300, 1), (300, None), (0, 2)])
    )
    made = plan(phase(1, 60), phase(2, 60, **BEGUN), visits=visits)
    assert made.next_visits(EIGHT) == {1: EIGHT}
    assert made.next_visits(EIGHT + 59) == {1: EIGHT}, "under way is not over"
    assert made.next_visits(EIGHT + 60) == {1: EIGHT + 300}
    assert made.next_visits(EIGHT + 700) == {}


def test_positions_are_those_of_the_network_and_ids_those_of_the_table() -> None:
    made = plan(phase(5, 60, [3]), phase(3, 30))
    assert [one.id for one in made.ordered] == [3, 5]
    assert list(made.by_id) == [5, 3]
    assert made.work == (30, 60)


def test_a_changed_copy_derives_anew() -> None:
    made = plan(phase(1, 60, held_by=(7,)), decisions=(Decision(7, 1),))
    assert made.held[7]
    assert replace(made, decisions=(Decision(7, 1, open=False),)).held == {}
