"""A decision as an earlier revision of it was asked, and whether that was approved then."""

from dataclasses import replace

from portal.record.log.approval_history import was_approved
from portal.record.log.as_asked import is_as_asked
from portal.record.log.canonical import read
from portal.store.facts import DecisionFact
from portal.store.refusals import NotFound
from portal.store.rows import decision_rows, record_rows


def in_revision(project_id: int, decision: DecisionFact, number: int) -> DecisionFact:
    """Give the decision as of this revision, with the approvals of that one. Raises NotFound.

    Of an earlier one the state is `approved` only if all had approved it who had to at that time, else `asked`.
    """
    if number == decision.revision:
        return decision
    found = decision_rows.find_revision(decision.id, number)
    if found is None:
        raise NotFound(what="revision")
    return replace(
        decision, state="approved" if _was_approved(project_id, decision, number) else "asked", revision=number,
        question=found.question, options=found.options, detail=found.detail, check_code=found.check_code,
        asked_at=found.asked_at, reason=found.reason, approvals=tuple(decision_rows.approvals(decision.id, number)),
        questions=(), withdrawals=(), withdrawn=None,
        as_asked=is_as_asked(found.shown, found.check_code, found.question, found.options, found.detail),
    )  # fmt: skip


def _was_approved(project_id: int, decision: DecisionFact, number: int) -> bool:
    entries = [read(canonical) for _, _, canonical in record_rows.every(project_id)]
    return was_approved(
        decision.number, number, entries, decision.approvers, decision_rows.approvers(project_id)
    )  # fmt: skip
