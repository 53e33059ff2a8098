"""What comes between the start of a phase and its finish: it rests, goes on, is inspected, takes longer."""

from datetime import datetime
from typing import Any

from portal import clock
from portal.acts.plan import interruptions as acts
from portal.acts.times import existing_local
from portal.api.http.idempotency import idempotent
from portal.api.http.sender import who
from portal.api.http.shapes import Hours, Strict, text_field
from portal.api.http.versions import needs_version, shows_version
from portal.api.http.warnings import warned
from portal.api.resources.phases import PhaseSchema, blueprint
from portal.api.resources.visits import WallClock
from portal.store.reading.phase_views import phase_view
from portal.store.rows.editable import project_row
from portal.store.tables import Phase


class StopSchema(Strict):
    reason = text_field(2000, required=True)
    resumes_at = WallClock(load_default=None, allow_none=True)


class ResumeSchema(Strict):
    remaining_hours = Hours(attribute="remaining", load_default=None, allow_none=True)


class InspectionSchema(Strict):
    expected_at = WallClock(load_default=None, allow_none=True)


class RemainingSchema(Strict):
    remaining_hours = Hours(attribute="remaining", required=True)


@blueprint.route("/<int:phase_id>/stop", endpoint="stop", methods=["POST"])
@idempotent
@blueprint.arguments(StopSchema)
@blueprint.response(200, PhaseSchema)
@shows_version
@warned
def stop(values: dict[str, Any], project_id: int, phase_id: int) -> Any:
    """Work rests from now on, until `resumes_at` if that is known."""
    resumes_at = _instant(project_id, values["resumes_at"], "resumes_at")
    return phase_view(acts.stop_phase(
        who(), project_id, phase_id, reason=values["reason"], now=clock.now(), resumes_at=resumes_at
    ))


@blueprint.route("/<int:phase_id>/resume", endpoint="resume", methods=["POST"])
@idempotent
@blueprint.arguments(ResumeSchema, required=False)
@blueprint.response(200, PhaseSchema)
@shows_version
@warned
def resume(values: dict[str, Any], project_id: int, phase_id: int) -> Any:
    """Work goes on after a stop, or after an inspection that asked for more of it."""
    return phase_view(acts.resume_phase(who(), project_id, phase_id, now=clock.now(), **values))


@blueprint.route("/<int:phase_id>/inspection", endpoint="await_inspection", methods=["POST"])
@idempotent
@blueprint.arguments(InspectionSchema, required=False)
@blueprint.response(200, PhaseSchema)
@shows_version
@warned
def await_inspection(values: dict[str, Any], project_id: int, phase_id: int) -> Any:
    """The work is over, but it only counts as finished when the inspector has passed it: then finish it."""
    expected_at = _instant(project_id, values["expected_at"], "expected_at")
    return phase_view(acts.await_inspection(who(), project_id, phase_id, now=clock.now(), expected_at=expected_at))


@blueprint.route("/<int:phase_id>/remaining", endpoint="remaining", methods=["POST"])
@idempotent
@blueprint.arguments(RemainingSchema)
@needs_version(Phase, "phase_id")
@blueprint.response(200, PhaseSchema)
@shows_version
@warned
def remaining(values: dict[str, Any], project_id: int, phase_id: int, seen: int) -> Any:
    """How many crew hours are left of a phase that is under way."""
    return phase_view(acts.change_remaining(who(), project_id, phase_id, seen=seen, **values, now=clock.now()))


def _instant(project_id: int, moment: datetime | None, field: str) -> int | None:
    """The wall clock of the house as an instant; one that does not exist is refused."""
    return None if moment is None else existing_local(moment, project_row(project_id).timezone, field)
