"""Placements that a designer proposes for a decision; sent with the designer's own link as the bearer token."""

from typing import Any

from marshmallow import fields

from portal import clock
from portal.acts.decisions.proposals import propose_layout
from portal.api.http.idempotency import idempotent
from portal.api.http.resource import resource
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, Strict, name_field, note_field
from portal.store.rows import proposal_rows
from portal.store.rows.editable import in_project
from portal.store.tables import Decision

blueprint = resource(
    "proposals", "projects/<int:project_id>/decisions/<int:decision_id>/proposals",
    "Placements proposed by a designer: the manager asks them, the household approves.",
)  # fmt: skip


class ProposalSchema(Strict):
    """`layout`: the title of a layout, or, where it is sent, its key. `placement`: what is placed otherwise than it
    was asked (`drawers`, `doors`, `two_over`); null takes it away."""

    id = fields.Integer(dump_only=True)
    layout = name_field(255, required=True)
    layout_key = fields.String(dump_only=True, allow_none=True)
    placement = fields.Dict(load_only=True, load_default=dict)
    note = note_field(2000, load_default="")
    dimensions = fields.Dict(dump_only=True)
    person = fields.Integer(attribute="person_id", dump_only=True)
    name = fields.String(dump_only=True)
    at = Instant(dump_only=True)
    outcome = fields.String(dump_only=True, metadata={"description": "taken, changed or refused; empty: nothing yet."})
    because = fields.String(dump_only=True, metadata={"description": "Why it was refused."})


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.response(200, ProposalSchema(many=True))
def every(project_id: int, decision_id: int) -> Any:
    return proposal_rows.proposals_of(in_project(Decision, project_id, decision_id).id)


@blueprint.route("", endpoint="propose", methods=["POST"])
@idempotent
@blueprint.arguments(ProposalSchema)
@blueprint.response(201, ProposalSchema)
def propose(values: dict[str, Any], project_id: int, decision_id: int) -> Any:
    return propose_layout(who(), project_id, decision_id, **values, now=clock.now())
