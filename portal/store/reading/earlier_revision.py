"""A decision as an earlier revision of it was asked and approved."""

from dataclasses import replace

from portal.store.facts import DecisionFact
from portal.store.refusals import NotFound
from portal.store.rows import decision_rows


def in_revision(decision: DecisionFact, number: int) -> DecisionFact:
    """The decision as of this revision, with the approvals of that one. Raises NotFound."""
    if number == decision.revision:
        return decision
    found = decision_rows.find_revision(decision.id, number)
    if found is None:
        raise NotFound(what="revision")
    given = tuple(decision_rows.approvals(decision.id, number))
    return replace(
        decision, state="approved" if given else "asked", revision=number, question=found.question,
        options=found.options, detail=found.detail, check_code=found.check_code, asked_at=found.asked_at,
        reason=found.reason, approvals=given, questions=(),
    )  # fmt: skip
