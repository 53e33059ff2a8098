"""Asking decisions, asking again when the question changes, and answering what is asked back."""

import json
from collections.abc import Sequence
from typing import Any

from portal import signing
from portal.acts.actor import Actor, act, known_values
from portal.acts.decisions.approvers import approvers_told, check_approvers, settle_again
from portal.acts.decisions.closing import refuse_begun, refuse_closed
from portal.acts.decisions.failing_layouts import offer_failing_layout, under_name
from portal.acts.decisions.finishes import with_extras
from portal.acts.decisions.holds import set_holds_of_decision
from portal.acts.decisions.kept_sizes import with_kept
from portal.acts.decisions.layout_options import with_layouts, without_keys
from portal.acts.decisions.planned import settle_planned
from portal.acts.entries import keep, keep_rest
from portal.acts.refusals import AlreadyAnswered
from portal.acts.telling import tell_answered, tell_asked, tell_newly_named
from portal.content import guidance_for
from portal.layouts.declared import OF_OPTION, OF_QUESTION, declared
from portal.record.log.approval_history import ANY
from portal.record.log.canonical import canonical, digest
from portal.record.log.drawing_hashes import drawing_hashes
from portal.store.engine.kept_options import json_in
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows import decision_rows, planned_rows
from portal.store.rows.editable import add_row, change_row, in_project
from portal.store.rows.wording_rows import keep_wording
from portal.store.tables import Decision, Phase, PlannedQuestion, QuestionBack, Revision, Room

_ASKED = ("kind", "room", "lead_days", "asked_for", "approvers")


@act("ask_decision")
def ask_decision(
    actor: Actor, project_id: int, values: dict[str, Any], now: int, planned: PlannedQuestion | None = None
) -> Decision:
    """Ask the household. `values`: question, options, perhaps kind, room, lead_days, asked_for, holds, detail.

    Of a kind that has layouts, `detail.dimensions` makes drawings of the options (`layout_options`). `planned`: the
    plan's question that it asks; where none is named, what is asked by drawing settles the one of its kind and room.
    """
    _check_room(project_id, values)
    check_approvers(project_id, values.get("approvers", ANY))
    number = decision_rows.next_number(project_id)
    decision = add_row(Decision, project=project_id, number=number, **known_values(values, *_ASKED))
    revision = _add_revision(actor, decision, values, now, reason="", salt=signing.new_salt())
    _set_holds(actor, project_id, decision, values, now)
    if planned:
        planned_rows.settle(planned, decision=decision)
    else:
        settle_planned(project_id, decision, values.get("detail"))
    _keep(actor, project_id, "asked", decision, revision, now)
    _offer_failing(actor, project_id, decision, revision, now)
    tell_asked(project_id, decision, now)
    return decision


@act("change_decision")
def change_decision(
    actor: Actor, project_id: int, decision_id: int, seen: int, values: dict[str, Any], now: int
) -> Decision:
    """Change what is not part of the question: lead time, need-by date, who must approve, which phases it holds.

    Who must approve it stays once it is closed: with fewer, it could be approved without anybody's answer.
    """
    before = in_project(Decision, project_id, decision_id)
    if values.get("approvers", before.approvers) != before.approvers:
        refuse_closed(before.id, before.number)
    _check_room(project_id, values)
    names = ("room", "lead_days", "asked_for", "approvers")
    decision = change_row(Decision, decision_id, seen, known_values(values, *names))
    _set_holds(actor, project_id, decision, values, now)
    if "approvers" in values:
        check_approvers(project_id, values["approvers"])
        settle_again(project_id, decision_id)
        _keep_approvers(actor, project_id, decision, before.approvers, now)
    keep_rest(actor, project_id, "question_changed", {"decision": decision.number}, now)
    decision = in_project(Decision, project_id, decision_id)
    tell_newly_named(project_id, decision, before.approvers, now)
    return decision


@act("ask_again")
def ask_again(
    actor: Actor, project_id: int, decision_id: int, values: dict[str, Any], now: int, seen: int | None = None
) -> Decision:
    """The question has changed: a new revision. Approvals of earlier ones no longer count. One that was withdrawn may
    be asked again as it was; it holds again what it held."""
    decision = in_project(Decision, project_id, decision_id)
    refuse_begun(decision.id, decision.number)
    withdrawn = decision.state == "withdrawn"
    current = decision_rows.revision(decision_id, decision.revision)
    merged = {"question": current.question, **_declared(current)} | values
    number = {"revision": decision.revision + 1, "state": "asked"}
    decision = change_row(Decision, decision_id, seen or decision.version, number)
    salt = _salt_of(current) or ("" if withdrawn else signing.new_salt())
    revision = _add_revision(actor, decision, merged, now, values.get("reason", ""), salt, current.options)
    if not withdrawn and _shows_the_same(revision, current):
        raise FieldRefused("question", "Nothing has changed. Change the question or an option, then ask again.")
    settle_planned(project_id, decision, merged.get("detail"))
    _keep(actor, project_id, "revised", decision, revision, now)
    _offer_failing(actor, project_id, decision, revision, now)
    tell_asked(project_id, decision, now)
    return decision


def _declared(current: Revision) -> dict[str, Any]:
    """Details that were kept before only declared ones were are not asked again; what is of no shape of ours is left
    for whoever refuses it by name."""
    options = current.options
    if isinstance(options, list):
        options = [{**one, **_less(one, OF_OPTION)} if isinstance(one, dict) else one for one in options]
    return {"options": options, "detail": current.detail, **_less({"detail": current.detail}, OF_QUESTION)}


def _less(one: dict[str, Any], names: frozenset[str]) -> dict[str, Any]:
    detail = one.get("detail")
    return {"detail": declared(detail, names)} if isinstance(detail, dict) and set(detail) - names else {}


@act("answer_question")
def answer_question(
    actor: Actor, project_id: int, decision_id: int, question_id: int, *, answer: str, now: int
) -> QuestionBack:
    """Answer what the household asked back; the decision is theirs again."""
    decision = in_project(Decision, project_id, decision_id)
    question = decision_rows.question_back(decision_id, question_id)
    if question is None:
        raise NotFound(what="question")
    if question.answer is not None:
        raise AlreadyAnswered(name=question.answered_by.name if question.answered_by else "the office")
    refuse_closed(decision.id, decision.number)
    if not answer.strip():
        raise FieldRefused("answer", "Write the answer first.")
    answered = decision_rows.answer(question_id, answer.strip(), actor.id, now)
    if decision.state == "asked_back" and not decision_rows.unanswered(decision_id):
        change_row(Decision, decision_id, decision.version, {"state": "asked"})
    body = {"decision": decision.number, "question": question.text, "answer": answer.strip()}
    keep(actor, project_id, "answered", body, now)
    tell_answered(project_id, decision, question, now)
    return answered


def what_is_shown(decision: Decision, values: dict[str, Any], salt: str = "") -> dict[str, Any]:
    """Everything that the household is shown of a revision: this, canonical, is what its check code stands for.

    `salt` is random: without it, whoever reads all of it but the prices could find those by trying them on the code.
    Empty for what was asked without one and is asked again as it was: sheets that are out have its code.
    """
    guidance = guidance_for(decision.kind)
    shown = {
        "project": decision.project_id,
        "decision": decision.number,
        "kind": decision.kind,
        "question": values["question"],
        "options": values["options"],
        "detail": values.get("detail"),
        "guidance": guidance.version if guidance else None,
    }
    return {**shown, "salt": salt} if salt else shown


def _salt_of(revision: Revision) -> str:
    said = json_in(revision.shown)
    return str(said.get("salt") or "") if isinstance(said, dict) else ""


def with_keys(options: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Options with a key each: the one that was sent, else `a`, `b`, ... Two with one key are refused."""
    keyed = [{**option, "key": option.get("key") or chr(ord("a") + i)} for i, option in enumerate(options)]
    keys = [option["key"] for option in keyed]
    if len(set(keys)) != len(keys):
        raise FieldRefused("options", "Two options have the same key. Give each its own.")
    if sum(bool(option.get("recommended")) for option in keyed) > 1:
        raise FieldRefused("options", "At most one option can be recommended.")
    return keyed


def _add_revision(
    actor: Actor, decision: Decision, values: dict[str, Any], now: int, reason: str, salt: str,
    asked: Sequence[dict[str, Any]] = (),
) -> Revision:
    """`asked`: the options of the revision before, where there is one."""
    values = with_kept(decision.project_id, decision.kind, values)
    values = with_layouts(decision.kind, values, asked)
    values = {**values, "options": under_name(actor.name, with_keys(with_extras(values["options"])), now)}
    shown = what_is_shown(decision, values, salt)
    if guidance := guidance_for(decision.kind):
        keep_wording(guidance)
    return add_row(
        Revision, decision=decision, number=decision.revision, question=values["question"], options=values["options"],
        detail=values.get("detail"), shown=canonical(shown).decode(), check_code=digest(shown),
        asked_at=now, asked_by=actor.id, reason=reason,
    )


def _shows_the_same(new: Revision, old: Revision) -> bool:
    """An old revision may name its guidance by the beginning of the hash, have layouts without keys and no salt, as
    earlier versions did."""
    one, other = json.loads(new.shown), json_in(old.shown)
    if not isinstance(other, dict) or not {"guidance", "options"} <= set(other):
        return False
    for each in (one, other):
        each.pop("salt", None)
    version, before = one.pop("guidance"), other.pop("guidance")
    same = one == other or {**one, "options": without_keys(one["options"])} == other
    return same and (version == before or bool(before and version and version.startswith(before)))


def _set_holds(actor: Actor, project_id: int, decision: Decision, values: dict[str, Any], now: int) -> None:
    if "holds" in values:
        for phase in values["holds"]:
            in_project(Phase, project_id, phase, field="holds")
        set_holds_of_decision(actor, project_id, decision.id, values["holds"], "holds", now)


def _check_room(project_id: int, values: dict[str, Any]) -> None:
    if values.get("room") is not None:
        in_project(Room, project_id, values["room"], field="room")


def _keep(actor: Actor, project_id: int, kind: str, decision: Decision, revision: Revision, now: int) -> None:
    body = {
        "decision": decision.number, "revision": revision.number, "check_code": revision.check_code,
        "question": revision.question, "reason": revision.reason, **approvers_told(decision.approvers),
        **_drawn_told(revision),
    }
    keep(actor, project_id, kind, body, now)


def _drawn_told(revision: Revision) -> dict[str, Any]:
    """The hashes of all that is printed of its drawn options; nothing of a question in words."""
    drawn = drawing_hashes(revision.options)
    return {"drawn": drawn} if drawn else {}


def _offer_failing(actor: Actor, project_id: int, decision: Decision, revision: Revision, now: int) -> None:
    if any(option.get("despite") for option in revision.options):
        offer_failing_layout(actor, project_id, decision, revision, now)


def _keep_approvers(actor: Actor, project_id: int, decision: Decision, before: str, now: int) -> None:
    """An approval may count, or no longer be enough, only because of this."""
    if decision.approvers != before:
        body = {"decision": decision.number, "before": before, **approvers_told(decision.approvers)}
        keep(actor, project_id, "approvers_changed", body, now)
