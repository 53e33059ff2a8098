"""Completion at the desk: hand work over, keep the list of what is still open."""

from typing import Any

from flask import Response
from marshmallow import post_load

from portal import clock
from portal.acts.household.handovers import add_item, close_item, offer_handover
from portal.api.http.shapes import Strict, note_field
from portal.api.resources.handovers import HandoverSchema, ItemSchema
from portal.pages.handover_page import accepted_words, item_words, what_words
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import NotFound
from portal.store.rows import handover_rows
from portal.store.rows.editable import in_project
from portal.store.tables import Handover
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.forms import Values, project_form
from portal.web.desk.showing import show
from portal.web.files.published import sent_photo
from portal.web.forms import choices
from portal.web.forms.inputs import Choices, Field, Form


class OfferForm(HandoverSchema):
    """The list is typed as lines, one item a line."""

    class Meta(HandoverSchema.Meta):
        exclude = ("items",)

    lines = note_field(20_000, load_default="")

    @post_load
    def as_items(self, values: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
        lines = [line.strip() for line in values.pop("lines", "").splitlines()]
        return {**values, "items": [{"item": line} for line in lines if line]}


@blueprint.get(f"{PROJECT}/handovers/")
def handovers(project_id: int) -> Response:
    snapshot = read_snapshot(project_id)
    lines = [
        (one, what_words(snapshot, one), accepted_words(snapshot, one),
         [(item, item_words(snapshot, item)) for item in one.items])
        for one in snapshot.handovers
    ]
    return show("handovers.html", project=snapshot.project, handovers=lines)


@form_page(f"{PROJECT}/handovers/new", "offer_handover")
def new_handover(project_id: int) -> Response:
    def do(values: Values) -> str:
        offer_handover(who(), project_id, **values, now=clock.now())
        return "It is handed over; the page asks the household to look at it."

    form = Form(
        "Hand work over",
        [
            Field("phase", "What is handed over", "choice", choices=_to_hand_over(read_snapshot(project_id))),
            Field("lines", "What is still open", "text", hint="One item a line, with the room and who does it."),
            Field("note", "A word to the household"),
        ],
        OfferForm(), "Hand it over",
    )
    return project_form(form, do, project_id)


@form_page(f"{PROJECT}/handovers/<int:handover_id>/items/new", "add_item")
def new_item(project_id: int, handover_id: int) -> Response:
    in_project(Handover, project_id, handover_id)
    photo, refusal = sent_photo(project_id, "photo")

    def do(values: Values) -> str:
        if refusal:
            raise refusal
        add_item(who(), project_id, handover_id, {**values, "photo": photo}, clock.now())
        return "It stands on the list."

    form = Form(
        "Add to the list",
        [
            Field("item", "What is still open", required=True),
            Field("room", "Where", "choice", choices=choices.rooms(read_snapshot(project_id))),
            Field("who", "Who does it"),
            Field("by_on", "By when", "date"),
            Field("photo", "A photo of it", "file"),
        ],
        ItemSchema(), "Add it",
    )
    return project_form(form, do, project_id)


@form_page(f"{PROJECT}/handovers/items/<int:item_id>/done", "close_item")
def item_done(project_id: int, item_id: int) -> Response:
    found = handover_rows.item_of(project_id, item_id)
    if found is None:
        raise NotFound(what="open item")

    def do(values: Values) -> str:
        close_item(who(), project_id, item_id, now=clock.now())
        return "It is done."

    return project_form(Form(f"Done: {found[0].item}", [], Strict(), "It is done"), do, project_id)


def _to_hand_over(snapshot: Snapshot) -> Choices:
    given = {one.phase_id for one in snapshot.handovers}
    done = [phase for phase in snapshot.phases if phase.finished_at is not None and phase.id not in given]
    return [*choices.phases(snapshot, done), ("", "The whole job")]
