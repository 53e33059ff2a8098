"""Plans to start from: ours in content/plans, the firm's own in a folder of its data, and those of earlier projects."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from portal.content import cures
from portal.folders import CONTENT
from portal.planning.household.services import Take
from portal.planning.starting_plans.files import PlanFileError, read_plan
from portal.planning.starting_plans.plans import (
    WHOLE_HOUSE,
    StartingDecision,
    StartingDelivery,
    StartingPhase,
    StartingPlan,
    StartingRoom,
    StartingTake,
)
from portal.store.engine.kept_options import is_readable
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.project_plan import services_of, takes_of
from portal.store.refusals import NotFound, Refused
from portal.store.tables import PlannedOrder, PlannedQuestion

OURS = CONTENT / "plans"
CONTRACT_CHANGE = "contract_change"
"""The kind of a question that changes what was agreed for one house."""


class WrongPlanFile(Refused):
    status = 422
    sentence = "{file}, line {line}: {reason}. Correct the file, then try again; nothing was changed."


@dataclass(frozen=True, slots=True)
class Starter:
    """A plan file by its name without `.toml`. `own`: the firm's. Either it can be used, or `refused` says why not."""

    key: str
    own: bool
    plan: StartingPlan | None
    refused: PlanFileError | None = None

    @property
    def title(self) -> str:
        return self.plan.title if self.plan else self.key


def starters(own: Path) -> list[Starter]:
    """All of them by title; a file of the firm's replaces one of ours with the same name. `own` need not exist."""
    paths = {path.stem: path for folder in (OURS, own) for path in sorted(folder.glob("*.toml"))}
    return sorted((_read(path, path.parent == own) for path in paths.values()), key=lambda one: one.title.casefold())


def starter(own: Path, key: str) -> StartingPlan:
    """Raises NotFound, WrongPlanFile."""
    found = next((one for one in starters(own) if one.key == key), None)
    if found is None:
        raise NotFound(what="plan to start from")
    if found.plan is None:
        assert found.refused is not None
        refused = found.refused
        raise WrongPlanFile(field="plans", file=refused.filename, line=refused.line, reason=refused.reason)
    return found.plan


def usable_plans(own: Path) -> dict[str, StartingPlan]:
    """The plans that can be used, by their keys."""
    return {one.key: one.plan for one in starters(own) if one.plan}


def earlier_plan(
    snapshot: Snapshot, questions: Sequence[PlannedQuestion] = (), orders: Sequence[PlannedOrder] = ()
) -> StartingPlan:
    """The plan of an earlier project: its phases as they were planned, its questions that work waits for and its
    orders, with those that it has not asked or ordered yet. What belongs to that house alone (dates, notes, drawings,
    photos, changes of its contract, what was asked by the way) stays there."""
    there = {phase.id for phase in snapshot.phases}
    asked = [one for one in snapshot.decisions if one.holds and one.kind != CONTRACT_CHANGE and not one.withdrawn]
    planned = {one.id for one in asked}
    items = [*((one.item, one.phases) for one in snapshot.deliveries), *((one.item, one.phases) for one in orders)]
    return StartingPlan(
        snapshot.project.name, "", f"the plan of {snapshot.project.name}",
        tuple(StartingRoom(_room(room.id), room.name, services_of(room)) for room in snapshot.rooms),
        tuple(_phase(phase, planned, questions) for phase in snapshot.phases),
        tuple(
            StartingDecision(
                f"d{one.id}", one.kind, one.question, one.lead_days,
                tuple(map(_option, filter(is_readable, one.options))), _room(one.room_id),
            )
            for one in asked
        ) + tuple(
            StartingDecision(
                f"q{one.id}", one.kind, one.question, one.lead_days, tuple(one.options), _room(one.room_id)
            )
            for one in questions
        ),
        tuple(
            StartingDelivery(item, tuple(f"p{phase}" for phase in phases if phase in there)) for item, phases in items
        ),
    )


def _read(path: Path, own: bool) -> Starter:
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        line = path.read_bytes()[: error.start].count(b"\n") + 1
        return Starter(path.stem, own, None, PlanFileError(path.name, line, "is not UTF-8; save it as plain text"))
    try:
        return Starter(path.stem, own, read_plan(text, path.name, cures()))
    except PlanFileError as refused:
        return Starter(path.stem, own, None, refused)


def _phase(phase: PhaseFact, planned: set[int], questions: Sequence[PlannedQuestion]) -> StartingPhase:
    return StartingPhase(
        key=f"p{phase.id}", name=phase.name, low=phase.work_low, likely=phase.work_likely, high=phase.work_high,
        room=_room(phase.room_id), crew=phase.crew, after=tuple((f"p{before}", wait) for before, wait in phase.after),
        held_by=(
            *(f"d{decision}" for decision in phase.held_by if decision in planned),
            *(f"q{one.id}" for one in questions if phase.id in one.holds),
        ),
        takes=tuple(map(_take, takes_of(phase))),
    )


def _take(take: Take) -> StartingTake:
    room = WHOLE_HOUSE if take.house else "" if take.room is None else _room(take.room)
    return StartingTake(take, room, "" if take.back_with is None else f"p{take.back_with}")


def _room(room_id: int | None) -> str:
    return WHOLE_HOUSE if room_id is None else f"r{room_id}"


def _option(option: Mapping[str, Any]) -> Mapping[str, Any]:
    """Its words. What is drawn or photographed, and why a manager offered it although it broke a rule, are of that
    house alone."""
    return {name: value for name, value in option.items() if name not in ("detail", "despite", "photos")}
