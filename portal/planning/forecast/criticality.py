"""What drives the finish in how many futures: the share of them in which a phase, a decision or a delivery is on the
critical path.

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


@dataclass(frozen=True, slots=True)
class Shares:
    """By id, from 0 to 1. What is done, answered or arrived drives nothing any more and is left out."""

    phases: dict[int, float]
    decisions: dict[int, float]
    deliveries: dict[int, float]


def shares(found: Futures) -> Shares:
    drives = _driving(found)
    ordered = found.plan.ordered
    return Shares(
        {
            phase.id: _share(drives[position])
            for position, phase in enumerate(ordered) if phase.state != DONE
        },
        _decisions(found, drives),
        _deliveries(found, drives),
    )


def _driving(found: Futures) -> Marks:
    """A row a phase, a column a future. Backwards, so that who follows is known before those it follows."""
    ordered, network = found.plan.ordered, found.plan.network
    drives = np.zeros((len(ordered), found.count), np.bool_)
    for position in found.last:
        _ends(found, position, drives[position])
    hit = np.empty(found.count, np.bool_)
    for position in reversed(range(len(ordered))):
        if ordered[position].begun:
            continue
        for before, wait in network.before[position]:
            if ordered[before].state != DONE:
                _meets(found, before, wait, position, hit)
                np.logical_and(hit, drives[position], out=hit)
                np.logical_or(drives[before], hit, out=drives[before])
    return drives


def _ends(found: Futures, position: int, hit: Marks) -> None:
    """Where the phase is the last to be finished."""
    if found.clock:
        np.equal(found.moments(position), found.end, out=hit)
    else:
        np.equal(found.finish[position], found.crew_end, out=hit)


def _meets(found: Futures, before: int, wait: int, position: int, hit: Marks) -> None:
    """Where the phase starts the moment this link lets it."""
    moments = found.clock.get(position)
    if moments is None:
        np.equal(found.over(before, wait), found.start[position], out=hit)
    else:
        np.equal(found.moments(before) + np.int32(wait), moments, out=hit)


def _decisions(found: Futures, drives: Marks) -> dict[int, float]:
    plan = found.plan
    tomorrow = plan.calendar.add_days(plan.calendar.day_of(found.now) + timedelta(days=1), 0)
    counted = {}
    for decision, held in plan.held.items():
        later = plan.calendar.work_before(allowed_from(plan, tomorrow, plan.open_decisions[decision].lead_days))
        marks = np.zeros(found.count, np.bool_)
        for phase in held:
            position = plan.network.position[phase.id]
            marks |= drives[position] & (found.start[position] < later - found.minutes.first)
        counted[decision] = _share(marks)
    return counted


def _deliveries(found: Futures, drives: Marks) -> dict[int, float]:
    marked = {delivery: np.zeros(found.count, np.bool_) for delivery in found.arrivals}
    for position, phase in enumerate(found.plan.ordered):
        if phase.begun:
            continue
        for delivery, instants in found.deliveries(position):
            work = found.plan.calendar.work_at(instants) - found.minutes.first
            marked[delivery] |= drives[position] & (found.start[position] == work)
    return {delivery: _share(marks) for delivery, marks in marked.items()}


def _share(marks: Marks) -> float:
    return int(np.count_nonzero(marks)) / len(marks)
