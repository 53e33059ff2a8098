"""Section 7: what was approved, by whom, when, under which check code; and what that makes of the contract."""

from dataclasses import dataclass
from datetime import date

from portal.pages.contract import contract_sentences
from portal.pages.words import listed, short_code
from portal.store.facts import ApprovalFact, DecisionFact, Snapshot
from portal.when import day_words, when_words


@dataclass(frozen=True, slots=True)
class Approved:
    number: int
    question: str
    option: str
    by: str
    code: str


@dataclass(frozen=True, slots=True)
class ApprovedSection:
    approved: list[Approved]
    contract: list[str]


def approved_section(snapshot: Snapshot, today: date) -> ApprovedSection:
    approved = [decision for decision in snapshot.decisions if decision.state == "approved" and decision.approvals]
    approved.sort(key=lambda decision: decision.approvals[-1].at, reverse=True)
    return ApprovedSection(
        [_approved(decision, snapshot.project.timezone) for decision in approved],
        list(contract_sentences(snapshot.project, approved, today)),
    )


def approved_by(approvals: tuple[ApprovalFact, ...], zone: str) -> str:
    """`Maren Okafor on Tue Nov 24, 7:42 pm`; of what was signed on paper, when that was and who entered it."""
    return listed([_by(approval, zone) for approval in approvals])


def _by(approval: ApprovalFact, zone: str) -> str:
    when = when_words(approval.at, zone)
    if not approval.on_paper:
        return f"{approval.name} on {when}"
    signed = f", signed {day_words(approval.signed_on)}" if approval.signed_on else ""
    return f"{approval.name} on paper{signed} (entered by {approval.entered_by} on {when})"


def _approved(decision: DecisionFact, zone: str) -> Approved:
    option = decision.option(decision.approvals[0].option) or {}
    return Approved(
        decision.number, decision.question, option.get("title", decision.approvals[0].option),
        approved_by(decision.approvals, zone), short_code(decision.check_code),
    )
