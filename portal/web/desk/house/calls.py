"""Call notes: what a caller asked and was told, with what there is to tell beside the form."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from flask import Response, request
from marshmallow import ValidationError, post_load

from portal import clock
from portal.acts.actor import allow
from portal.acts.household.updates import note_call
from portal.api.http.shapes import name_field
from portal.api.resources.diary import CallSchema
from portal.request.pressed import pressed_at
from portal.store.facts import PersonFact
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import notice_rows, staff_rows
from portal.store.rows.editable import page_of, project_row
from portal.store.rows.notice_rows import SENT, TOLD, WAITING, LinkSent
from portal.store.tables import Call
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.conflict_words import Said
from portal.web.desk.forms import Values, project_form
from portal.web.desk.onsite.caller import for_caller, standing_of
from portal.web.desk.people.link_first import ask_first
from portal.web.desk.people.mail import no_mail, without_mail
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form
from portal.words.dates import when_words
from portal.words.names import called

MOST = 200

_NAMED = Field("caller", "Who called", required=True)
_REST = [
    Field("asked", "What they asked", "text", required=True),
    Field("told", "What they were told", "text"),
]
_ELSE = "somebody"
INTRO = "A spoken answer never counts: send them the link, so that they answer on their own page."


class CallForm(CallSchema):
    """The caller is picked from the household, or their name is typed."""

    caller = name_field(120, load_default=None, allow_none=True)
    somebody = name_field(120, load_default=None, allow_none=True)

    @post_load
    def whoever(self, values: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
        caller = values.pop(_ELSE) or values["caller"]
        if not caller:
            raise ValidationError({"caller": ["Say who called, or type their name."]})
        return values | {"caller": caller}


@dataclass(frozen=True, slots=True)
class Note:
    heading: str
    asked: str
    told: str
    noted_by: str
    link: str


@form_page(f"{PROJECT}/calls/new", "note_call")
def new_call(project_id: int) -> Response:
    """`?person=` names the caller beforehand."""
    people = read_snapshot(project_id).people
    names = {str(person.id): person.name for person in people}

    def do(values: Values) -> Said:
        if values.get("send_link_to"):
            ask_first(project_id)
        note_call(who(), project_id, values, clock.now(), pressed_at())
        sent = values.get("send_link_to")
        if not sent:
            return "The call is noted."
        if no_mail():
            return without_mail(project_id, sent, "The call is noted.")
        return f"The call is noted, and the link goes to {names[str(sent)]}."

    fields = [*_callers(people), *_REST, _send_to(people)]
    form = Form("Note a call", fields, CallForm(), "Keep the note", intro=INTRO, template="call.html")
    named = names.get(request.args.get("person", ""))
    return project_form(form, do, project_id, {"caller": named} if named else {},
                        tell=lambda: for_caller(standing_of(project_id, clock.now())))


def _callers(people: Sequence[PersonFact]) -> list[Field]:
    """The household, each in one press; who else calls is typed."""
    if not people:
        return [_NAMED]
    names = [person.name for person in people]
    choices = [*((name, called(name, names)) for name in names), ("", "Somebody else")]
    return [replace(_NAMED, kind="pick", choices=choices), Field(_ELSE, "The name of somebody else")]


def _send_to(people: Sequence[PersonFact]) -> Field:
    """Where no mail is sent, none is spoken of: the link is made next, to be texted or read out."""
    by_mail = [(str(person.id), person) for person in people if person.email]
    if no_mail():
        choices = [(key, person.name) for key, person in by_mail]
        return Field("send_link_to", "Then make them a link", "choice", choices=[("", "No link"), *choices],
                     hint="To text it or read it out: no mail is sent from here.")
    choices = [(key, f"{person.name}, {person.email}") for key, person in by_mail]
    return Field("send_link_to", "Send the link by mail", "choice", choices=[("", "To nobody"), *choices])


@blueprint.get(f"{PROJECT}/calls/")
def every_call(project_id: int) -> Response:
    allow(who(), "note_call", project_id)
    project = project_row(project_id)
    rows, count = page_of(Call, project_id, 0, MOST)
    staff, links = staff_rows.names(), notice_rows.links_of_calls(project_id)
    notes = [
        Note(f"{when_words(row.at, project.timezone)}: {row.caller}", row.asked, row.told, staff.get(row.staff_id, ""),
             _link_words(links.get(row.id), project.timezone))
        for row in rows
    ]
    return show("calls.html", project=project, notes=notes, more=max(0, count - MOST))


def _link_words(link: LinkSent | None, zone: str) -> str:
    if link is None:
        return ""
    if link.state == SENT and link.settled_at:
        return f"The link was sent to {link.name} on {when_words(link.settled_at, zone)}."
    if link.state == TOLD:
        return f"{link.name} has the link."
    if link.state == WAITING:
        return f"The link for {link.name} waits to be sent."
    return f"The link did not reach {link.name}."
