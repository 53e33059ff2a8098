"""What was said by mistake is taken back, below the path by which it was said: a start, a rest or a wait for an
inspection, a finish, a release, the arrival of a delivery. Both stay in the record."""

from collections.abc import Callable
from typing import Any

from marshmallow import Schema

from portal import clock
from portal.acts.plan import taking_back as acts
from portal.acts.visiting.deliveries import take_back_arrival
from portal.api.http.around import View
from portal.api.http.idempotency import idempotent
from portal.api.http.sender import who
from portal.api.http.shapes import Strict, text_field
from portal.api.http.versions import shows_version
from portal.api.http.warnings import warned
from portal.api.resources import deliveries, phases
from portal.api.resources.deliveries import DeliverySchema, delivery_view
from portal.api.resources.phases import PhaseSchema
from portal.store.reading.phase_views import phase_view
from portal.store.rows.editable import in_project
from portal.store.tables import Phase


class MistakeSchema(Strict):
    reason = text_field(2000, required=True, metadata={
        "description": "How the mistake came about. It goes on the record, beside what is taken back."})


def _takes_back(blueprint: Any, said: str, shape: type[Schema]) -> Callable[[View], View]:
    """A route below `said`, the path by which it was said."""
    did = said.rpartition("/")[2]

    def make(view: View) -> View:
        answers = blueprint.response(200, shape)(shows_version(warned(view)))
        asked = idempotent(blueprint.arguments(MistakeSchema)(answers))
        routed: View = blueprint.route(f"{said}/take-back", endpoint=f"take_back_{did}", methods=["POST"])(asked)
        return routed

    return make


@_takes_back(phases.blueprint, "/<int:phase_id>/start", PhaseSchema)
def start(values: dict[str, Any], project_id: int, phase_id: int) -> Any:
    """It did not start. A question that the start had closed is open again. 409 while it is finished, rests or waits
    for an inspection: that is taken back first."""
    return phase_view(acts.take_back_start(who(), project_id, phase_id, **values, now=clock.now()))


@_takes_back(phases.blueprint, "/<int:phase_id>/stop", PhaseSchema)
def stop(values: dict[str, Any], project_id: int, phase_id: int) -> Any:
    """It does not rest, or waits for no inspection: whichever it does now."""
    return phase_view(acts.take_back_stop(who(), project_id, phase_id, **values, now=clock.now()))


@_takes_back(phases.blueprint, "/<int:phase_id>/finish", PhaseSchema)
def finish(values: dict[str, Any], project_id: int, phase_id: int) -> Any:
    """It is not finished, and goes on as before. 409 once it was offered for hand-over."""
    return phase_view(acts.take_back_finish(who(), project_id, phase_id, **values, now=clock.now()))


@_takes_back(phases.blueprint, "/<int:phase_id>/release", PhaseSchema)
def release(values: dict[str, Any], project_id: int, phase_id: int) -> Any:
    """It was released by mistake: what is not approved holds it again. 409 once it has started."""
    acts.take_back_release(who(), project_id, phase_id, **values, now=clock.now())
    return phase_view(in_project(Phase, project_id, phase_id))


@_takes_back(deliveries.blueprint, "/<int:delivery_id>/arrival", DeliverySchema)
def arrival(values: dict[str, Any], project_id: int, delivery_id: int) -> Any:
    """It has not come: phases that have not begun wait for it again."""
    return delivery_view(take_back_arrival(who(), project_id, delivery_id, **values, now=clock.now()))
