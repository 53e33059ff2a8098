"""Waits that a plan to start from takes from a label, and that nobody has entered in this project yet."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from portal.planning.starting_plans.plans import StartingPlan
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.project_plan import takes_of


@dataclass(frozen=True, slots=True)
class MissingWait:
    """The `phase`, by id, waits for a `cure` of which only the label knows the hours: before it may follow the phases
    `after`; or, where there are none, before it gives back what it took."""

    phase: int
    cure: str
    after: tuple[int, ...] = ()


def missing_waits(
    snapshot: Snapshot, made_from: Mapping[int, str], plans: Mapping[str, StartingPlan]
) -> tuple[MissingWait, ...]:
    """Find them, but for work that has begun without the wait before it. `made_from`: the phase of a plan that each was
    made from, as `bath.tile`, by id; `plans`: by their keys."""
    return tuple(
        one for phase in snapshot.phases
        for one in (*_before_it_follows(phase, made_from, plans), *_before_it_gives_back(phase))
    )


def _before_it_follows(
    phase: PhaseFact, made_from: Mapping[int, str], plans: Mapping[str, StartingPlan]
) -> Iterator[MissingWait]:
    plan, _, key = made_from.get(phase.id, "").partition(".")
    rests = {
        f"{plan}.{before}": cure
        for one in (plans[plan].phases if plan in plans else ()) if one.key == key for before, cure in one.rests
    }
    if phase.started_at is not None:
        return
    missing: dict[str, list[int]] = {}
    for before, wait in phase.after:
        if not wait and made_from.get(before) in rests:
            missing.setdefault(rests[made_from[before]], []).append(before)
    for cure, after in missing.items():
        yield MissingWait(phase.id, cure, tuple(after))


def _before_it_gives_back(phase: PhaseFact) -> Iterator[MissingWait]:
    """Of what is finished, too: until it is entered, the household's page says that nobody knows."""
    for cure in dict.fromkeys(take.gate for take in takes_of(phase) if take.unknown):
        yield MissingWait(phase.id, cure)
