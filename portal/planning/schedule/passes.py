"""Forward and backward pass over plain lists: what the schedule, the late answers and the holds are computed with.

Everything runs in work coordinates of the calendar, so that a link without a wait is one comparison and no calendar is
asked. Instants are needed only where the clock matters: at links with a wait, and for phases without work, which
happen at a moment of the clock (a cure is over on Saturday) rather than in crew hours.

Each list starts with constants, the *floors*: a phase is bound from below by its floors as it is by those it follows.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.network import Network, WaitLink

Whole = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Particular:
    """What needs the clock in a row: waits, or (`clock`) a phase that has no work and is bound by `plain`, too."""

    at: int
    plain: tuple[int, ...]
    waits: tuple[WaitLink, ...]
    clock: bool


Rest = tuple[tuple[int, ...], Particular | None]
Row = tuple[int, int, int, Rest | None, int]
"""Three places that bind it (the second and third 0 when there are fewer), the rest of them with what needs the clock,
its work. Most phases are done with three, and are spared a loop."""


@dataclass(frozen=True, slots=True)
class Rows:
    """A network made ready for the passes. Place of phase i: `floors + i` forward, `phases - i` backward.

    `last`: phases that nobody waits for. `wait_columns`: phase before, phase after, wait. `work`: by phase, and 0 for
    the end. `followers`: phases that follow without a wait (the end, where there is none), those of phase i from
    `first_follower[i]` on.
    """

    floors: int
    forward: tuple[Row, ...]
    backward: tuple[Row, ...]
    clocked: tuple[int, ...]
    last: tuple[int, ...]
    waits: bool
    wait_columns: tuple[Whole, Whole, Whole]
    work: Whole
    followers: Whole = field(repr=False)
    first_follower: Whole = field(repr=False)

    @classmethod
    def of(
        cls,
        network: Network,
        work: Sequence[int],
        clocked: Collection[int],
        own: Mapping[int, int],
        begun: Collection[int],
    ) -> "Rows":
        """`own`: the floor of a phase that has its own; the others share floor 0. `begun` phases are bound by their
        floor alone: what they follow no longer matters to them."""
        phases, floors = len(work), 1 + len(own)
        before = [() if i in begun else network.before[i] for i in range(phases)]
        after = [tuple(link for link in network.after[i] if link[0] not in begun) for i in range(phases)]
        forward = tuple(
            _row(
                floors + i, [(floors + j, wait) for j, wait in before[i]], i in clocked, work[i],
                own.get(i, 0), above=all(link[0] in begun for link in before[i] if not link[1]),
            )
            for i in range(phases)
        )
        backward = tuple(
            _row(phases - i, [(phases - j, wait) for j, wait in after[i]], i in clocked, work[i])
            for i in reversed(range(phases))
        )
        plain = [[j for j, wait in links if not wait] or [phases] for links in after]
        waits = np.array([(i, j, wait) for i, links in enumerate(after) for j, wait in links if wait], np.int64)
        return cls(
            floors, forward, backward, tuple(sorted(clocked)),
            tuple(i for i, links in enumerate(after) if not links), bool(len(waits)),
            _columns(waits),
            np.array([*work, 0], np.int64),
            np.array([j for links in plain for j in links], np.int64),
            np.cumsum([0, *(len(links) for links in plain[:-1])], dtype=np.int64),
        )


def _columns(links: Whole) -> tuple[Whole, Whole, Whole]:
    before, after, wait = links.reshape(-1, 3).T
    return before, after, wait


def _row(
    at: int, links: Sequence[WaitLink], clock: bool, work: int, floor: int = 0, above: bool = False
) -> Row:
    """`above`: the floor may lie above all it follows. The shared floor never does, once one of those is to come."""
    plain = [place for place, wait in links if not wait]
    waits = tuple(link for link in links if link[1])
    places = plain if plain and not (floor or above or clock) else [floor, *plain]
    first, second, third, *more = [*places, 0, 0] if len(places) < 3 else places
    if clock:
        return first, 0, 0, ((), Particular(at, tuple(places), waits, True)), 0
    more = [place for place in more if place]
    particular = Particular(at, (), waits, False) if waits else None
    return first, second, third, (tuple(more), particular) if more or waits else None, work


@dataclass(slots=True)
class Forward:
    """`finish[place]`: work coordinate of the early finish. `clock[place]`: instants of floors and clocked phases."""

    finish: list[int]
    clock: dict[int, int]


def forward(rows: Sequence[Row], floors: Sequence[int], clock: Mapping[int, int], calendar: WorkCalendar) -> Forward:
    """`floors`: work coordinates, the first the shared one; `clock`: the same as instants."""
    sweep = Forward(list(floors), dict(clock))
    finish = sweep.finish
    append = finish.append
    for first, second, third, rest, work in rows:
        start = finish[first]
        if second and finish[second] > start:
            start = finish[second]
        if third and finish[third] > start:
            start = finish[third]
        if rest:
            more, particular = rest
            for place in more:
                other = finish[place]
                if other > start:
                    start = other
            if particular:
                start = _early(particular, start, sweep, calendar)
        append(start + work)
    return sweep


def _early(row: Particular, start: int, sweep: Forward, calendar: WorkCalendar) -> int:
    finish, clock = sweep.finish, sweep.clock
    if row.clock:
        moment = max(
            max(finished(place, sweep, calendar) for place in row.plain),
            max((finished(place, sweep, calendar) + wait for place, wait in row.waits), default=0),
        )
        clock[row.at] = moment
        return calendar.work_before(moment)
    for place, wait in row.waits:
        known = clock.get(place)
        over = calendar.work_after_wait(finish[place], wait) if known is None else calendar.work_before(known + wait)
        if over > start:
            start = over
    return start


def finished(place: int, sweep: Forward, calendar: WorkCalendar) -> int:
    """The instant at which the phase in this place is finished at the earliest."""
    moment = sweep.clock.get(place)
    return calendar.finish_of(sweep.finish[place]) if moment is None else moment


@dataclass(slots=True)
class Backward:
    """`start[place]`: work coordinate of the late start; place 0 is the end. `clock[place]`: late instants."""

    start: list[int]
    clock: dict[int, int]


def backward(rows: Sequence[Row], end: int, calendar: WorkCalendar) -> Backward:
    """`end`: the instant of the finish that is to be kept."""
    sweep = Backward([calendar.work_before(end)], {0: end})
    start = sweep.start
    append = start.append
    for first, second, third, rest, work in rows:
        finish = start[first]
        if second and start[second] < finish:
            finish = start[second]
        if third and start[third] < finish:
            finish = start[third]
        if rest:
            more, particular = rest
            for place in more:
                other = start[place]
                if other < finish:
                    finish = other
            if particular:
                finish = _late(particular, finish, sweep, calendar)
        append(finish - work)
    return sweep


def _late(row: Particular, finish: int, sweep: Backward, calendar: WorkCalendar) -> int:
    start, clock = sweep.start, sweep.clock
    if row.clock:
        moment = min(
            min(_must_start(place, sweep, calendar) for place in row.plain),
            min((_must_start(place, sweep, calendar) - wait for place, wait in row.waits), default=clock[0]),
        )
        clock[row.at] = moment
        return calendar.work_before(moment)
    for place, wait in row.waits:
        known = clock.get(place)
        latest = calendar.work_before_wait(start[place], wait) if known is None else calendar.work_before(known - wait)
        if latest < finish:
            finish = latest
    return finish


def _must_start(place: int, sweep: Backward, calendar: WorkCalendar) -> int:
    moment = sweep.clock.get(place)
    return calendar.start_of(sweep.start[place]) if moment is None else moment
