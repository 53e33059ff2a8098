"""What the household must be told: nights and days without the necessary, and a finish that has moved."""

from collections.abc import Iterator
from datetime import date, timedelta

from portal.planning.day_list import Due
from portal.planning.household.nights import Shortfall, shortfalls
from portal.planning.moves.replay import Move
from portal.planning.schedule.critical_path import Schedule
from portal.store.facts import Snapshot
from portal.store.reading.finish.moves import MovedFinish, moved_finish
from portal.store.reading.project_plan import household_of
from portal.store.reading.today.matters import MOVED, NIGHT, Matter

AHEAD = timedelta(days=7)
LATELY = timedelta(days=7)
"""For so long a finish that moved is news."""


def telling_matters(
    snapshot: Snapshot, pure: Schedule, booked: Schedule, moved: MovedFinish | None
) -> Iterator[Matter]:
    """`moved`: what moved the finish, where that is known already."""
    if not snapshot.phases:
        return
    today = pure.plan.calendar.day_of(pure.now)
    yield from _nights(snapshot, booked, today)
    moved = moved or moved_finish(snapshot, pure)
    moves = [move for move in moved.moves if move.day > today - LATELY]
    if moves and moves[0].before != moves[-1].after:
        yield _moved(snapshot, moves, today)


def _nights(snapshot: Snapshot, booked: Schedule, today: date) -> Iterator[Matter]:
    """Those that begin on one day are one matter; what began before today is told by its page, or too late."""
    begin: dict[date, list[Shortfall]] = {}
    for one in shortfalls(household_of(snapshot, booked), today):
        since = booked.plan.calendar.day_of(one.since)
        if since >= today:
            begin.setdefault(since, []).append(one)
    for since, together in begin.items():
        by = min(one.tell_by for one in together)
        yield Matter(NIGHT, f"{since}", Due(by, by - AHEAD), {"nights": [_night(one) for one in together]})


def _night(one: Shortfall) -> dict[str, object]:
    return {
        "kind": one.kind, "first": f"{one.first}", "last": f"{one.last}", "by_day": one.by_day,
        "hours": [moment.isoformat() for moment in one.hours] if one.hours else None,
        "why": [list(why) for why in one.why],
    }


def _moved(snapshot: Snapshot, moves: list[Move], today: date) -> Matter:
    """With all that moved it lately: which of them is told follows from what the household knows."""
    about = {name for move in moves for name in move.cause.about}
    numbers = {f"{one.number}": one.question for one in snapshot.decisions if f"{one.number}" in about}
    return Matter(MOVED, "finish", Due(), {
        "before": f"{moves[0].before}", "finish": f"{moves[-1].after}", "asked": numbers, "moves": [
            [f"{move.day}", f"{move.before}", f"{move.after}", move.cause.kind, move.cause.did, list(move.cause.about),
             move.cause.reason] for move in moves],
    })  # fmt: skip
