"""What the household answers to a decision: approving one option of one revision, on a screen or on paper, and taking
that back."""

from datetime import date
from typing import Any

from portal.acts.actor import Actor, act, allow
from portal.acts.decisions.approvers import settle
from portal.acts.decisions.closing import refuse_closed
from portal.acts.decisions.failing_layouts import failing_told
from portal.acts.decisions.finishes import extras_told
from portal.acts.entries import keep
from portal.acts.household.consent import agree_to_screen
from portal.acts.refusals import (
    AlreadyApproved,
    NothingFromPaper,
    NothingToWithdraw,
    NotYours,
    StartedOnIt,
    Superseded,
    TooLateToWithdraw,
)
from portal.acts.telling import tell_approved, tell_managers, tell_others, tell_taken_back
from portal.acts.written import needed, signature, written
from portal.drawings.sheets.kept_sheet import can_be_worked_to
from portal.record.log.approval_history import ALL
from portal.record.log.chain import Entry
from portal.store.engine.database import read
from portal.store.facts import ApprovalFact
from portal.store.refusals import FieldRefused, NotAsAsked, NotDrawn, NotFound
from portal.store.rows import decision_rows, plan_rows
from portal.store.rows.decision_rows import Asked
from portal.store.rows.editable import in_project, project_row
from portal.store.rows.link_rows import person_of_project
from portal.store.tables import Person
from portal.words.changes import what_changed
from portal.words.dates import day_words, local, when_words
from portal.words.names import doubtful

_FULL_NAME = "Type your full name to confirm."


@act("approve")
def approve(
    actor: Actor, project_id: int, decision_id: int, *, revision: int, option: str, name: str, now: int
) -> tuple[ApprovalFact, bool]:
    """Accept one option of one revision, under one's typed name.

    Returns the approval and whether it is new: the same approval sent again is the first one.
    Raises WorkHasBegun once it is closed, Superseded for an earlier revision, AlreadyApproved for another option than
    was approved.
    """
    asked, chosen, given = _choice(actor, project_id, decision_id, revision, option)
    name = signature(name, _FULL_NAME)
    mine = next((approval for approval in given if approval.person_id == actor.id), None)
    if mine:
        return mine, False
    agree_to_screen(actor, project_id, now)
    approval = ApprovalFact(asked.id, revision, option, actor.id, name, now)
    decision_rows.add_approval(approval)
    settle(project_id, asked, [*given, approval])
    entry = keep(actor, project_id, "approved", _body(asked, approval, chosen), now)
    tell_approved(project_id, actor.id, asked.id, asked.number, entry, now)
    _tell_choice(project_id, actor.id, asked, [*given, approval], entry, now)
    return approval, True


def check_choice(actor: Actor, project_id: int, decision_id: int, *, revision: int, option: str) -> None:
    """Raise what `approve` would raise of this choice, before a name is typed. Writes nothing."""
    allow(actor, "approve", project_id)
    with read():
        _choice(actor, project_id, decision_id, revision, option)


@act("enter_paper_approval")
def enter_paper_approval(
    actor: Actor, project_id: int, decision_id: int, *, revision: int, option: str, person: int, name: str, now: int,
    signed_on: date | None = None, another_name: bool = False,
) -> ApprovalFact:
    """Someone of the household signed the printed question; the office enters it. The sheet is to be kept.

    `another_name`: whoever enters it has seen that the paper bears another name than the person has here.
    """
    asked = asked_of(project_id, decision_id)
    refuse_closed(asked.id, asked.number)
    signer = in_project(Person, project_id, person, field="person")
    refuse_onlooker(asked, Actor(signer.role, signer.id, signer.name, project_id, signer.may_approve))
    refuse_superseded(asked, revision)
    chosen = _chosen(asked, option)
    _refuse_unlike(asked, chosen)
    given = decision_rows.approvals(asked.id, revision)
    _refuse_another(project_id, asked, given, option, signer.id)
    if any(before.person_id == signer.id for before in given):
        raise FieldRefused("person", f"{signer.name} has approved this already.")
    name = _signed_name(project_id, name, signer, another_name)
    _check_signed_on(project_id, asked, signed_on, now)
    approval = ApprovalFact(asked.id, revision, option, signer.id, name, now, signed_on, actor.name)
    decision_rows.add_approval(approval, entered_by=actor.id)
    settle(project_id, asked, [*given, approval])
    body = _body(asked, approval, chosen) | {
        "on_paper": True, "person": signer.id, "signer": signer.name,
        "signed_on": signed_on.isoformat() if signed_on else None,
    }
    entry = keep(actor, project_id, "approved", body, now)
    tell_approved(project_id, signer.id, asked.id, asked.number, entry, now)
    _tell_choice(project_id, signer.id, asked, [*given, approval], entry, now)
    return approval


@act("withdraw")
def withdraw(actor: Actor, project_id: int, decision_id: int, *, reason: str, now: int) -> None:
    """Take back one's own approval, as long as no work that it held has started. The approval stays on the record."""
    asked = asked_of(project_id, decision_id)
    mine = decision_rows.standing_approval(asked.id, asked.revision, actor.id)
    if mine is None:
        raise NothingToWithdraw(number=asked.number)
    started = plan_rows.started_phases(asked.id)
    if started:
        raise TooLateToWithdraw(phase=started[0].name)
    reason = written("reason", reason)
    decision_rows.withdraw(mine, actor.id, reason, now)
    settle(project_id, asked, decision_rows.approvals(asked.id, asked.revision))
    body = {"decision": asked.number, "revision": asked.revision, "reason": reason}
    keep(actor, project_id, "withdrawn", body, now)
    tell_others(project_id, actor.id, "taken_back", asked, now)


@act("take_back_paper_approval")
def take_back_paper_approval(
    actor: Actor, project_id: int, decision_id: int, *, person: int, reason: str, now: int
) -> None:
    """The staff entered from paper what was not so: take it back, as long as no work that it held has started."""
    asked = asked_of(project_id, decision_id)
    entered = decision_rows.entered_from_paper(asked.id, asked.revision)
    wrong = next((approval for approval in entered if approval.person_id == person), None)
    if wrong is None:
        raise NothingFromPaper(number=asked.number)
    started = plan_rows.started_phases(asked.id)
    if started:
        raise StartedOnIt(phase=started[0].name, number=asked.number)
    reason = needed("reason", reason, "Say what was wrong; it goes on the record.")
    decision_rows.withdraw(wrong.id, person, reason, now, entered_by=actor.id)
    settle(project_id, asked, decision_rows.approvals(asked.id, asked.revision))
    body = {
        "decision": asked.number, "revision": asked.revision, "reason": reason, "on_paper": True, "person": person,
        "name": wrong.name,
    }
    keep(actor, project_id, "withdrawn", body, now)
    tell_taken_back(project_id, person, asked.id, asked.number, wrong.at, reason, now)
    tell_others(project_id, person, "taken_back", asked, now)


def _choice(
    actor: Actor, project_id: int, decision_id: int, revision: int, option: str
) -> tuple[Asked, dict[str, Any], list[ApprovalFact]]:
    """The question, the chosen option and the approvals given so far, if this person may still choose it."""
    asked = asked_of(project_id, decision_id)
    refuse_onlooker(asked, actor)
    given = decision_rows.approvals(asked.id, revision)
    answered = any(approval.person_id == actor.id for approval in given)
    if not answered:
        refuse_closed(asked.id, asked.number)
    refuse_superseded(asked, revision)
    chosen = _chosen(asked, option)
    if not answered:
        _refuse_unlike(asked, chosen)
    _refuse_another(project_id, asked, given, option, actor.id)
    return asked, chosen, given


def asked_of(project_id: int, decision_id: int) -> Asked:
    """Give the decision as whoever answers it must see it. Raises NotFound."""
    asked = decision_rows.for_answer(project_id, decision_id)
    if asked is None:
        raise NotFound(what="decision")
    return asked


def refuse_onlooker(asked: Asked, actor: Actor) -> None:
    """Raise NotYours: some of a household only read; and a decision may be for one named person to approve."""
    named = asked.approvers not in ("any", "all")
    if not actor.may_approve or (named and asked.approvers != str(actor.id)):
        raise NotYours(who="the person of the household who is named for it")


def refuse_superseded(asked: Asked, revision: int) -> None:
    """Raise Superseded for an earlier revision, saying what has changed since."""
    if revision == asked.revision:
        return
    old = decision_rows.find_revision(asked.id, revision)
    if old is None:
        raise FieldRefused("revision", f"There is no revision {revision}. The current one is {asked.revision}.")
    changes = what_changed(old.question, old.options, asked.question, asked.options)
    raise Superseded(changes=" ".join(changes), revision=asked.revision, changed=changes)


def _chosen(asked: Asked, option: str) -> dict[str, Any]:
    chosen = asked.option(option)
    if chosen is None:
        keys = ", ".join(o["key"] for o in asked.options)
        raise FieldRefused("option", f"Choose one of the options: {keys}.")
    return chosen


def _refuse_unlike(asked: Asked, chosen: dict[str, Any]) -> None:
    """Nobody approves what was not asked, or what the crew could not be given as it is kept."""
    if not asked.as_asked:
        raise NotAsAsked
    if not can_be_worked_to(chosen, asked.kind):
        raise NotDrawn


def _refuse_another(
    project_id: int, asked: Asked, given: list[ApprovalFact], option: str, person_id: int
) -> None:
    """Where one answer is enough, it settles the option, and the others may only join it. Where all must agree, each
    chooses freely until they do; nobody chooses twice."""
    free = asked.approvers == ALL and asked.state != "approved"
    against = [one for one in given if one.option != option and (one.person_id == person_id or not free)]
    if against:
        raise _already(project_id, asked, against[0])


def refuse_approved(project_id: int, asked: Asked, person_id: int) -> None:
    """Raise AlreadyApproved where the question is settled, or this person has chosen."""
    given = decision_rows.approvals(asked.id, asked.revision)
    against = [one for one in given if asked.state == "approved" or one.person_id == person_id]
    if against:
        raise _already(project_id, asked, against[0])


def _already(project_id: int, asked: Asked, given: ApprovalFact) -> AlreadyApproved:
    title = (asked.option(given.option) or {}).get("title", given.option)
    when = when_words(given.at, project_row(project_id).timezone)
    return AlreadyApproved(name=given.name, option=title, number=asked.number, when=when)


def _tell_choice(
    project_id: int, person_id: int, asked: Asked, given: list[ApprovalFact], entry: Entry, now: int
) -> None:
    """The other owners; and, where they now differ, the managers, who call."""
    tell_others(project_id, person_id, "approved", asked, now, option=given[-1].option, entry=entry.sequence)
    if len({one.option for one in given}) > 1:
        tell_managers(project_id, "they_differ", {"decision": asked.id}, now)


def _signed_name(project_id: int, name: str, signer: Person, another_name: bool) -> str:
    name = signature(name, _FULL_NAME)
    others = [one.name for one in person_of_project(project_id) if one.id != signer.id]
    if not another_name and doubtful(name, signer.name, others):
        message = (
            f"This is not the name of {signer.name}. Look at who signed; or say that the paper bears another name."
        )
        raise FieldRefused("name", message)
    return name


def _check_signed_on(project_id: int, asked: Asked, signed_on: date | None, now: int) -> None:
    """Between the day on which this revision was asked and today, at the house."""
    if signed_on is None:
        return
    zone = project_row(project_id).timezone
    if signed_on > local(now, zone).date():
        raise FieldRefused("signed_on", "This lies in the future. Give the date that stands beside the signature.")
    asked_on = local(decision_rows.revision(asked.id, asked.revision).asked_at, zone).date()
    if signed_on < asked_on:
        message = (
            f"Revision {asked.revision} was asked on {day_words(asked_on)}: a sheet that was signed before shows "
            "another question."
        )
        raise FieldRefused("signed_on", message)


def _body(asked: Asked, approval: ApprovalFact, chosen: dict[str, Any]) -> dict[str, Any]:
    return {
        "decision": asked.number, "revision": approval.revision, "check_code": asked.check_code,
        "question": asked.question, "option": approval.option, "title": chosen["title"], "name": approval.name,
        "cost_cents": chosen.get("cost_cents"), "days": chosen.get("days"), **failing_told(chosen),
        **extras_told(chosen),
    }
