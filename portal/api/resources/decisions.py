"""Decisions: asked, asked again as a new revision, approved, asked back and answered."""

from typing import Any

from flask import request
from marshmallow import fields, validate

from portal import clock
from portal.acts.decisions import answers, closing
from portal.acts.decisions import asking as acts
from portal.acts.decisions.asking_back import ask_back as ask
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import makes, makes_at, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, Strict, Whole, YesNo, day_field, name_field, note_field, text_field
from portal.api.http.versions import needs_version, shows_version, takes_version
from portal.api.http.warnings import warned, warnings_field
from portal.api.resources.asked.options import DetailJson, OptionSchema
from portal.layouts.declared import OF_QUESTION
from portal.request.option_photos import with_kept_photos
from portal.store.facts import ANOTHER_OPTION, QUESTION
from portal.store.reading import decision_views
from portal.store.rows.editable import in_project, page_of
from portal.store.tables import Decision

blueprint = under_project("decisions", "Questions to the homeowner, in numbered revisions.")


_QUESTION_DETAIL = {
    "description": "Of a `kind` that is laid out (each has an address below /layouts): `dimensions`, as they are sent "
                   "there; then at least one option names its layout.",
}
class QuestionSchema(Strict):
    """What the household is shown."""

    question = text_field(4000, required=True)
    options = fields.List(Whole(OptionSchema), required=True, validate=validate.Length(1, 12))
    detail = DetailJson(OF_QUESTION, allow_none=True, metadata=_QUESTION_DETAIL)


class QuestionBackSchema(Strict):
    id = fields.Integer(dump_only=True)
    revision = fields.Integer(required=True, strict=True)
    kind = fields.String(load_default=QUESTION, validate=validate.OneOf([QUESTION, ANOTHER_OPTION]))
    text = text_field(4000, required=True)
    name = fields.String(attribute="person.name", dump_only=True)
    asked_at = Instant(dump_only=True)
    answer = fields.String(dump_only=True, allow_none=True)
    answered_at = Instant(dump_only=True)


class ApprovalSchema(Strict):
    revision = fields.Integer(required=True, strict=True)
    option = fields.String(required=True)
    name = name_field(required=True)
    person = fields.Integer(attribute="person_id", dump_only=True)
    at = Instant(dump_only=True)


class PaperSchema(Strict):
    revision = fields.Integer(required=True, strict=True)
    option = fields.String(required=True)
    person = fields.Integer(required=True, strict=True)
    name = name_field(required=True)
    signed_on = day_field(allow_none=True, load_default=None)
    another_name = YesNo(load_default=False)


class PaperWithdrawalSchema(Strict):
    person = fields.Integer(required=True, strict=True)
    reason = text_field(1000, required=True)


class WithdrawalSchema(Strict):
    reason = note_field(1000, load_default="")


class QuestionWithdrawalSchema(Strict):
    """`lift_hold`: what it holds may start without an answer. Else it stays held until the question is asked again and
    approved, or the work released."""

    reason = text_field(1000, required=True)
    lift_hold = YesNo(load_default=False, attribute="lifts_hold")
    name = fields.String(attribute="staff.name", dump_only=True)
    at = Instant(dump_only=True)


class DecisionSchema(QuestionSchema):
    id = fields.Integer(dump_only=True)
    number = fields.Integer(dump_only=True)
    kind = fields.String(validate=validate.Regexp(r"^[a-z][a-z_]{0,39}$", error="Use a-z and _ only."))
    room = fields.Integer(allow_none=True, strict=True)
    lead_days = fields.Integer(strict=True, validate=validate.Range(0, 365))
    asked_for = day_field(allow_none=True)
    approvers = fields.String(validate=validate.Regexp(r"^(any|all|[0-9]+)$", error="Send any, all or a person's id."),
                              metadata={"description": "Whose approval counts: any of those who may approve, all of "
                                                       "them, or the one person with this id.", "examples": ["all"]})
    holds = fields.List(fields.Integer(strict=True), validate=validate.Length(max=100), metadata={
        "description": "The ids of the phases that do not start before it is approved.",
    })
    revision = fields.Integer(dump_only=True)
    check_code = fields.String(dump_only=True)
    state = fields.String(dump_only=True)
    closed = fields.String(dump_only=True, allow_none=True)
    withdrawal = Whole(QuestionWithdrawalSchema, dump_only=True, allow_none=True)
    asked_at = Instant(dump_only=True)
    approvals = fields.List(Whole(ApprovalSchema), dump_only=True)
    questions_back = fields.List(Whole(QuestionBackSchema), dump_only=True)
    warnings = warnings_field()


class ChangeSchema(DecisionSchema):
    class Meta(DecisionSchema.Meta):
        exclude = ("question", "options", "detail", "kind")


class AgainSchema(QuestionSchema):
    reason = note_field(1000)


class RevisionSchema(QuestionSchema):
    number = fields.Integer(dump_only=True)
    check_code = fields.String(dump_only=True)
    asked_at = Instant(dump_only=True)
    reason = fields.String(dump_only=True)


class AnswerSchema(Strict):
    answer = text_field(4000, required=True)


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, DecisionSchema(many=True))
@pages
def every(query: dict[str, Any], project_id: int) -> Any:
    rows, total = page_of(Decision, project_id, offset(query), query["per_page"])
    return [decision_views.view(row) for row in rows], total


@blueprint.route("", endpoint="add", methods=["POST"])
@idempotent
@blueprint.arguments(DecisionSchema)
@blueprint.response(201, DecisionSchema)
@makes
@warned
def add(values: dict[str, Any], project_id: int) -> Any:
    asked = acts.ask_decision(who(), project_id, with_kept_photos(project_id, values), clock.now())
    return decision_views.view(asked)


@blueprint.route("/<int:decision_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, DecisionSchema)
@shows_version
def one(project_id: int, decision_id: int) -> Any:
    return decision_views.view(in_project(Decision, project_id, decision_id))


@blueprint.route("/<int:decision_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(ChangeSchema(partial=True))
@needs_version(Decision, "decision_id")
@blueprint.response(200, DecisionSchema)
@shows_version
@warned
def change(values: dict[str, Any], project_id: int, decision_id: int, seen: int) -> Any:
    return decision_views.view(acts.change_decision(who(), project_id, decision_id, seen, values, clock.now()))


@blueprint.route("/<int:decision_id>/revisions", endpoint="revisions", methods=["GET"])
@blueprint.response(200, RevisionSchema(many=True))
def revisions(project_id: int, decision_id: int) -> Any:
    return decision_views.revisions(in_project(Decision, project_id, decision_id))


@blueprint.route("/<int:decision_id>/revisions", endpoint="ask_again", methods=["POST"])
@idempotent
@blueprint.arguments(AgainSchema(partial=True))
@takes_version(Decision, "decision_id")
@blueprint.response(201, DecisionSchema)
@makes_at(lambda row, **ids: request.path.removesuffix("/revisions"))
@warned
def ask_again(values: dict[str, Any], project_id: int, decision_id: int, seen: int | None) -> Any:
    """Ask again, changed: earlier approvals no longer count. If-Match is checked when it is sent."""
    values = with_kept_photos(project_id, values)
    return decision_views.view(acts.ask_again(who(), project_id, decision_id, values, clock.now(), seen))


@blueprint.route("/<int:decision_id>/approvals", endpoint="approvals", methods=["GET"])
@blueprint.response(200, ApprovalSchema(many=True))
def approvals(project_id: int, decision_id: int) -> Any:
    return decision_views.approvals(in_project(Decision, project_id, decision_id))


@blueprint.route("/<int:decision_id>/approvals", endpoint="approve", methods=["POST"])
@idempotent
@blueprint.arguments(ApprovalSchema)
@blueprint.response(201, ApprovalSchema)
@blueprint.alt_response(200, schema=ApprovalSchema, description="They had approved this option before: that approval.")
def approve(values: dict[str, Any], project_id: int, decision_id: int) -> Any:
    """Approve an option of a revision; sent with the homeowner's own link as the bearer token."""
    approval, new = answers.approve(who(), project_id, decision_id, **values, now=clock.now())
    return approval, 201 if new else 200


@blueprint.route("/<int:decision_id>/paper", endpoint="enter_paper", methods=["POST"])
@idempotent
@blueprint.arguments(PaperSchema)
@blueprint.response(201, ApprovalSchema)
def enter_paper(values: dict[str, Any], project_id: int, decision_id: int) -> Any:
    """Enter an approval that someone of the household signed on the printed question."""
    return answers.enter_paper_approval(who(), project_id, decision_id, **values, now=clock.now())


@blueprint.route("/<int:decision_id>/paper/withdrawals", endpoint="take_back_paper", methods=["POST"])
@idempotent
@blueprint.arguments(PaperWithdrawalSchema)
@blueprint.response(200, DecisionSchema)
@shows_version
def take_back_paper(values: dict[str, Any], project_id: int, decision_id: int) -> Any:
    """Take back what was entered from paper by mistake, as long as no work that it held has started."""
    answers.take_back_paper_approval(who(), project_id, decision_id, **values, now=clock.now())
    return decision_views.view(in_project(Decision, project_id, decision_id))


@blueprint.route("/<int:decision_id>/withdrawals", endpoint="withdraw", methods=["POST"])
@idempotent
@blueprint.arguments(WithdrawalSchema)
@blueprint.response(200, DecisionSchema)
@shows_version
def withdraw(values: dict[str, Any], project_id: int, decision_id: int) -> Any:
    """Take back one's own approval, as long as no work that it held has started."""
    answers.withdraw(who(), project_id, decision_id, **values, now=clock.now())
    return decision_views.view(in_project(Decision, project_id, decision_id))


@blueprint.route("/<int:decision_id>/questions", endpoint="ask_back", methods=["POST"])
@idempotent
@blueprint.arguments(QuestionBackSchema)
@blueprint.response(201, QuestionBackSchema)
def ask_back(values: dict[str, Any], project_id: int, decision_id: int) -> Any:
    """Ask before answering; or, with `kind` another_option, say that none of the options is wanted, and what is. A new
    revision settles the latter."""
    return ask(who(), project_id, decision_id, **values, now=clock.now())


@blueprint.route("/<int:decision_id>/questions/<int:question_id>/answer", endpoint="answer", methods=["POST"])
@idempotent
@blueprint.arguments(AnswerSchema)
@blueprint.response(200, QuestionBackSchema)
def answer(values: dict[str, Any], project_id: int, decision_id: int, question_id: int) -> Any:
    return acts.answer_question(who(), project_id, decision_id, question_id, **values, now=clock.now())


@blueprint.route("/<int:decision_id>/question/withdrawals", endpoint="withdraw_question", methods=["POST"])
@idempotent
@blueprint.arguments(QuestionWithdrawalSchema)
@blueprint.response(200, DecisionSchema)
@shows_version
@warned
def withdraw_question(values: dict[str, Any], project_id: int, decision_id: int) -> Any:
    """Withdraw a question that is not approved, with a reason; it can be asked again."""
    reason, lift_hold = values["reason"], values["lifts_hold"]
    return decision_views.view(
        closing.withdraw_question(
            who(), project_id, decision_id, reason=reason, lift_hold=lift_hold, now=clock.now()
        )
    )
