"""The proposals for a decision, as plain values."""

from dataclasses import dataclass
from typing import Any

from portal.store.tables import Person, Proposal


@dataclass(frozen=True, slots=True)
class ProposalFact:
    id: int
    person_id: int
    name: str
    dimensions: dict[str, Any]  # empty where what is kept can't be read
    layout: str
    layout_key: str | None
    note: str
    at: int
    outcome: str = ""  # taken, changed, refused; empty: nothing yet
    because: str = ""
    settled_at: int | None = None


def add_proposal(decision_id: int, person_id: int, values: dict[str, Any], now: int) -> ProposalFact:
    row = Proposal.create(decision=decision_id, person=person_id, at=now, **values)
    return _fact(row)


def proposals_of(decision_id: int) -> list[ProposalFact]:
    """Newest first."""
    rows = Proposal.select(Proposal, Person).join(Person).where(Proposal.decision == decision_id)
    return [_fact(row) for row in rows.order_by(Proposal.id.desc())]


def proposal_of(decision_id: int, text: str) -> ProposalFact | None:
    """The one with this id in an address; None where that is none of the decision's."""
    return next((one for one in proposals_of(decision_id) if str(one.id) == text), None)


def settle(proposal_id: int, outcome: str, because: str, now: int) -> bool:
    """Whether nothing had become of it yet."""
    waiting = (Proposal.id == proposal_id) & (Proposal.outcome == "")
    return bool(Proposal.update(outcome=outcome, because=because, settled_at=now).where(waiting).execute())


def _fact(row: Proposal) -> ProposalFact:
    return ProposalFact(
        id=row.id, person_id=row.person_id, name=row.person.name, layout=row.layout,
        dimensions=row.dimensions if isinstance(row.dimensions, dict) else {},
        layout_key=row.layout_key, note=row.note, at=row.at, outcome=row.outcome, because=row.because,
        settled_at=row.settled_at,
    )  # fmt: skip
