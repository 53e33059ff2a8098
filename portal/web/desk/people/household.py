"""The household: who reads the page, who approves, and their private links."""

from flask import Response, request, url_for
from marshmallow import fields

from portal import clock
from portal.acts.firm.projects import add_person, change_person, remove_person
from portal.acts.household.links import make_link, revoke_link
from portal.api.http.shapes import Strict
from portal.api.resources.people import PersonSchema
from portal.pages.telling.phone_addresses import mail_address, sms_address
from portal.request.services import services
from portal.store.refusals import FieldRefused
from portal.store.rows.editable import in_project, project_row
from portal.store.rows.link_rows import live_links, person_of_project
from portal.store.tables import Person
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form, seen
from portal.web.desk.people.link_first import ask_first
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form
from portal.words.names import same_name

ONE = f"{PROJECT}/people/<int:person_id>"
_FIELDS = [
    Field("name", "Name", required=True),
    Field("phone", "Phone", "phone"),
    Field("email", "E-mail address", "email"),
    Field("role", "Who they are", "choice", choices=[("homeowner", "Homeowner"), ("designer", "Designer")]),
    Field("may_approve", "May approve decisions", "yes",
          hint="What they approve counts for the household: crews cut and drill on it. Without it they read and ask."),
]


class PersonForm(PersonSchema):
    """`twice`: whoever enters it knows that someone has this name or address already."""

    twice = fields.Boolean(load_default=False)


@form_page(f"{PROJECT}/people/new", "add_person")
def new_person(project_id: int) -> Response:
    def do(values: Values) -> tuple[str, str]:
        _refuse_twice(project_id, values)
        person = add_person(who(), project_id, values, clock.now())
        onward = url_for("desk.new_link", project_id=project_id, person_id=person.id)
        return f"{person.name} is added. Next: the private link.", onward

    form = Form("Add a person", [*_FIELDS, *_twice(project_id)], PersonForm(), "Add them")
    return project_form(form, do, project_id, {"may_approve": True})


@form_page(f"{ONE}/change", "change_person")
def edit_person(project_id: int, person_id: int) -> Response:
    person = in_project(Person, project_id, person_id)

    def do(values: Values) -> str:
        _refuse_twice(project_id, values, person_id)
        change_person(who(), project_id, person_id, seen(), values, clock.now())
        return "The person is changed."

    form = Form("Change a person", [*_FIELDS, *_twice(project_id, person_id)], PersonForm(), "Save the person")
    start = {one.name: getattr(person, one.name) for one in _FIELDS}
    return project_form(form, do, project_id, start, seen=person.version)


@form_page(f"{ONE}/remove", "remove_person")
def drop_person(project_id: int, person_id: int) -> Response:
    person = in_project(Person, project_id, person_id)

    def do(values: Values) -> str:
        remove_person(who(), project_id, person_id, seen(), clock.now())
        return f"{person.name} is removed, and the link opens nothing any longer."

    form = Form(f"Remove a person: {person.name}", [], Strict(), "Remove them",
                intro="Whoever approved or asked something stays, because the record names them. For them, untick “May "
                "approve decisions” and revoke the link instead.")
    return project_form(form, do, project_id, seen=person.version)


@form_page(f"{ONE}/link", "make_link")
def new_link(project_id: int, person_id: int) -> Response:
    """The link is shown in the answer to the form, and nowhere else: it is kept nowhere that could show it again."""
    person = in_project(Person, project_id, person_id)
    made: list[str] = []

    def do(values: Values) -> str:
        ask_first(project_id)
        made.append(make_link(who(), project_id, person_id, secret=services().settings.secret, now=clock.now()))
        return f"The link is made.{' The one before opens nothing any longer.' if has_one else ''}"

    has_one = any(holder == person_id for _, holder in live_links(project_id))
    intro = "There is a link already. A new one takes its place, and the old one stops working." if has_one else (
        "The link is the only key to the page: send it to this person only.")
    form = Form(f"Make a private link for {person.name}", [], Strict(), "Make the link", intro=intro)
    answer = project_form(form, do, project_id, repeatable=True)
    if not made:
        return answer
    project, address = project_row(project_id), f"{services().settings.base_url}/p/{made[0]}/"
    words = f"This is your own page of the {project.name}. Keep the link to yourself: it is your key."
    ready = f"{words} {address}"
    return show("link.html", project=project, person=person, address=address, words=words,
                text=sms_address(person.phone, ready), mail=mail_address(person.email, project.name, ready))


@form_page(f"{ONE}/revoke", "revoke_link")
def stop_link(project_id: int, person_id: int) -> Response:
    person = in_project(Person, project_id, person_id)

    def do(values: Values) -> str:
        revoke_link(who(), project_id, person_id, now=clock.now())
        return f"The link of {person.name} opens nothing any longer."

    form = Form(f"Revoke the link of {person.name}", [], Strict(), "Revoke the link",
                intro="Whoever opens it finds nothing. You can make a new one at any time.")
    return project_form(form, do, project_id)


def _twice(project_id: int, besides: int | None = None) -> list[Field]:
    """The box to tick, only once it is asked for: two of a family may share a name, and a couple an address."""
    same = _same(project_id, request.form.get("name", ""), request.form.get("email", ""), besides)
    return [Field("twice", f"This is another person than {same[1].name}", "yes")] if same else []


def _refuse_twice(project_id: int, values: Values, besides: int | None = None) -> None:
    same = None if values.pop("twice") else _same(project_id, values["name"], values.get("email", ""), besides)
    if same:
        field, other = same
        what = "this name" if field == "name" else "this e-mail address"
        message = f"{other.name} of this household has {what} already. Is it another person? Then say so below."
        raise FieldRefused(field, message)


def _same(project_id: int, name: str, email: str, besides: int | None) -> tuple[str, Person] | None:
    """Which field somebody else of the project has, too, and who."""
    others = [person for person in person_of_project(project_id) if person.id != besides]
    for other in others:
        if same_name(name, other.name):
            return "name", other
        if email.strip() and other.email.casefold() == email.strip().casefold():
            return "email", other
    return None
