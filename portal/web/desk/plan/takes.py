"""What a phase takes from the household, where and until when, and what it asks: rows that planning reads."""

from typing import Any

from flask import Response, url_for
from marshmallow import ValidationError, fields, post_load, validate

from portal import clock
from portal.acts.plan.phases import change_phase
from portal.api.http.shapes import Hours, Strict, Whole, line_field
from portal.content import cures
from portal.pages.household_words import SERVICE_WORDS
from portal.planning.household.cure_times import CureTime
from portal.planning.household.services import AT_HOME, CLEAR, HouseholdError, read_takes
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project
from portal.store.tables import Phase
from portal.web.desk.blueprint import form_page, who
from portal.web.desk.forms import Values, project_form, seen
from portal.web.desk.plan.phases import ONE
from portal.web.forms import choices
from portal.web.forms.inputs import Choices, Field, Form, grouped
from portal.words.plurals import counted

ROWS = 8
HOUSE = "house"
_ROOM = rf"(?:{HOUSE}|[0-9]{{1,9}}|)\Z"
_UNTIL = [("", "During work only"), ("done", "Day and night, until done")]
_ASKS = {CLEAR: "Clear a place, before it begins", AT_HOME: "Somebody must be at home"}


class TakeForm(Strict):
    """One row. Blank means the usual: the phase's own room, during work only, the usual advice."""

    service = fields.String(required=True, validate=validate.OneOf([*SERVICE_WORDS, *_ASKS]))
    room = fields.String(load_default="", validate=validate.Regexp(_ROOM, error="Choose one of those offered."))
    name = line_field(80, load_default="")
    until = fields.String(load_default="")
    back_with = fields.Integer(allow_none=True, load_default=None)
    gate = fields.String(load_default="")
    wait_hours = Hours(allow_none=True, load_default=None)
    instead = line_field(200, load_default="")
    words = line_field(200, load_default="")

    @post_load
    def as_take(self, values: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
        take: dict[str, Any] = {"service": values["service"]}
        if values["room"]:
            take["room"] = None if values["room"] == HOUSE else int(values["room"])
        if values["wait_hours"] is not None:
            take["wait_hours"] = values["wait_hours"] / 60
        rest = ("name", "until", "back_with", "gate", "instead", "words")
        take |= {name: values[name] for name in rest if values[name]}
        try:
            read_takes([take], cures())
        except HouseholdError as error:
            field = error.field.rpartition(".")[2]
            raise ValidationError(error.message, field if field in values else "service") from error
        return take


class TakesForm(Strict):
    takes = fields.List(Whole(TakeForm), load_default=list, validate=validate.Length(max=ROWS))


@form_page(f"{ONE}/takes", "change_phase")
def takes(project_id: int, phase_id: int) -> Response:
    row, snapshot = in_project(Phase, project_id, phase_id), read_snapshot(project_id)

    def do(values: Values) -> str:
        change_phase(who(), project_id, phase_id, seen(), values, now=clock.now())
        return f"{row.name}: what it takes from the household is kept, and their page says so."

    fields_of_rows = [
        one for number in range(ROWS)
        for one in grouped(f"Row {number + 1}", _row(snapshot), f"takes.{number}.")
    ]
    form = Form(
        f"What the household can’t use, or must do: {row.name}", fields_of_rows, TakesForm(), "Keep it",
        intro="Leave rows that you don’t need empty. The page tells the household room by room.",
    )
    then = url_for("desk.phase", project_id=project_id, phase_id=phase_id)
    return project_form(form, do, project_id, _typed(row.takes), then=then, seen=row.version)


def _row(snapshot: Snapshot) -> list[Field]:
    back: Choices = [("", "This phase"), *choices.phases(snapshot)]
    rooms: Choices = [("", "The phase’s own room"), (HOUSE, "The whole house")]
    rooms = [*rooms, *((str(room.id), room.name) for room in snapshot.rooms)]
    gates: Choices = [("", "No wait"), *((cure.key, _gate(cure)) for cure in cures().values() if _holds_back(cure))]
    return [
        Field("service", "What", "choice", choices=[("", "Nothing"), *SERVICE_WORDS.items(), *_ASKS.items()]),
        Field("room", "Where", "choice", choices=rooms),
        Field("name", "Which one", hint="Where a room has several, such as the front door."),
        Field("until", "Until when", "choice", choices=_UNTIL),
        Field("back_with", "Given back when this is done", "choice", choices=back),
        Field("gate", "Then a usual wait", "choice", choices=gates, hint="The label governs."),
        Field("wait_hours", "Or so many hours", "number", hint="Where the wait is by its label: the label’s figure."),
        Field("instead", "What to do instead", hint="Empty: our usual advice."),
        Field("words", "What to clear, or what somebody must be home for", hint="A sentence, as they read it."),
    ]


def _gate(cure: CureTime) -> str:
    """A wait by its name and the hours that plans take; one that is only on a label says so."""
    return f"{cure.name}: {'by its label' if cure.by_label else counted(cure.minutes // 60, 'hour')}"


def _holds_back(cure: CureTime) -> bool:
    return cure.gates != ("full",)


def _typed(kept: list[Any]) -> dict[str, Any]:
    """The rows as the form holds them."""
    typed = []
    for take in kept:
        row = {name: take[name] for name in TakeForm().fields if take.get(name) is not None}
        if "room" in take and take["room"] is None:
            row["room"] = HOUSE
        if row.get("until") == "work":
            del row["until"]
        typed.append(row)
    return {"takes": typed}
