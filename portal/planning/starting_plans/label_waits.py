"""Waits of a plan to start from that are on no table but on a label: which ones, and the plan with them entered."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from portal.planning.starting_plans.plans import StartingPhase, StartingPlan


def label_waits(plan: StartingPlan) -> dict[str, tuple[str, ...]]:
    """Find the cures whose hours must be taken from a label: by key, the names of the phases that wait for them or give
    back after them."""
    found: dict[str, list[str]] = {}
    for phase in plan.phases:
        for cure in _waited_for(phase):
            found.setdefault(cure, []).append(phase.name)
    return {cure: tuple(dict.fromkeys(names)) for cure, names in found.items()}


def with_label_waits(plan: StartingPlan, entered: Mapping[str, int]) -> StartingPlan:
    """Enter waits, in clock minutes by the key of the cure, wherever the plan has them from a label. What is not
    entered stays as it is."""
    return replace(plan, phases=tuple(_entered(phase, entered) for phase in plan.phases))


def entered_wait(minutes: int) -> int:
    """Give the wait to keep for one that was entered: at least a minute, since 0 stands for one that was not."""
    return max(1, minutes)


def _waited_for(phase: StartingPhase) -> Iterator[str]:
    yield from (cure for _, cure in phase.rests)
    yield from (one.take.gate for one in phase.takes if one.take.unknown)


def _entered(phase: StartingPhase, entered: Mapping[str, int]) -> StartingPhase:
    waits = {before: entered[cure] for before, cure in phase.rests if cure in entered}
    takes = tuple(
        replace(one, take=replace(one.take, wait=entered[one.take.gate], unknown=False))
        if one.take.unknown and one.take.gate in entered else one for one in phase.takes
    )
    return replace(
        phase, after=tuple((before, waits.get(before, wait)) for before, wait in phase.after), takes=takes,
        rests=tuple((before, cure) for before, cure in phase.rests if before not in waits),
    )
