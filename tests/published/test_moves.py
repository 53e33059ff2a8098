"""What moved the finish, checked by hand against the published floats of a textbook network.

E3: Hillier & Lieberman, Introduction to Operations Research, "Reliable Construction Co." (check-values section 1): 44
days, total floats D, G, H, M 4, I 2, K 1 and none for the rest. An activity that takes longer than planned moves the
finish by what its float does not take up, so the days that each one is charged follow from the published table.
"""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from portal.planning.moves.replay import PLAN, Cause, Change, done_day, replayed
from portal.planning.schedule.plan import Phase, Plan
from tests.published.examples import ALWAYS, HILLIER, number, read_table

FLOATS = {"D": 4, "G": 4, "H": 4, "M": 4, "I": 2, "K": 1}
DAY = 24 * 60
FIRST = date(2026, 6, 1)


def network() -> Plan:
    """The table in days, from a midnight on."""
    plan = read_table(HILLIER)
    phases = tuple(_taking(phase, phase.likely * 24) for phase in plan.phases)
    return replace(plan, phases=phases, starts=ALWAYS.day_start(FIRST))


def _taking(phase: Phase, minutes: int) -> Phase:
    return replace(phase, low=minutes, likely=minutes, high=minutes)


def longer(plan: Plan, name: str, days: int) -> Plan:
    return replace(plan, phases=tuple(
        _taking(one, one.likely + days * DAY) if one.id == number(name) else one for one in plan.phases
    ))  # fmt: skip


def charged(*delays: tuple[str, int]) -> list[tuple[str, int]]:
    """Who moved the finish by how many days, one after another, all on the first day."""
    plan, changes = network(), []
    for name, days in delays:
        plan = longer(plan, name, days)
        changes.append(Change(plan.starts, plan, Cause(PLAN, f"{name} takes longer", (name,))))
    _, moves = replayed(network(), plan.starts, changes, plan.starts)
    return [(move.cause.about[0], move.days) for move in moves]


def test_the_plan_is_done_after_44_days() -> None:
    assert done_day(network(), network().starts) == FIRST + timedelta(days=43)


@pytest.mark.parametrize("name", "ABCDEFGHIJKLMN")
def test_a_delay_is_charged_with_what_its_published_float_does_not_take_up(name: str) -> None:
    free = FLOATS.get(name, 0)
    assert charged((name, free)) == []
    assert charged((name, free + 3)) == [(name, 3)]


def test_causes_of_one_day_are_each_charged_with_their_own_part() -> None:
    """Worked by hand. K has 1 day of float: 3 more move the finish by 2. J begins on day 25, after F; I ends on day 23
    and has 2 days before J: 5 more hold J up by 3. G, H and M have 4 days together, and by then 5 more:
    4 more of G cost nothing, 12 more of H move the finish by what is beyond the last 5 days."""
    assert charged(("K", 3), ("I", 5), ("G", 4), ("H", 12)) == [("K", 2), ("I", 3), ("H", 7)]


def test_the_order_of_two_delays_decides_who_is_charged_and_not_how_much_in_all() -> None:
    one, two = charged(("K", 3), ("L", 2)), charged(("L", 2), ("K", 3))
    assert one == [("K", 2)] and two == [("L", 2)]
