"""Holds set past the acts, for tests that start from others than the house has."""

from collections.abc import Iterable

from portal.store.tables import PhaseHold
from tests.unguarded import unguard


def hold_phase(phase: int, decisions: Iterable[int]) -> None:
    """These decisions are all that holds the phase, set in this order."""
    unguard("phase_hold")
    PhaseHold.delete().where(PhaseHold.phase == phase).execute()
    for decision in decisions:
        PhaseHold.create(phase=phase, decision=decision)


def hold_by(decision: int, phases: Iterable[int]) -> None:
    """These phases are all that the decision holds, set in this order."""
    unguard("phase_hold")
    PhaseHold.delete().where(PhaseHold.decision == decision).execute()
    for phase in phases:
        PhaseHold.create(phase=phase, decision=decision)
