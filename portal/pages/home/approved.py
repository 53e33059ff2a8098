"""Section 7: what was approved, by whom, when, under which check code; and what that makes of the contract."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from portal.pages.closed import closed_line, unanswered_words
from portal.pages.home.asking import question_words
from portal.pages.home.contract import contract_sentences
from portal.pages.signers import signed_by
from portal.store.facts import ApprovalFact, DecisionFact, PersonFact, Snapshot
from portal.words.codes import short_code
from portal.words.dates import day_words, when_words
from portal.words.lists import listed


@dataclass(frozen=True, slots=True)
class Approved:
    """`unanswered`: what they asked about it and we still owe an answer to. `begun`: whether the work has."""

    number: int
    question: str
    option: str
    by: str
    code: str
    unanswered: list[str]
    begun: bool


@dataclass(frozen=True, slots=True)
class ApprovedSection:
    """`closed`: the number of each question that was closed without an approval, and the line that says so."""

    approved: list[Approved]
    closed: list[tuple[int, str]]
    contract: list[str]


def approved_section(snapshot: Snapshot, today: date) -> ApprovedSection:
    approved = _settled(snapshot)
    approved.sort(key=lambda decision: decision.approvals[-1].at, reverse=True)
    return ApprovedSection(
        [_approved(snapshot, decision) for decision in approved],
        [(one.number, line) for one in snapshot.decisions if (line := closed_line(snapshot, one))],
        list(contract_sentences(snapshot.project, approved, today)),
    )


def agreed_sentences(snapshot: Snapshot, today: date) -> Iterator[str]:
    """What is agreed so far of price and time."""
    return contract_sentences(snapshot.project, _settled(snapshot), today)


def _settled(snapshot: Snapshot) -> list[DecisionFact]:
    return [decision for decision in snapshot.decisions if decision.state == "approved" and decision.approvals]


def approved_by(approvals: Iterable[ApprovalFact], people: Iterable[PersonFact], zone: str) -> str:
    """`Maren Okafor on Tue Nov 24, 7:42 pm`; of what was signed on paper, when that was and who entered it. Where
    another name was typed than that of the link's holder, both are said."""
    return listed([_by(approval, people, zone) for approval in approvals])


def _by(approval: ApprovalFact, people: Iterable[PersonFact], zone: str) -> str:
    when, who = when_words(approval.at, zone), signed_by(approval, people)
    if not approval.on_paper:
        return f"{who} on {when}"
    signed = f", signed {day_words(approval.signed_on)}" if approval.signed_on else ""
    return f"{who} on paper{signed} (entered by {approval.entered_by} on {when})"


def _approved(snapshot: Snapshot, decision: DecisionFact) -> Approved:
    zone = snapshot.project.timezone
    option = decision.option(decision.approvals[0].option) or {}
    return Approved(
        decision.number, decision.question, option.get("title", decision.approvals[0].option),
        approved_by(decision.approvals, snapshot.people, zone), short_code(decision.check_code),
        [question_words(question, zone, unanswered_words(decision)) for question in decision.unanswered],
        decision.work_has_begun,
    )
