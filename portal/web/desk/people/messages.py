"""What the household tells us, at the desk: all of it, the newest first, and our answer to one."""

from dataclasses import dataclass

from flask import Response

from portal import clock
from portal.acts.actor import allow
from portal.acts.household.messages import answer_message
from portal.api.resources.messages import AnswerMessageSchema
from portal.pages.telling.words import answer_words, told_words
from portal.store.facts import MessageFact, Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import NotFound
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.forms import Values, project_form
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form

MOST = 200


@dataclass(frozen=True, slots=True)
class Line:
    """A message in words; `answer` is empty while we owe it."""

    id: int
    who: str
    words: str
    photo: str
    answer: str


def line_of(snapshot: Snapshot, one: MessageFact) -> Line:
    return Line(one.id, one.person, told_words(snapshot, one), one.photo, answer_words(snapshot, one))


@blueprint.get(f"{PROJECT}/messages/")
def messages(project_id: int) -> Response:
    allow(who(), "answer_message", project_id)
    snapshot = read_snapshot(project_id)
    lines = [line_of(snapshot, one) for one in reversed(snapshot.messages)]
    return show("messages.html", project=snapshot.project, lines=lines[:MOST], more=max(0, len(lines) - MOST))


@form_page(f"{PROJECT}/messages/<int:message_id>/answer", "answer_message")
def answer_to_message(project_id: int, message_id: int) -> Response:
    snapshot = read_snapshot(project_id)
    found = next((one for one in snapshot.messages if one.id == message_id), None)
    if found is None:
        raise NotFound(what="message")

    def do(values: Values) -> str:
        answer_message(who(), project_id, message_id, answer=values["answer"], now=clock.now())
        return f"The answer goes to {found.person}, and stands on the page."

    form = Form(
        f"Answer {found.person}",
        [Field("answer", "Our answer", "text", required=True, hint="It goes to them, to the page and to the record.")],
        AnswerMessageSchema(), "Answer", intro=told_words(snapshot, found), template="answer_message.html",
    )
    return project_form(form, do, project_id, line=line_of(snapshot, found))
