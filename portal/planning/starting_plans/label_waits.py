"""Waits of a plan to start from that are on no table but on a label: which ones, and the plan with them entered."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from portal.planning.household.cure_times import CureTable
from portal.planning.household.services import Take
from portal.planning.starting_plans.plans import StartingPhase, StartingPlan


def label_waits(plan: StartingPlan, cures: CureTable) -> dict[str, tuple[str, ...]]:
    """Find the cures whose hours must be taken from a label: by key, the names of the phases that wait for them or give
    back after them."""
    found: dict[str, list[str]] = {}
    for phase in plan.phases:
        for cure in _waited_for(phase, cures):
            found.setdefault(cure, []).append(phase.name)
    return {cure: tuple(dict.fromkeys(names)) for cure, names in found.items()}


def with_label_waits(plan: StartingPlan, entered: Mapping[str, int], cures: CureTable) -> StartingPlan:
    """Enter waits, in clock minutes by the key of the cure, wherever the plan has them from a label. What is not
    entered stays as it is."""
    return replace(plan, phases=tuple(_entered(phase, entered, cures) for phase in plan.phases))


def entered_wait(minutes: int) -> int:
    """Give the wait to keep for one that was entered: at least a minute, since 0 stands for one that was not."""
    return max(1, minutes)


def is_missing(take: Take, cures: CureTable) -> bool:
    """Say whether what is taken is given back after a wait that only the label knows, and nobody entered it."""
    return take.gate in cures and cures[take.gate].by_label and not take.wait


def _waited_for(phase: StartingPhase, cures: CureTable) -> Iterator[str]:
    yield from (cure for _, cure in phase.rests)
    yield from (one.take.gate for one in phase.takes if is_missing(one.take, cures))


def _entered(phase: StartingPhase, entered: Mapping[str, int], cures: CureTable) -> StartingPhase:
    waits = {before: entered[cure] for before, cure in phase.rests if cure in entered}
    takes = tuple(
        replace(one, take=replace(one.take, wait=entered.get(one.take.gate, 0)))
        if is_missing(one.take, cures) else one for one in phase.takes
    )
    return replace(
        phase, after=tuple((before, waits.get(before, wait)) for before, wait in phase.after), takes=takes,
        rests=tuple((before, cure) for before, cure in phase.rests if before not in waits),
    )
