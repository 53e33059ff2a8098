"""What is for the crew only. Staff read it; each of the household reads, writes and erases their own. It comes by PUT,
so that no answer of it is kept for a request that comes again."""

from typing import Any

from marshmallow import fields

from portal import clock
from portal.acts.household import crew_notes as acts
from portal.api.http.resource import resource
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, RowId, Strict, day_field, note_field
from portal.store.rows.household import crew_note_rows

blueprint = resource(
    "crew_notes", "projects/<int:project_id>/crew_notes",
    "For the crew only: when they are away, keys, pets, parking, alarm. On no page and in no record.",
)


class CrewNoteSchema(Strict):
    id = fields.Integer(dump_only=True)
    person = RowId(dump_only=True)
    away_from = day_field(allow_none=True, load_default=None)
    away_to = day_field(allow_none=True, load_default=None)
    keys = note_field(acts.LONGEST, load_default="")
    pets = note_field(acts.LONGEST, load_default="")
    parking = note_field(acts.LONGEST, load_default="")
    alarm = note_field(acts.LONGEST, load_default="")
    changed_at = Instant(dump_only=True)


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.response(200, CrewNoteSchema(many=True))
def every(project_id: int) -> Any:
    """One of each person who has written any; for the household, only their own."""
    notes = crew_note_rows.of_project(project_id)
    return [one for one in notes if who().is_staff or one.person_id == who().id]


@blueprint.route("", endpoint="write", methods=["PUT"])
@blueprint.arguments(CrewNoteSchema)
@blueprint.response(204)
def write(values: dict[str, Any], project_id: int) -> None:
    """All that the sender tells the crew, in place of what they told before. With nothing in it, it is erased."""
    acts.count_crew_note(who().key, clock.now())
    acts.write_crew_note(who(), project_id, values, now=clock.now())


@blueprint.route("/<int:note_id>", endpoint="erase", methods=["DELETE"])
@blueprint.response(204)
def erase(project_id: int, note_id: int) -> None:
    """For good: it is overwritten in the database's files."""
    acts.erase_crew_note(who(), project_id, note_id)
