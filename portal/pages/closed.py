"""That a question is closed, and why, in the same words on the page, at the desk and in the household's own copy."""

from collections.abc import Iterator

from portal.store.facts import DecisionFact, QuestionWithdrawalFact, Snapshot
from portal.words.dates import day_words, local, when_words
from portal.words.lists import listed, quoted
from portal.words.plurals import plural


def closed_words(snapshot: Snapshot, decision: DecisionFact) -> str:
    """Say that it was withdrawn, by whom and why; or that the work has begun, which and when.

    Of what was never approved also that no answer counts any more. Empty while the question is open.
    """
    if decision.withdrawn:
        return " ".join(_withdrawn(snapshot, decision, decision.withdrawn))
    if not decision.is_closed:
        return ""
    begun = f"This question is closed: the work has begun, {listed(_begun(snapshot, decision))}."
    return begun if decision.state == "approved" else f"{begun} It was not approved before, and no answer counts now."


def closed_line(snapshot: Snapshot, decision: DecisionFact) -> str:
    """Say of what was closed without an approval that it is, where questions stand in a list. Empty for all others."""
    name = f"Decision {decision.number}, {quoted([decision.question])}"
    if decision.withdrawn:
        return f"{name}: {_by_whom(snapshot, decision.withdrawn)}"
    if not decision.is_closed or decision.state == "approved":
        return ""
    return f"{name}: closed without an approval, the work has begun."


def unanswered_words(decision: DecisionFact) -> str:
    """Say of what they asked back and nobody answered how it stands."""
    if decision.withdrawn:
        return "The decision was withdrawn before this was answered: please call us."
    return "It was not answered before the work began: please call us." if decision.is_closed else "We owe the answer."


def _withdrawn(snapshot: Snapshot, decision: DecisionFact, one: QuestionWithdrawalFact) -> Iterator[str]:
    yield f"This question was {_by_whom(snapshot, one)} Nobody needs to answer it any more."
    waiting = [phase.name for phase in map(snapshot.phase, decision.holds) if phase.started_at is None]
    if waiting and one.lifts_hold:
        yield f"{quoted(waiting)} may start without an answer."
    elif waiting:
        does = plural(len(waiting), "does", "do")
        yield f"{quoted(waiting)} {does} not start before it is asked again and approved, or we let it start without."


def _by_whom(snapshot: Snapshot, one: QuestionWithdrawalFact) -> str:
    when = when_words(one.at, snapshot.project.timezone)
    return f"withdrawn by {one.staff} on {when}: {one.reason.rstrip('.')}."


def _begun(snapshot: Snapshot, decision: DecisionFact) -> list[str]:
    zone = snapshot.project.timezone
    phases = [snapshot.phase(phase) for phase in decision.holds]
    return [f"“{one.name}” on {day_words(local(one.started_at or 0, zone).date())}" for one in phases]
