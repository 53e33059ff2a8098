"""A decision with its current revision, as one plain value."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from portal.store.facts import ApprovalFact
from portal.store.rows import decision_rows, plan_rows
from portal.store.tables import Decision, QuestionBack, QuestionWithdrawal, Revision


@dataclass(frozen=True, slots=True)
class DecisionView:
    id: int
    version: int
    number: int
    kind: str
    room: int | None
    lead_days: int
    asked_for: date | None
    approvers: str
    holds: list[int]
    revision: int
    state: str  # `closed`: all work that it holds has begun without its approval; `differing`: see DecisionFact.differ
    closed: str | None  # why nothing is said in it any more: `withdrawn`, `work_has_begun`; None while it is open
    withdrawal: QuestionWithdrawal | None
    question: str
    options: list[dict[str, Any]]
    detail: dict[str, Any] | None
    check_code: str
    asked_at: int
    approvals: list[ApprovalFact]
    questions_back: list[QuestionBack]


def view(decision: Decision) -> DecisionView:
    current = decision_rows.revision(decision.id, decision.revision)
    begun, withdrawal = bool(plan_rows.begun_with(decision.id)), decision_rows.question_withdrawal(decision.id)
    given = decision_rows.approvals(decision.id, decision.revision)
    return DecisionView(
        id=decision.id, version=decision.version, number=decision.number, kind=decision.kind, room=decision.room_id,
        lead_days=decision.lead_days, asked_for=decision.asked_for, approvers=decision.approvers,
        holds=plan_rows.held_phases(decision.id), revision=decision.revision,
        state=_state(decision.state, bool(begun), given),
        closed="withdrawn" if withdrawal else "work_has_begun" if begun else None, withdrawal=withdrawal,
        question=current.question, options=current.options, detail=current.detail, check_code=current.check_code,
        asked_at=current.asked_at, approvals=given,
        questions_back=decision_rows.questions_back(decision.id),
    )


def _state(kept: str, begun: bool, given: list[ApprovalFact]) -> str:
    if begun and kept not in ("approved", "withdrawn"):
        return "closed"
    return "differing" if kept == "asked" and len({one.option for one in given}) > 1 else kept


def revisions(decision: Decision) -> list[Revision]:
    return decision_rows.revisions(decision.id)


def approvals(decision: Decision) -> list[Any]:
    """All that were ever given, also those of earlier revisions, which no longer count."""
    return decision_rows.approvals_of(decision.id)
