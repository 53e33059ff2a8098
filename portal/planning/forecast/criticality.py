"""What drives the finish in how many futures. The criticality index of a phase, a decision or a delivery is the share
of the futures in which it is on the critical path (Van Slyke 1963, from memory).

A phase drives where the chain from it to the finish has no gap: what it is followed by starts the moment it, or its
wait, lets it start. A decision drives where one more working day without an answer would start a driving phase later.
"""

from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from portal.planning.forecast.simulation import Futures
from portal.planning.schedule.plan import DONE
from portal.planning.schedule.ready_times import allowed_from

Marks = NDArray[np.bool_]
"""One a future, or a row a phase and a column a future."""


@dataclass(frozen=True, slots=True)
class Criticality:
    """Criticality indices by id, from 0 to 1. What is done, answered or arrived drives nothing any more and is left
    out."""

    phases: dict[int, float]
    decisions: dict[int, float]
    deliveries: dict[int, float]


def criticality(futures: Futures) -> Criticality:
    """Give the criticality index of each phase, open decision and delivery to come."""
    drives = _driving(futures)
    phases = {
        phase.id: _share(drives[position])
        for position, phase in enumerate(futures.plan.ordered) if phase.state != DONE
    }
    return Criticality(phases, _decisions(futures, drives), _deliveries(futures, drives))


def _driving(futures: Futures) -> Marks:
    """Backwards, so that who follows is known before those it follows."""
    plan = futures.plan
    drives = np.zeros((len(plan.ordered), futures.count), np.bool_)
    for position in reversed(range(len(plan.ordered))):
        if not plan.successors[position]:
            drives[position] = futures.finishes_at(position) == futures.finishes
        for before, wait in plan.predecessors[position]:
            if plan.ordered[before].state != DONE:
                drives[before] |= drives[position] & _meets(futures, before, wait, position)
    return drives


def _meets(futures: Futures, before: int, wait: int, position: int) -> Marks:
    """Where the phase starts the moment this link lets it."""
    if position in futures.moments:
        return np.asarray(futures.finishes_at(before) + wait == futures.moments[position])
    return np.asarray(futures.after(before, wait) == futures.start[position])


def _decisions(futures: Futures, drives: Marks) -> dict[int, float]:
    plan = futures.plan
    tomorrow = plan.calendar.add_days(plan.calendar.day_of(futures.now) + timedelta(days=1), 0)
    counted = {}
    for decision, held in plan.held.items():
        later = plan.calendar.work_before(allowed_from(plan, tomorrow, plan.open_decisions[decision].lead_days))
        marks = np.zeros(futures.count, np.bool_)
        for phase in held:
            position = plan.network.position[phase.id]
            marks |= drives[position] & (futures.start[position] < later)
        counted[decision] = _share(marks)
    return counted


def _deliveries(futures: Futures, drives: Marks) -> dict[int, float]:
    marked = {delivery: np.zeros(futures.count, np.bool_) for delivery in futures.arrivals}
    for position, phase in enumerate(futures.plan.ordered):
        if phase.begun:
            continue
        for delivery, instants in futures.deliveries_of(position):
            marked[delivery] |= drives[position] & (futures.start[position] == futures.plan.calendar.work_at(instants))
    return {delivery: _share(marks) for delivery, marks in marked.items()}


def _share(marks: Marks) -> float:
    return int(np.count_nonzero(marks)) / len(marks)
