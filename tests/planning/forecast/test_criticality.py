"""Criticality indices by hand: a few futures with known times, counted out."""

from datetime import date

import numpy as np
import pytest

from portal.planning.forecast.criticality import Criticality, criticality
from portal.planning.forecast.simulation import simulate_with
from portal.planning.schedule.plan import DONE, UNDER_WAY, Decision, Delivery, Phase
from tests.planning.homes import CREW
from tests.planning.houses import DAY, at, phase, plan_of

START = "2026-12-01 08:00"  # a Tuesday
EIGHT = at(CREW, START)


def found(
    *phases: Phase, work: list[list[int]], arrivals: dict[int, list[str]] | None = None, **more: object
) -> Criticality:
    moments = {number: np.array([at(CREW, when) for when in days]) for number, days in (arrivals or {}).items()}
    return criticality(simulate_with(plan_of(CREW, START, phases, **more), EIGHT, np.array(work, np.int64), moments))


def test_the_share_is_that_of_the_futures_in_which_it_is_the_longest() -> None:
    """Of four futures the first phase takes longest in three, in one of them together with the second."""
    of = found(phase(1, 1), phase(2, 1), work=[[90, 90, 60, 30], [60, 30, 60, 90]])
    assert of.phases == {1: 0.75, 2: 0.5}


def test_a_chain_drives_only_without_a_gap() -> None:
    """Phase 3 follows both; only the longer one of them made it wait."""
    of = found(phase(1, 1), phase(2, 1), phase(3, 1, [1, 2]), work=[[90, 30], [60, 60], [45, 45]])
    assert of.phases == {1: 0.5, 2: 0.5, 3: 1.0}


def test_a_wait_that_ends_in_the_night_drives_the_morning() -> None:
    """Twelve hours after 9 am or 4 pm: over in the evening or in the night; beside it a day, or all but a day, is
    worked."""
    of = found(phase(1, 1), phase(2, 1), phase(3, 1, [(1, 12 * 60), 2]), work=[[60, 480], [DAY, 60], [30, 30]])
    assert of.phases == {1: 1.0, 2: 0.5, 3: 1.0}


def test_by_the_clock_the_moment_must_be_met_to_the_minute() -> None:
    """The hand-over is 24 hours after the later one; nothing else is as late as that."""
    of = found(phase(1, 1), phase(2, 1), phase(3, 0, [(1, 1_440), (2, 1_440)]), work=[[60, 90], [61, 89], [0, 0]])
    assert of.phases == {1: 0.5, 2: 0.5, 3: 1.0}


def test_what_is_done_is_left_out_and_drives_nothing() -> None:
    done = phase(1, 1, state=DONE, started=EIGHT - 60, finished=EIGHT)
    of = found(done, phase(2, 1, [1]), work=[[0], [60]])
    assert of.phases == {2: 1.0}


def test_what_is_followed_by_begun_work_only_drives_when_it_ends_last() -> None:
    begun = phase(2, 60, [1], state=UNDER_WAY, started=EIGHT)
    of = found(phase(1, 1), begun, work=[[90, 30], [60, 60]])
    assert of.phases == {1: 0.5, 2: 0.5}


@pytest.mark.parametrize(
    ("lead", "share"),
    [
        (1, 0.5),  # an answer tomorrow allows Thursday; in one of two futures phase 1 keeps it until then anyway
        (0, 0.0),  # an answer tomorrow still allows Wednesday
        (5, 1.0),
    ],
)
def test_a_decision_is_critical_where_another_day_without_an_answer_would_cost_one(lead: int, share: float) -> None:
    """Phase 2 follows phase 1, which takes Tuesday, or Tuesday and Wednesday."""
    of = found(
        phase(1, 1), phase(2, 1, [1], held_by=(7,)), work=[[DAY, 2 * DAY], [60, 60]], decisions=(Decision(7, 1, lead),)
    )
    assert of.decisions == {7: share}


def test_a_decision_that_holds_what_does_not_drive_is_not_critical() -> None:
    of = found(
        phase(1, 1, held_by=(7,)), phase(2, 1), work=[[60], [5 * DAY]], decisions=(Decision(7, 1, 1), Decision(8, 2, 1))
    )
    assert of.decisions == {7: 0.0, 8: 0.0}


def test_of_two_held_phases_either_makes_the_decision_critical() -> None:
    of = found(
        phase(1, 1, held_by=(7,)), phase(2, 1, held_by=(7,)), work=[[60, 90, 60], [90, 60, 60]],
        decisions=(Decision(7, 1, 1),),
    )
    assert of.phases == {1: 2 / 3, 2: 2 / 3}
    assert of.decisions == {7: 1.0}


def test_a_delivery_is_critical_where_its_phase_starts_the_moment_it_is_at_hand() -> None:
    """It comes on Wednesday, on Thursday, and on Tuesday: then phase 1, not the delivery, keeps phase 2 waiting."""
    coming = Delivery(4, (2,), date(2026, 12, 1), date(2026, 12, 2), date(2026, 12, 4))
    of = found(
        phase(1, 1), phase(2, 1, [1]), work=[[60, 60, DAY + 60], [60, 60, 60]], deliveries=(coming,),
        arrivals={4: ["2026-12-03 00:00", "2026-12-04 00:00", "2026-12-02 00:00"]},
    )
    assert of.deliveries == {4: 2 / 3}
    assert of.phases == {1: 1 / 3, 2: 1.0}


def test_a_delivery_to_work_that_has_begun_is_not_critical() -> None:
    coming = Delivery(4, (1,), date(2026, 12, 1), date(2026, 12, 1), date(2026, 12, 2))
    begun = phase(1, 60, state=UNDER_WAY, started=EIGHT)
    of = found(begun, work=[[60]], deliveries=(coming,), arrivals={4: ["2026-12-01 08:00"]})
    assert of.deliveries == {4: 0.0}
