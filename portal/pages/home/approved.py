"""The fold of what was approved: by whom, when, under which check code."""

from collections.abc import Iterable
from dataclasses import dataclass

from portal.pages.closed import closed_line
from portal.pages.signers import signed_by
from portal.store.facts import ApprovalFact, DecisionFact, PersonFact, Snapshot
from portal.words.codes import short_code
from portal.words.dates import day_words, when_words
from portal.words.lists import listed


@dataclass(frozen=True, slots=True)
class Approved:
    """`begun`: whether the work that waited for it has."""

    number: int
    question: str
    option: str
    by: str
    code: str
    begun: bool


@dataclass(frozen=True, slots=True)
class ApprovedSection:
    """`closed`: the number of each question that was closed without an approval, and the line that says so."""

    approved: list[Approved]
    closed: list[tuple[int, str]]


def approved_section(snapshot: Snapshot) -> ApprovedSection:
    approved = _settled(snapshot)
    approved.sort(key=lambda decision: decision.approvals[-1].at, reverse=True)
    return ApprovedSection(
        [_approved(snapshot, decision) for decision in approved],
        [(one.number, line) for one in snapshot.decisions if (line := closed_line(snapshot, one))],
    )


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
        decision.work_has_begun,
    )
