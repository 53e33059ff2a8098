"""How long the need-by dates stay as they are while nobody does anything: the clock alone moves them, when a visit is
over without a word, or work that should be done by now is not."""

from datetime import date

from portal.planning.calendar.week import CalendarError
from portal.planning.schedule.answer_dates import answer_dates
from portal.planning.schedule.critical_path import Schedule


def valid_until(pure: Schedule, longest: int) -> int:
    """Give the first instant at which a `needed_by` of an open decision may differ from that of `pure`; at most
    `pure.now + longest` (minutes). Before it, none does.

    Until the next visit is over, planned starts only move on with the clock and never back, so what is the same at two
    instants is the same between them.
    """
    end = min([pure.now + longest, *(visit.ends for visit in pure.plan.visits if visit.ends > pure.now)])
    dates = _dates(pure, pure.now)
    if _dates(pure, end - 1) == dates:
        return end
    same, other = pure.now, end - 1
    while other - same > 1:
        middle = (same + other) // 2
        if _dates(pure, middle) == dates:
            same = middle
        else:
            other = middle
    return other


def _dates(pure: Schedule, now: int) -> dict[int, date | None] | None:
    """`needed_by` of each open decision; None where the plan as it would stand then can't be computed."""
    open_ones = pure.plan.open_decisions
    try:
        found = answer_dates(pure.plan, now, pure.late)
    except CalendarError:
        return None
    return {one.decision: one.needed_by for one in found if one.decision in open_ones}
