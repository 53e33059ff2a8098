"""Links and holds of phases, and the questions that acts ask of the plan."""

from collections.abc import Iterable, Sequence
from typing import Any

from portal.store.tables import (
    Decision,
    Delivery,
    DeliveryHold,
    Phase,
    PhaseHold,
    PhaseLink,
    QuestionWithdrawal,
    Release,
    ReleaseTakenBack,
    Room,
)

_IN_ORDER = (Phase.position, Phase.id)


def rooms(project_id: int) -> list[Room]:
    return list(Room.select().where(Room.project == project_id).order_by(Room.position, Room.id))


def next_room_position(project_id: int) -> int:
    return Room.select().where(Room.project == project_id).count()


def phases(project_id: int) -> list[Phase]:
    """All phases of the project, in the order of the plan: a refusal names the first at fault."""
    return list(Phase.select().where(Phase.project == project_id).order_by(*_IN_ORDER))


def made_from(project_id: int) -> dict[int, str]:
    """The phases of plans to start from that phases were made from, as `bath.tile`, by their ids."""
    rows = Phase.select(Phase.id, Phase.starter).where((Phase.project == project_id) & (Phase.starter != ""))
    return {row.id: row.starter for row in rows}


def phases_with(ids: Iterable[int]) -> list[Phase]:
    """The phases that have these ids, in the order of the plan."""
    return list(Phase.select().where(Phase.id.in_(list(ids))).order_by(*_IN_ORDER))


def set_takes(phase_id: int, takes: Sequence[object]) -> None:
    """Replace what the phase takes from the household, as JSON values."""
    Phase.update(takes=takes).where(Phase.id == phase_id).execute()


def next_position(project_id: int) -> int:
    return Phase.select().where(Phase.project == project_id).count()


def make_place(before: Phase) -> int:
    """The position right behind a phase. The others behind it move on, each to a position of its own."""
    behind = [row for row in phases(before.project_id) if (row.position, row.id) > (before.position, before.id)]
    for position, row in enumerate(behind, before.position + 2):
        if row.position != position:
            Phase.update(position=position).where(Phase.id == row.id).execute()
    return int(before.position) + 1


def set_links(phase_id: int, after: Sequence[tuple[int, int]]) -> None:
    """Replace what the phase follows: (phase id, wait in minutes). What stays as it is is not written."""
    wanted = dict(after)
    for row in PhaseLink.select().where(PhaseLink.phase == phase_id).order_by(PhaseLink.id):
        if wanted.get(row.after_id) == row.wait:
            del wanted[row.after_id]
        else:
            PhaseLink.delete().where(PhaseLink.id == row.id).execute()
    for before, wait in wanted.items():
        PhaseLink.create(phase=phase_id, after=before, wait=wait)


def links_of(phase_id: int) -> list[tuple[int, int]]:
    rows = PhaseLink.select().where(PhaseLink.phase == phase_id).order_by(PhaseLink.id)
    return [(row.after_id, row.wait) for row in rows]


def add_holds(holds: Iterable[tuple[int, int]]) -> None:
    """Each a phase and the decision that holds it. Those that are there already stay as they are."""
    for phase, decision in dict.fromkeys(holds):
        if not PhaseHold.select().where((PhaseHold.phase == phase) & (PhaseHold.decision == decision)).exists():
            PhaseHold.create(phase=phase, decision=decision)


def holds_of_phase(phase_id: int) -> list[PhaseHold]:
    """In the order in which they were set, each with its decision."""
    rows = PhaseHold.select(PhaseHold, Decision).join(Decision).where(PhaseHold.phase == phase_id)
    return list(rows.order_by(PhaseHold.id))


def holds_of_decision(decision_id: int) -> list[PhaseHold]:
    """In the order in which they were set."""
    return list(PhaseHold.select().where(PhaseHold.decision == decision_id).order_by(PhaseHold.id))


def remove_holds(ids: Iterable[int]) -> None:
    """The database refuses this unless the newest entry of the record says that they are lifted."""
    PhaseHold.delete().where(PhaseHold.id.in_(list(ids))).execute()


def decisions_holding(phase_id: int) -> list[Decision]:
    """Decisions that keep the phase from starting now: not approved, not released for it, and not withdrawn in a way
    that lets the work start."""
    released = Release.select(Release.decision).where((Release.phase == phase_id) & _stands())
    still = (Decision.state != "approved") & Decision.id.not_in(released)
    held = list(
        Decision.select().join(PhaseHold).where((PhaseHold.phase == phase_id) & still).order_by(Decision.number)
    )
    of_these = QuestionWithdrawal.decision.in_([decision.id for decision in held])
    lifted = QuestionWithdrawal.select().where(of_these & QuestionWithdrawal.lifts_hold)
    gone = {(row.decision_id, row.revision) for row in lifted}
    return [decision for decision in held if (decision.id, decision.revision) not in gone]


def phases_waiting(decision_id: int) -> list[Phase]:
    """Phases that the decision holds and that have not started, in the order of the plan."""
    waiting = (PhaseHold.decision == decision_id) & Phase.started_at.is_null()
    return list(Phase.select().join(PhaseHold).where(waiting).order_by(*_IN_ORDER))


def started_phases(decision_id: int) -> list[Phase]:
    """Phases that the decision held and that have started, in the order of the plan."""
    started = (PhaseHold.decision == decision_id) & Phase.started_at.is_null(False)
    return list(Phase.select().join(PhaseHold).where(started).order_by(*_IN_ORDER))


def begun_with(decision_id: int) -> list[Phase]:
    """All phases that the decision holds, once each of them has started; else none. In the order of the plan."""
    held = list(Phase.select().join(PhaseHold).where(PhaseHold.decision == decision_id).order_by(*_IN_ORDER))
    return held if all(phase.started_at is not None for phase in held) else []


def newest_releases(phase_id: int) -> list[Release]:
    """Those that were made last, by one act, and were not taken back; in the order of their decisions."""
    found = Release.select(Release, Decision).join(Decision).where((Release.phase == phase_id) & _stands())
    standing = list(found.order_by(Decision.number))
    last = max((one.at for one in standing), default=0)
    return [one for one in standing if one.at == last]


def _stands() -> Any:
    return Release.id.not_in(ReleaseTakenBack.select(ReleaseTakenBack.release))


def was_released(phase_id: int) -> bool:
    return Release.select().where(Release.phase == phase_id).exists()


def held_by(phase_id: int) -> list[int]:
    rows = PhaseHold.select().where(PhaseHold.phase == phase_id).order_by(PhaseHold.id)
    return [row.decision_id for row in rows]


def held_phases(decision_id: int) -> list[int]:
    rows = PhaseHold.select().where(PhaseHold.decision == decision_id).order_by(PhaseHold.id)
    return [row.phase_id for row in rows]


def network(project_id: int) -> tuple[dict[int, str], list[tuple[int, int]]]:
    """Names by phase id, and (phase, the phase that it follows)."""
    names = {row.id: row.name for row in Phase.select(Phase.id, Phase.name).where(Phase.project == project_id)}
    links = PhaseLink.select().join(Phase, on=PhaseLink.phase).where(Phase.project == project_id)
    return names, [(row.phase_id, row.after_id) for row in links]


def set_delivery_phases(delivery: Delivery, phases: Iterable[int]) -> None:
    wanted = dict.fromkeys(phases)
    for row in DeliveryHold.select().where(DeliveryHold.delivery == delivery):
        if row.phase_id in wanted:
            del wanted[row.phase_id]
        else:
            DeliveryHold.delete().where(DeliveryHold.id == row.id).execute()
    for phase in wanted:
        DeliveryHold.create(delivery=delivery, phase=phase)


def delivery_phases(delivery_id: int) -> list[int]:
    rows = DeliveryHold.select().where(DeliveryHold.delivery == delivery_id).order_by(DeliveryHold.id)
    return [row.phase_id for row in rows]
