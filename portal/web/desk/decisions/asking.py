"""Decisions at the desk: asked, seen as the household sees them, asked again, and questions answered."""

from typing import Any

from flask import Response, request, url_for

from portal import clock
from portal.acts.decisions.asking import answer_question, ask_again, ask_decision, change_decision
from portal.acts.decisions.closing import withdraw_question
from portal.api.resources.decisions import AnswerSchema
from portal.layouts.kinds import KINDS
from portal.pages.closed import closed_words
from portal.pages.decision.decision_page import options_of, unlike_words
from portal.pages.decision.failing import today_words
from portal.pages.decision.moving import moving_sentences
from portal.pages.decision.option_drawing import advice_of
from portal.pages.decision.taking_back import mistakes_to_take_back, taking_back_words
from portal.pages.home.approved import approved_by
from portal.pages.home.asking import consequences, question_sentences, urgency_words
from portal.pages.outlook import outlook_of
from portal.request.option_photos import with_kept_photos
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.decision_views import DecisionView, view
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import NotFound
from portal.store.rows import plan_rows
from portal.store.rows.editable import in_project
from portal.store.rows.proposal_rows import proposals_of
from portal.store.tables import Decision
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.chosen_photos import chosen_photos
from portal.web.desk.decisions.beginning import waiting_for
from portal.web.desk.forms import Values, project_form, seen
from portal.web.desk.showing import show
from portal.web.forms import decision_forms as made
from portal.web.forms.inputs import Field, Form
from portal.words.codes import short_code
from portal.words.dates import local, when_words

ONE = f"{PROJECT}/decisions/<int:decision_id>"


@form_page(f"{PROJECT}/decisions/new", "ask_decision")
def ask(project_id: int) -> Response:
    """`?phase=`: the phase that it is asked from."""
    def do(values: Values) -> tuple[str, str]:
        whole = with_kept_photos(project_id, made.with_ticked(values))
        asked = ask_decision(who(), project_id, whole, clock.now())
        return f"Decision {asked.number} is asked. It stands on the page.", _at(project_id, asked.id)

    sent, wrong = chosen_photos(project_id)
    snapshot = read_snapshot(project_id)
    start = waiting_for(snapshot, request.args.get("phase", ""))
    return project_form(made.ask_form(snapshot, sent), do, project_id, start, wrong=wrong)


@blueprint.get(f"{ONE}/")
def decision(project_id: int, decision_id: int) -> Response:
    row, snapshot = in_project(Decision, project_id, decision_id), read_snapshot(project_id)
    asked = snapshot.decision(row.id)
    return show("decision_desk.html", project=snapshot.project, decision=asked, **_shown(snapshot, asked))


@form_page(f"{ONE}/again", "ask_again")
def again(project_id: int, decision_id: int) -> Response:
    asked = _view(project_id, decision_id)

    def do(values: Values) -> str:
        options = made.merged_options(asked.options, values["options"])
        whole = with_kept_photos(project_id, values | {"options": options})
        ask_again(who(), project_id, decision_id, whole, clock.now(), seen())
        return "It is asked again. Earlier approvals no longer count."

    sent, wrong = chosen_photos(project_id)
    form = made.again_form(read_snapshot(project_id), asked.number, asked.revision, len(asked.options), sent)
    start = {"question": asked.question, "options": made.typed_options(asked.options)}
    onward = _at(project_id, decision_id)
    return project_form(form, do, project_id, start, then=onward, seen=asked.version, wrong=wrong)


@form_page(f"{ONE}/change", "change_decision")
def change_waiting(project_id: int, decision_id: int) -> Response:
    asked = _view(project_id, decision_id)

    def do(values: Values) -> str:
        change_decision(who(), project_id, decision_id, seen(), values, clock.now())
        return "It is changed. The question stays as it was asked."

    form = made.change_form(read_snapshot(project_id), asked.number, asked.holds)
    names = ("holds", "lead_days", "asked_for", "approvers", "room")
    start = {name: getattr(asked, name) for name in names}
    return project_form(form, do, project_id, start, then=_at(project_id, decision_id), seen=asked.version)


@form_page(f"{ONE}/withdraw", "withdraw_question")
def withdraw(project_id: int, decision_id: int) -> Response:
    asked = _view(project_id, decision_id)

    def do(values: Values) -> str:
        reason, lift_hold = values["reason"], values["lifts_hold"]
        withdraw_question(who(), project_id, decision_id, reason=reason, lift_hold=lift_hold, now=clock.now())
        return closed_words(after := read_snapshot(project_id), after.decision(decision_id))

    form = made.withdraw_form(asked.number, asked.question, [one.name for one in plan_rows.phases_waiting(asked.id)])
    return project_form(form, do, project_id, then=_at(project_id, decision_id))


@form_page(f"{ONE}/questions/<int:question_id>/answer", "answer_question")
def answer(project_id: int, decision_id: int, question_id: int) -> Response:
    asked = _view(project_id, decision_id)
    question = next((one for one in asked.questions_back if one.id == question_id), None)
    if question is None:
        raise NotFound(what="question")

    def do(values: Values) -> str:
        answer_question(who(), project_id, decision_id, question_id, answer=values["answer"], now=clock.now())
        return "The answer stands on the page, and the decision is theirs again."

    form = Form(
        f"Answer {question.person.name}", [Field("answer", "Our answer", "text", required=True)], AnswerSchema(),
        "Answer", intro=f"Decision {asked.number}, “{asked.question}” They ask: “{question.text}”",
    )
    return project_form(form, do, project_id, then=_at(project_id, decision_id))


def _shown(snapshot: Snapshot, asked: DecisionFact) -> dict[str, Any]:
    now, zone = clock.now(), snapshot.project.timezone
    today, outlook = local(now, zone).date(), outlook_of(snapshot, schedule_of(snapshot, now))
    needed_by = outlook.needed_by.get(asked.id)
    settled = asked.option(asked.approvals[0].option) if asked.approvals else None
    return {
        "room": snapshot.room_name(asked.room_id),
        "asked_at": when_words(asked.asked_at, zone),
        "code": short_code(asked.check_code),
        "options": options_of(asked),
        "today": today_words(asked),
        "unlike": unlike_words(asked),
        "advice": advice_of(asked.options),
        "has_layouts": asked.kind in KINDS,
        "proposals": [(one, when_words(one.at, zone)) for one in proposals_of(asked.id)],
        "by": approved_by(asked.approvals, snapshot.people, zone) if asked.approvals else "",
        "approved": settled["title"] if settled else "",
        "to_take_back": mistakes_to_take_back(snapshot, asked),
        "taking_back": taking_back_words(snapshot, outlook, asked, today) if asked.approvals else "",
        "closed": closed_words(snapshot, asked),
        "may_ask_again": not asked.work_has_begun,
        "urgency": urgency_words(needed_by, today, asked.state == "asked_back") if asked.is_open else "",
        "late": needed_by is not None and needed_by < today,
        "sentences": [
            *consequences(snapshot, outlook, asked, today), *moving_sentences(snapshot, outlook, asked, today)
        ] if asked.is_open else [],
        "questions": list(question_sentences(snapshot, asked)),
        "unanswered": asked.unanswered,
    }


def _view(project_id: int, decision_id: int) -> DecisionView:
    return view(in_project(Decision, project_id, decision_id))


def _at(project_id: int, decision_id: int) -> str:
    return url_for("desk.decision", project_id=project_id, decision_id=decision_id)
