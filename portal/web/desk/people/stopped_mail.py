"""Mail to one person stopped, or begun again, by the office: as they have said on the phone."""

from flask import Response

from portal import clock
from portal.acts.household.mail import begin_mail, stop_mail
from portal.api.http.shapes import Strict
from portal.store.rows.editable import in_project, project_row
from portal.store.rows.letters import mail_rows
from portal.store.tables import Person
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form
from portal.web.desk.people.mail_words import mail_words
from portal.web.forms.inputs import Form


@form_page(f"{PROJECT}/people/<int:person_id>/mail", "stop_mail")
def mail_to(project_id: int, person_id: int) -> Response:
    person = in_project(Person, project_id, person_id)
    said = mail_words(mail_rows.of_project(project_id)[person_id], project_row(project_id).timezone)

    def stop(values: Values) -> str:
        stop_mail(who(), project_id, person_id, now=clock.now())
        return f"{person.name} gets no more mail. What they must know stands under Notices, to be told by phone."

    def begin(values: Values) -> str:
        begin_mail(who(), project_id, person_id, now=clock.now())
        return f"{person.name} gets mail again."

    if said:
        intro = f"{said} Begin it again if they have said so, and if {person.email or 'their address'} is right."
        return project_form(
            Form(f"Write to {person.name} again", [], Strict(), "Begin mail again", intro=intro), begin, project_id
        )
    intro = "Each question, reminder, receipt and moved visit is then yours to tell them by phone."
    return project_form(Form(f"Stop mail to {person.name}", [], Strict(), "Stop mail", intro=intro), stop, project_id)
