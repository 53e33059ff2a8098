"""The paper way at the desk: print the question, enter what was signed, take back what was entered by mistake."""

from flask import Response, request, url_for
from markupsafe import Markup

from portal import clock
from portal.acts.decisions.answers import enter_paper_approval, take_back_paper_approval
from portal.api.http.shapes import day_field
from portal.api.resources.decisions import PaperSchema, PaperWithdrawalSchema
from portal.content import Piece, guidance_for, parse
from portal.pages.closed import closed_words
from portal.pages.decision.decision_page import options_of
from portal.pages.decision.option_drawing import advice_of
from portal.pages.decision.taking_back import taking_back_words
from portal.pages.home.asking import consequences, urgency_words
from portal.pages.outlook import outlook_of
from portal.store.facts import DecisionFact, PersonFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project
from portal.store.rows.wording_rows import guidance_shown
from portal.store.tables import Decision, Person
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.forms import Values, project_form
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form
from portal.words.codes import short_code
from portal.words.dates import clock_words, local, long_day_words, when_words
from portal.words.lists import listed
from portal.words.names import doubtful
from portal.words.typed import legible

ONE = f"{PROJECT}/decisions/<int:decision_id>/paper"
_ENTERED = "The signed answer is entered. Keep the sheet: it is the proof. If this was a slip, take it back here."


class PaperForm(PaperSchema):
    """The revision is the one on the screen: it is not typed. Whoever holds the sheet sees its date."""

    class Meta(PaperSchema.Meta):
        exclude = ("revision",)

    signed_on = day_field(required=True)


class TakeBackForm(PaperWithdrawalSchema):
    class Meta(PaperWithdrawalSchema.Meta):
        exclude = ("person",)


@form_page(ONE, "enter_paper_approval")
def paper_approval(project_id: int, decision_id: int) -> Response:
    snapshot, asked = _asked(project_id, decision_id)
    signers = signers_of(snapshot, asked)

    def do(values: Values) -> str:
        enter_paper_approval(who(), project_id, decision_id, **values, revision=asked.revision, now=clock.now())
        after, found = _asked(project_id, decision_id)
        return f"{_ENTERED} {_taking_back(after, found)}"

    options = [("", "Choose what is ticked on the sheet"), *((one["key"], one["title"]) for one in asked.options)]
    people = [("", "Choose who signed"), *((str(person.id), person.name) for person in signers)]
    fields = [
        Field("option", "What was signed", "choice", required=True, choices=options),
        Field("person", "Who signed", "choice", required=True, choices=people),
        Field("name", "The name as it was signed", required=True),
        *_another_name(snapshot, signers),
        Field("signed_on", "The date beside the signature", "date", required=True),
    ]
    intro = (
        f"Only what was signed on the printed revision {asked.revision} of this question, check code "
        f"{short_code(asked.check_code)}. A spoken answer never counts. Keep the sheet: it is the proof."
    )
    title = f"Signed on paper: decision {asked.number}"
    form = Form(title, fields, PaperForm(), "Enter the signed answer", intro=intro)
    return project_form(form, do, project_id, then=_at(project_id, decision_id))


@form_page(f"{ONE}/<int:person_id>/take-back", "take_back_paper_approval")
def take_back(project_id: int, decision_id: int, person_id: int) -> Response:
    (_, asked), person = _asked(project_id, decision_id), in_project(Person, project_id, person_id)

    def do(values: Values) -> str:
        take_back_paper_approval(who(), project_id, decision_id, person=person_id, **values, now=clock.now())
        return "It is taken back, and the record says so. The decision needs an answer again."

    why = Field("reason", "What was wrong", "text", required=True, hint="It goes on the record, with your name.")
    form = Form(
        f"Entered by mistake: decision {asked.number}, {person.name}", [why], TakeBackForm(), "Take it back",
        intro="This is for a slip of ours. If they have changed their mind, let them take it back on their own page.",
    )
    return project_form(form, do, project_id, then=_at(project_id, decision_id))


@blueprint.get(f"{ONE}/print")
def question_to_sign(project_id: int, decision_id: int) -> Response:
    """Everything that the household is shown of it on a screen, to be signed by hand."""
    snapshot, asked = _asked(project_id, decision_id)
    now, zone = clock.now(), snapshot.project.timezone
    moment = local(now, zone)
    today, outlook = moment.date(), outlook_of(snapshot, schedule_of(snapshot, now))
    guidance = _guidance(asked)
    return show(
        "paper_question.html", project=snapshot.project, decision=asked, room=snapshot.room_name(asked.room_id),
        asked_at=when_words(asked.asked_at, zone), code=short_code(asked.check_code), options=options_of(asked),
        advice=advice_of(asked.options), as_of=f"{long_day_words(today)}, {clock_words(moment)}",
        urgency=urgency_words(outlook.needed_by.get(asked.id), today, asked.state == "asked_back"),
        consequences=list(consequences(snapshot, outlook, asked, today)), lines=_lines(snapshot, asked),
        guidance=guidance, guidance_html=Markup(guidance.html) if guidance else None,  # allow-listed by words.prose
        phone=snapshot.project.phone or snapshot.firm.phone, closed=closed_words(snapshot, asked),
        taking_back=taking_back_words(snapshot, outlook, asked, today),
    )


def signers_of(snapshot: Snapshot, asked: DecisionFact) -> list[PersonFact]:
    """Those who may sign this decision."""
    may = [person for person in snapshot.people if person.role == "homeowner" and person.may_approve]
    return may if asked.approvers in ("any", "all") else [one for one in may if str(one.id) == asked.approvers]


def _taking_back(snapshot: Snapshot, asked: DecisionFact) -> str:
    now = clock.now()
    outlook = outlook_of(snapshot, schedule_of(snapshot, now))
    return taking_back_words(snapshot, outlook, asked, local(now, snapshot.project.timezone).date())


def _lines(snapshot: Snapshot, asked: DecisionFact) -> list[str]:
    """For whom there are lines to sign on: each of those who all must, else one of those who may."""
    names = [person.name for person in signers_of(snapshot, asked)]
    return names if asked.approvers == "all" else [listed(names, "or")]


def _another_name(snapshot: Snapshot, signers: list[PersonFact]) -> list[Field]:
    """Only once a name was typed that is not the chosen person's: a box that is always there is ticked unread."""
    name, person = request.form.get("name", "").strip(), request.form.get("person", "")
    signer = next((one for one in signers if str(one.id) == person), None)
    if not name or signer is None:
        return []
    others = [one.name for one in snapshot.people if one.id != signer.id]
    if not doubtful(name, signer.name, others):
        return []
    label = f"The name on the paper is another: {signer.name} signed as “{legible(name)}”"
    return [Field("another_name", label, "yes")]


def _guidance(asked: DecisionFact) -> Piece | None:
    """As it was when this was asked; where that was not kept, as it is now."""
    kept = guidance_shown(asked.id, asked.revision)
    return parse(asked.kind, kept) if kept is not None else guidance_for(asked.kind)


def _asked(project_id: int, decision_id: int) -> tuple[Snapshot, DecisionFact]:
    in_project(Decision, project_id, decision_id)
    snapshot = read_snapshot(project_id)
    return snapshot, snapshot.decision(decision_id)


def _at(project_id: int, decision_id: int) -> str:
    return url_for("desk.decision", project_id=project_id, decision_id=decision_id)
