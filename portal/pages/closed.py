"""That a question is closed, and why, in the same words on the page, at the desk and in the household's own copy."""

from portal.store.facts import DecisionFact, Snapshot
from portal.words.dates import day_words, local
from portal.words.lists import listed, quoted


def closed_words(snapshot: Snapshot, decision: DecisionFact) -> str:
    """Say that the work has begun, which and when, and of what was never approved that no answer counts any more. Empty
    while the question is open."""
    if not decision.is_closed:
        return ""
    begun = f"This question is closed: the work has begun, {listed(_begun(snapshot, decision))}."
    return begun if decision.state == "approved" else f"{begun} It was not approved before, and no answer counts now."


def closed_line(decision: DecisionFact) -> str:
    """Say of what was closed without an approval that it is, where questions stand in a list. Empty for all others."""
    if not decision.is_closed or decision.state == "approved":
        return ""
    return f"Decision {decision.number}, {quoted([decision.question])}: closed without an approval, the work has begun."


def _begun(snapshot: Snapshot, decision: DecisionFact) -> list[str]:
    zone = snapshot.project.timezone
    phases = [snapshot.phase(phase) for phase in decision.holds]
    return [f"“{one.name}” on {day_words(local(one.started_at or 0, zone).date())}" for one in phases]
