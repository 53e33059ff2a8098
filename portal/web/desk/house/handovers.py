"""Completion at the desk: hand work over, keep the list of what is still open."""

from typing import Any

from flask import Response, url_for
from marshmallow import post_load

from portal import clock
from portal.acts.household import handovers as acts
from portal.acts.household.handovers import (
    add_item,
    change_items_until,
    close_item,
    offer_handover,
    take_back_handover,
)
from portal.api.http.shapes import Strict, WhySchema, note_field
from portal.api.resources.handovers import HandoverSchema, ItemSchema, UntilSchema
from portal.pages.handover_words import accepted_words, item_words, taken_back_words, until_words, what_words
from portal.request.sent_photos import one_kept
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import handover_rows
from portal.store.rows.editable import in_project
from portal.store.tables import Handover
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.forms import Values, project_form, seen
from portal.web.desk.showing import show
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
        (one, what_words(snapshot, one), accepted_words(snapshot, one), until_words(one),
         [(item, item_words(snapshot, item)) for item in one.items])
        for one in snapshot.handovers
    ]
    back = [
        taken_back_words(snapshot, one.phase_id, one.taken_back_at or 0, one.taken_back_reason)
        for one in handover_rows.taken_back(project_id)
    ]
    return show("handovers.html", project=snapshot.project, handovers=lines, taken_back=back)


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
            Field("items_until", "Until when they can add to the list", "date",
                  hint="Also once they have accepted it. Leave it empty: until they accept it."),
        ],
        OfferForm(), "Hand it over",
    )
    return project_form(form, do, project_id)


@form_page(f"{PROJECT}/handovers/<int:handover_id>/items/new", "add_item")
def new_item(project_id: int, handover_id: int) -> Response:
    in_project(Handover, project_id, handover_id)
    photo, refusal = one_kept(project_id, "photo")

    def do(values: Values) -> str:
        if refusal:
            raise refusal
        add_item(who(), project_id, handover_id, {**values, "photo": photo}, clock.now())
        return "It stands on the list."

    form = Form("Add to the list", _item_fields(project_id), ItemSchema(), "Add it")
    return project_form(form, do, project_id)


@form_page(f"{PROJECT}/handovers/<int:handover_id>/until", "change_items_until")
def items_until(project_id: int, handover_id: int) -> Response:
    found = in_project(Handover, project_id, handover_id)

    def do(values: Values) -> str:
        change_items_until(who(), project_id, handover_id, **values, now=clock.now())
        return "The page of the household says so."

    form = Form(
        "Until when the list can grow",
        [Field("until", "The household’s last day to add to it", "date", hint="Empty: until they accept it.")],
        UntilSchema(), "Keep this day",
    )
    return project_form(form, do, project_id, {"until": found.items_until})


@form_page(f"{PROJECT}/handovers/<int:handover_id>/take-back", "take_back_handover")
def take_handover_back(project_id: int, handover_id: int) -> Response:
    in_project(Handover, project_id, handover_id)

    def do(values: Values) -> str:
        take_back_handover(who(), project_id, handover_id, **values, now=clock.now())
        return "It is taken back; nobody is asked to accept it any more."

    form = Form(
        "Take back a hand-over", [Field("reason", "Why", required=True)], WhySchema(), "Take it back",
        intro="For one that was offered too early or by mistake. Whoever opens it reads why; its list goes with it.",
    )
    return project_form(form, do, project_id, then=url_for("desk.handovers", project_id=project_id))


@form_page(f"{PROJECT}/handovers/items/<int:item_id>/change", "change_item")
def change_item(project_id: int, item_id: int) -> Response:
    found = handover_rows.needed_item(project_id, item_id)
    photo, refusal = one_kept(project_id, "photo")

    def do(values: Values) -> str:
        if refusal:
            raise refusal
        acts.change_item(who(), project_id, item_id, seen(), {**values, "photo": photo}, clock.now())
        return "The list says so."

    form = Form("Change what is open", _item_fields(project_id), ItemSchema(), "Keep it")
    start = {"item": found.item, "room": found.room_id, "who": found.who, "by_on": found.by_on}
    onward = url_for("desk.handovers", project_id=project_id)
    return project_form(form, do, project_id, start, seen=found.version, then=onward)


@form_page(f"{PROJECT}/handovers/items/<int:item_id>/done", "close_item")
def item_done(project_id: int, item_id: int) -> Response:
    found = handover_rows.needed_item(project_id, item_id)

    def do(values: Values) -> str:
        close_item(who(), project_id, item_id, now=clock.now())
        return "It is done."

    return project_form(Form(f"Done: {found.item}", [], Strict(), "It is done"), do, project_id)


def _item_fields(project_id: int) -> list[Field]:
    return [
        Field("item", "What is still open", required=True),
        Field("room", "Where", "choice", choices=choices.rooms(read_snapshot(project_id))),
        Field("who", "Who does it"),
        Field("by_on", "By when", "date"),
        Field("photo", "A photo of it", "file"),
    ]


def _to_hand_over(snapshot: Snapshot) -> Choices:
    given = {one.phase_id for one in snapshot.handovers}
    done = [phase for phase in snapshot.phases if phase.finished_at is not None and phase.id not in given]
    return [*choices.phases(snapshot, done), ("", "The whole job")]
