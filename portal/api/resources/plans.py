"""Plans to start from; starting from them; and what they still want asked or ordered."""

from pathlib import Path
from typing import Any

from marshmallow import ValidationError, fields, validate, validates_schema

from portal import clock
from portal.acts.plan import planned_questions
from portal.acts.plan import starting_plans as acts
from portal.api.http.idempotency import idempotent
from portal.api.http.resource import makes_at, resource
from portal.api.http.sender import who
from portal.api.http.shapes import Hours, Strict, Whole, line_field, name_field, note_field
from portal.api.http.warnings import warned, warnings_field
from portal.api.resources.asked.options import OptionSchema
from portal.api.resources.decisions import DecisionSchema
from portal.api.resources.deliveries import DeliverySchema, delivery_view
from portal.api.resources.phases import WorkSchema
from portal.content import cures
from portal.planning.starting_plans.label_waits import entered_wait, label_waits, with_label_waits
from portal.planning.starting_plans.plans import PartLink, StartingPhase, StartingPlan
from portal.request.option_photos import with_kept_photos
from portal.request.services import services
from portal.store.reading import decision_views
from portal.store.reading.label_waits import missing_waits
from portal.store.reading.plans_to_start_from import Starter, starter, starters, usable_plans
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import FieldRefused
from portal.store.rows import plan_rows, planned_rows

blueprint = resource("plans", "plans", "Typical plans to start from: ours and the firm's own.")
of_project = resource(
    "planned", "projects/<int:project_id>/plans", "Starting from plans, and what they still want asked or ordered."
)


class StartingRoomSchema(Strict):
    key = fields.String()
    name = fields.String()


class StartingPhaseSchema(Strict):
    key = fields.String()
    name = fields.String()
    room = fields.String()
    crew = fields.String()
    work = fields.Nested(WorkSchema)


class WrongFileSchema(Strict):
    file = fields.String(attribute="filename")
    line = fields.Integer()
    reason = fields.String()


class LabelWaitSchema(Strict):
    """A wait that only a label knows, by the key of its `cure`; `phases`: names of those that wait for it."""

    cure = fields.String()
    what = fields.String()
    phases = fields.List(fields.String())


class StarterSchema(Strict):
    """`refused`: why a plan can't be used, by file and line; then it has no phases."""

    plan = fields.String()
    own = fields.Boolean()
    title = fields.String()
    about = fields.String()
    source = fields.String()
    rooms = fields.List(fields.Nested(StartingRoomSchema))
    phases = fields.List(fields.Nested(StartingPhaseSchema))
    questions = fields.List(fields.String())
    orders = fields.List(fields.String())
    label_waits = fields.List(fields.Nested(LabelWaitSchema))
    refused = fields.Nested(WrongFileSchema, allow_none=True)


class ChosenSchema(Strict):
    plan = line_field(80, required=True)
    rooms = fields.Dict(
        keys=line_field(80), values=name_field(120), load_default=dict
    )
    label_hours = fields.Dict(keys=line_field(80), values=Hours(), load_default=dict)


class PlanLinkSchema(Strict):
    phase = line_field(160, required=True)
    after = line_field(160, required=True)
    wait_hours = Hours(attribute="wait", load_default=0)


class StartSchema(Strict):
    """`plans`, each with what its rooms are called here and, in `label_hours`, the hours of labels by the keys of
    cures, and `links` between them; or `project`, an earlier one."""

    plans = fields.List(Whole(ChosenSchema), validate=validate.Length(1, 20), load_only=True)
    links = fields.List(Whole(PlanLinkSchema), validate=validate.Length(max=100), load_only=True, load_default=list)
    project = fields.Integer(strict=True, load_only=True)
    rooms = fields.List(fields.Integer(), dump_only=True)
    phases = fields.List(fields.Integer(), dump_only=True)
    questions = fields.List(fields.Integer(), dump_only=True)
    orders = fields.List(fields.Integer(), dump_only=True)
    warnings = warnings_field()

    @validates_schema
    def one_way(self, values: dict[str, Any], **kwargs: Any) -> None:
        if ("plans" in values) == ("project" in values):
            raise ValidationError("Send plans, or an earlier project to start from.", "plans")


class PlannedQuestionSchema(Strict):
    id = fields.Integer()
    kind = fields.String()
    room = fields.Integer(attribute="room_id", allow_none=True)
    question = fields.String()
    options = fields.List(fields.Nested(OptionSchema))
    lead_days = fields.Integer()
    holds = fields.List(fields.Integer())


class PlannedOrderSchema(Strict):
    id = fields.Integer()
    item = fields.String()
    phases = fields.List(fields.Integer())


class MissingWaitSchema(Strict):
    """`phase` follows `after` only once the `cure` is over, or gives back what it took; its hours are not entered."""

    phase = fields.Integer()
    cure = fields.String()
    after = fields.List(fields.Integer())


class AskPlannedSchema(DecisionSchema):
    """What is left out is as it was planned."""


class DropQuestionSchema(Strict):
    reason = note_field(1000)


class OrderPlannedSchema(DeliverySchema):
    """`item` and `phases` may be left out: then they are as they were planned."""


class PlannedSchema(Strict):
    questions = fields.List(fields.Nested(PlannedQuestionSchema))
    orders = fields.List(fields.Nested(PlannedOrderSchema))
    label_waits = fields.List(fields.Nested(MissingWaitSchema))


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.response(200, StarterSchema(many=True))
def every() -> Any:
    return [_starter(one) for one in starters(own_plans())]


@of_project.route("", endpoint="planned", methods=["GET"])
@of_project.response(200, PlannedSchema)
def planned(project_id: int) -> Any:
    """What is still to be asked, ordered and taken from labels."""
    missing = missing_waits(read_snapshot(project_id), plan_rows.made_from(project_id), usable_plans(own_plans()))
    return {"questions": planned_rows.questions(project_id), "orders": planned_rows.orders(project_id),
            "label_waits": missing}


@of_project.route("", endpoint="start", methods=["POST"])
@idempotent
@of_project.arguments(StartSchema)
@of_project.response(201, StartSchema)
@warned
def start(values: dict[str, Any], project_id: int) -> Any:
    """422 with file, line and reason when a plan file is wrong; then nothing is added."""
    if "project" in values:
        return acts.start_from_project(who(), project_id, values["project"], now=clock.now())
    chosen = [acts.Chosen(one["plan"], _with_labels(one), one["rooms"]) for one in values["plans"]]
    links = [PartLink(one["phase"], one["after"], one["wait"]) for one in values["links"]]
    return acts.start_from_plan(who(), project_id, chosen, links, now=clock.now())


@of_project.route("/questions/<int:question_id>", endpoint="ask", methods=["POST"])
@idempotent
@of_project.arguments(AskPlannedSchema(partial=True))
@of_project.response(201, DecisionSchema)
@makes_at(lambda row, project_id, **ids: f"/api/v1/projects/{project_id}/decisions/{row.id}")
@warned
def ask(values: dict[str, Any], project_id: int, question_id: int) -> Any:
    """Ask it as it was planned; what is sent takes the place of that."""
    row = planned_rows.question(project_id, question_id)
    as_planned = {name: getattr(row, name) for name in ("question", "options", "lead_days")}
    whole = with_kept_photos(project_id, as_planned | values)
    decision = planned_questions.ask_planned(who(), project_id, question_id, whole, clock.now())
    return decision_views.view(decision)


@of_project.route("/questions/<int:question_id>", endpoint="drop_question", methods=["DELETE"])
@of_project.arguments(DropQuestionSchema, required=False)
@of_project.response(204)
def drop_question(values: dict[str, Any], project_id: int, question_id: int) -> None:
    """A reason is needed where the question holds work that has not begun; it goes on the record."""
    planned_questions.drop_question(who(), project_id, question_id, clock.now(), reason=values.get("reason", ""))


@of_project.route("/orders/<int:order_id>", endpoint="order", methods=["POST"])
@idempotent
@of_project.arguments(OrderPlannedSchema(partial=("item", "phases")))
@of_project.response(201, DeliverySchema)
@makes_at(lambda row, project_id, **ids: f"/api/v1/projects/{project_id}/deliveries/{row.id}")
@warned
def order(values: dict[str, Any], project_id: int, order_id: int) -> Any:
    row = planned_rows.order(project_id, order_id)
    as_planned = {"item": row.item, "phases": row.phases}
    delivery = acts.order_planned(who(), project_id, order_id, as_planned | values, now=clock.now())
    return delivery_view(delivery)


@of_project.route("/orders/<int:order_id>", endpoint="drop_order", methods=["DELETE"])
@of_project.response(204)
def drop_order(project_id: int, order_id: int) -> None:
    acts.drop_order(who(), project_id, order_id, clock.now())


def own_plans() -> Path:
    """Where the firm's own plans lie: PORTAL_DATA/plans."""
    return services().settings.data / "plans"


def _with_labels(one: dict[str, Any]) -> StartingPlan:
    entered = {cure: entered_wait(minutes) for cure, minutes in one["label_hours"].items()}
    unknown = set(entered) - set(cures())
    if unknown:
        raise FieldRefused("plans", f"There is no cure {min(unknown)}. Use one of {', '.join(cures())}.")
    return with_label_waits(starter(own_plans(), one["plan"]), entered)


def _starter(one: Starter) -> dict[str, Any]:
    plan = one.plan
    return {
        "plan": one.key, "own": one.own, "title": one.title, "refused": one.refused,
        "about": plan.about if plan else "", "source": plan.source if plan else "",
        "rooms": plan.rooms if plan else [],
        "phases": [_phase(phase) for phase in plan.phases] if plan else [],
        "questions": [decision.question for decision in plan.decisions] if plan else [],
        "orders": [delivery.item for delivery in plan.deliveries] if plan else [],
        "label_waits": [
            {"cure": cure, "what": cures()[cure].what, "phases": names}
            for cure, names in label_waits(plan).items()
        ] if plan else [],
    }


def _phase(phase: StartingPhase) -> dict[str, Any]:
    work = {"low": phase.low, "likely": phase.likely, "high": phase.high}
    return {"key": phase.key, "name": phase.name, "room": phase.room, "crew": phase.crew, "work": work}
