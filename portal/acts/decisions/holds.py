"""Holds are set freely, but dropped only when their decision is settled; else a release, with its reason, is due."""

from collections.abc import Iterable

from portal.store.refusals import FieldRefused
from portal.store.rows import plan_rows
from portal.store.tables import Phase
from portal.words.lists import listed
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


def set_holds_of_phase(phase: Phase, decisions: list[int], field: str) -> None:
    """Replace what holds the phase. Raises FieldRefused."""
    fault = dropping_fault(phase, set(plan_rows.held_by(phase.id)) - set(decisions))
    if fault:
        raise FieldRefused(field, fault)
    plan_rows.set_holds_of_phase(phase.id, decisions)


def set_holds_of_decision(decision_id: int, phases: list[int], field: str) -> None:
    """Replace which phases the decision holds. Raises FieldRefused."""
    for phase in plan_rows.phases_with(set(plan_rows.held_phases(decision_id)) - set(phases)):
        fault = dropping_fault(phase, [decision_id])
        if fault:
            raise FieldRefused(field, fault)
    plan_rows.set_holds_of_decision(decision_id, phases)


def refuse_removing_held(phase: Phase) -> None:
    """A held phase is not taken off the plan and put back without its hold; one that was released is in the record."""
    if plan_rows.was_released(phase.id):
        message = f"{phase.name} was released without an approval. That is on the record, so it stays on the plan."
        raise FieldRefused("id", message)
    fault = dropping_fault(phase, plan_rows.held_by(phase.id))
    if fault:
        raise FieldRefused("id", fault)
