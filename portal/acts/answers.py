"""What the household says to a decision: approve one option of one revision, or ask back."""

from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.approvers import settle
from portal.acts.changes import what_changed
from portal.acts.consent import agree_to_screen
from portal.acts.entries import keep
from portal.acts.refusals import AlreadyApproved, NothingToWithdraw, NotYours, Superseded, TooLateToWithdraw
from portal.acts.telling import tell_approved
from portal.acts.times import when_words
from portal.acts.written import needed, signature, written
from portal.store import decision_rows, plan_rows
from portal.store.database import read
from portal.store.decision_rows import Asked
from portal.store.facts import ApprovalFact
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows import in_project, project_row
from portal.store.tables import Person, QuestionBack

_FULL_NAME = "Type your full name to confirm."


@act
def approve(
    actor: Actor, project_id: int, decision_id: int, *, revision: int, option: str, name: str, now: int
) -> tuple[ApprovalFact, bool]:
    """Accept one option of one revision, under one's typed name.

    Returns the approval and whether it is new: the same approval sent again is the first one.
    Raises Superseded for an earlier revision, AlreadyApproved for another option than was approved.
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
    return approval, True


def check_choice(actor: Actor, project_id: int, decision_id: int, *, revision: int, option: str) -> None:
    """Raise what `approve` would raise of this choice, before a name is typed. Writes nothing."""
    with read():
        _choice(actor, project_id, decision_id, revision, option)


@act
def enter_paper_approval(
    actor: Actor, project_id: int, decision_id: int, *, revision: int, option: str, person: int, name: str, now: int
) -> ApprovalFact:
    """Someone of the household signed the printed question; the office enters it. The sheet is to be kept."""
    asked = _asked(project_id, decision_id)
    signer = in_project(Person, project_id, person, field="person")
    _refuse_onlooker(Actor(signer.role, signer.id, signer.name, project_id, signer.may_approve), asked)
    _refuse_superseded(asked, revision)
    chosen = _chosen(asked, option)
    given = decision_rows.approvals(asked.id, revision)
    _refuse_another(project_id, asked, given, option)
    approval = ApprovalFact(asked.id, revision, option, signer.id, signature(name, _FULL_NAME), now)
    if any(before.person_id == signer.id for before in given):
        raise FieldRefused("person", f"{signer.name} has approved this already.")
    decision_rows.add_approval(approval, entered_by=actor.id)
    settle(project_id, asked, [*given, approval])
    body = _body(asked, approval, chosen) | {"on_paper": True, "person": signer.id}
    entry = keep(actor, project_id, "approved", body, now)
    tell_approved(project_id, signer.id, asked.id, asked.number, entry, now)
    return approval


@act
def withdraw(actor: Actor, project_id: int, decision_id: int, *, reason: str, now: int) -> None:
    """Take back one's own approval, as long as no work that it held has started. The approval stays on the record."""
    asked = _asked(project_id, decision_id)
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


@act
def ask_back(
    actor: Actor, project_id: int, decision_id: int, *, revision: int, text: str, now: int
) -> QuestionBack:
    """Ask instead of answering. The decision waits for the manager's answer."""
    asked = _asked(project_id, decision_id)
    _refuse_superseded(asked, revision)
    text = needed("text", text, "Write your question first.")
    question = QuestionBack.create(decision=asked.id, revision=revision, person=actor.id, text=text, asked_at=now)
    if asked.state != "approved":
        decision_rows.set_state(asked.id, revision, "asked_back")
    keep(actor, project_id, "asked_back", {"decision": asked.number, "revision": revision, "text": text}, now)
    return question


def _choice(
    actor: Actor, project_id: int, decision_id: int, revision: int, option: str
) -> tuple[Asked, dict[str, Any], list[ApprovalFact]]:
    """The question, the chosen option and the approvals given so far, if this person may still choose it."""
    asked = _asked(project_id, decision_id)
    _refuse_onlooker(actor, asked)
    _refuse_superseded(asked, revision)
    chosen = _chosen(asked, option)
    given = decision_rows.approvals(asked.id, revision)
    _refuse_another(project_id, asked, given, option)
    return asked, chosen, given


def _asked(project_id: int, decision_id: int) -> Asked:
    asked = decision_rows.for_answer(project_id, decision_id)
    if asked is None:
        raise NotFound(what="decision")
    return asked


def _refuse_onlooker(actor: Actor, asked: Asked) -> None:
    """Some of a household only read; and a decision may be for one named person to approve."""
    named = asked.approvers not in ("any", "all")
    if not actor.may_approve or (named and asked.approvers != str(actor.id)):
        raise NotYours(who="the person of the household who is named for it")


def _refuse_superseded(asked: Asked, revision: int) -> None:
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


def _refuse_another(project_id: int, asked: Asked, given: list[ApprovalFact], option: str) -> None:
    """The first approval of a revision settles the option; the others may only join it."""
    other = next((approval for approval in given if approval.option != option), None)
    if other:
        title = (asked.option(other.option) or {}).get("title", other.option)
        when = when_words(other.at, project_row(project_id).timezone)
        raise AlreadyApproved(name=other.name, option=title, number=asked.number, when=when)


def _body(asked: Asked, approval: ApprovalFact, chosen: dict[str, Any]) -> dict[str, Any]:
    return {
        "decision": asked.number, "revision": approval.revision, "check_code": asked.check_code,
        "option": approval.option, "title": chosen["title"], "name": approval.name,
        "cost_cents": chosen.get("cost_cents"), "days": chosen.get("days"),
    }
