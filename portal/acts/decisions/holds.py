"""Holds are set freely, but dropped only when their decision is settled; else a release, with its reason, is due. What
is dropped is on the record first: the database lets no hold go otherwise."""

from collections.abc import Iterable

from portal.acts.actor import Actor
from portal.acts.entries import keep
from portal.store.refusals import FieldRefused
from portal.store.rows import decision_rows, plan_rows
from portal.store.tables import Phase, PhaseHold
from portal.words.lists import listed, quoted
from portal.words.plurals import plural


def dropping_fault(phase: Phase, dropped: Iterable[int]) -> str:
    """Why these decisions can't stop holding the phase, or nothing.

    Work that may not start until a decision is approved must not become free unseen: a release is on the record.
    """
    gone = set(dropped)
    if not gone:
        return ""
    if phase.started_at is not None:
        return f"{phase.name} has started; what held it stays."
    still = [decision for decision in plan_rows.decisions_holding(phase.id) if decision.id in gone]
    if not still:
        return ""
    numbers = listed(f"decision {decision.number}" for decision in still)
    are = plural(len(still), "is", "are")
    return f"{phase.name} is held by {numbers}, which {are} not approved. Release it instead, with a reason."


def changing_fault(phase: Phase, decisions: Iterable[int]) -> str:
    """Why these can't be all that holds the phase, or nothing."""
    before, after = set(plan_rows.held_by(phase.id)), set(decisions)
    faults = (_taking_fault(decision, [phase]) for decision in sorted(after - before))
    return dropping_fault(phase, before - after) or next(filter(None, faults), "")


def set_holds_of_phase(
    actor: Actor, project_id: int, phase: Phase, decisions: Iterable[int], field: str, now: int
) -> None:
    """Replace what holds the phase. Raises FieldRefused."""
    wanted = list(decisions)
    fault = changing_fault(phase, wanted)
    if fault:
        raise FieldRefused(field, fault)
    gone = [hold for hold in plan_rows.holds_of_phase(phase.id) if hold.decision_id not in wanted]
    _lift(actor, project_id, gone, now)
    plan_rows.add_holds((phase.id, decision) for decision in wanted)


def set_holds_of_decision(
    actor: Actor, project_id: int, decision_id: int, phases: list[int], field: str, now: int
) -> None:
    """Replace which phases the decision holds. Raises FieldRefused."""
    wanted, before = set(phases), set(plan_rows.held_phases(decision_id))
    for phase in plan_rows.phases_with(before - wanted):
        fault = dropping_fault(phase, [decision_id])
        if fault:
            raise FieldRefused(field, fault)
    fault = _taking_fault(decision_id, plan_rows.phases_with(wanted - before))
    if fault:
        raise FieldRefused(field, fault)
    gone = [hold for hold in plan_rows.holds_of_decision(decision_id) if hold.phase_id not in wanted]
    _lift(actor, project_id, gone, now)
    plan_rows.add_holds((phase, decision_id) for phase in phases)


def lift_from_removed(actor: Actor, project_id: int, phase: Phase, now: int) -> None:
    """The phase goes off the plan, and what held it with it. Raises FieldRefused where that is not settled."""
    refuse_removing_held(phase)
    _lift(actor, project_id, plan_rows.holds_of_phase(phase.id), now)


def _lift(actor: Actor, project_id: int, holds: list[PhaseHold], now: int) -> None:
    if not holds:
        return
    lifted = [
        {"hold": hold.id, "phase": hold.phase_id, "name": hold.phase.name, "decision": hold.decision.number}
        for hold in holds
    ]
    keep(actor, project_id, "hold_lifted", {"lifted": lifted}, now)
    plan_rows.remove_holds(hold.id for hold in holds)


def refuse_removing_held(phase: Phase) -> None:
    """A held phase is not taken off the plan and put back without its hold; one that was released is in the record."""
    if plan_rows.was_released(phase.id):
        message = f"{phase.name} was released without an approval. That is on the record, so it stays on the plan."
        raise FieldRefused("id", message)
    fault = dropping_fault(phase, plan_rows.held_by(phase.id))
    if fault:
        raise FieldRefused("id", fault)


def _taking_fault(decision_id: int, added: list[Phase]) -> str:
    """A question closes once all that it holds has begun: more work would open it again after the deed, and work that
    has begun, alone, would close it unanswered."""
    if not added:
        return ""
    number, begun = decision_rows.number_of(decision_id), plan_rows.begun_with(decision_id)
    waiting = [phase.name for phase in added if phase.started_at is None]
    if begun and waiting:
        names = quoted(phase.name for phase in begun)
        return (
            f"Decision {number} is closed: the work has begun ({names}). It can’t hold {quoted(waiting)} as well; "
            "ask a question of its own for that."
        )
    if not waiting and not plan_rows.held_phases(decision_id):
        names = quoted(phase.name for phase in added)
        return (
            f"Of what decision {number} would hold, all has begun already ({names}), so nobody could answer it. Let it "
            "hold work that has not begun, or nothing."
        )
    return ""
