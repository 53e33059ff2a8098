"""A designer's page under their own link: change the placement, look at the drawings, propose one of them."""

from typing import Any

from flask import Response, abort, redirect, request

from portal import clock
from portal.acts.actor import MAY
from portal.acts.decisions.layout_options import kept, layouts_of
from portal.acts.decisions.proposals import PLACED, placed, propose_layout
from portal.layouts.form import narrowed
from portal.layouts.kinds import kind_named
from portal.pages.decision.option_drawing import drawing_of
from portal.pages.environment import render
from portal.store.facts import DecisionFact, Snapshot
from portal.store.refusals import Refused
from portal.store.rows.editable import in_project
from portal.store.rows.proposal_rows import proposals_of
from portal.store.tables import Decision
from portal.web.answer import page
from portal.web.forms.blanks import PREFIX, dimensions_from, groups
from portal.web.forms.nesting import value_at
from portal.web.forms.once import new_mark, once
from portal.web.house.blueprint import blueprint, decision_in, reader, snapshot, typed
from portal.words.dates import when_words
from portal.words.typed import legible

_PATH = "detail.dimensions."


@blueprint.route("/decisions/<int:number>/propose", methods=["GET", "POST"])
def propose(number: int) -> Response:
    if reader().role not in MAY["propose_layout"]:
        abort(404)
    shown = snapshot()
    asked = decision_in(shown, number)
    if request.method == "GET":
        return _page(shown, asked, {})
    placement = _placement(asked.kind)
    try:
        if typed("step") == "propose":
            return _propose(shown, asked, placement)
    except Refused as refusal:
        return _page(shown, asked, placement, refusal)
    return _page(shown, asked, placement)


def _propose(shown: Snapshot, asked: DecisionFact, placement: dict[str, Any]) -> Response:
    def do() -> str:
        propose_layout(
            reader(), shown.project.id, asked.id, placement=placement, layout=typed("layout"),
            note=typed("note"), now=clock.now(),
        )  # fmt: skip
        return "proposed"

    once(reader(), typed("once", 64), do)
    return redirect("propose", 303)  # type: ignore[return-value]


def _placement(kind: str) -> dict[str, Any]:
    """What was typed; what was left blank is taken away."""
    names = PLACED.get(kind, frozenset())
    form = narrowed(kind_named(kind).FORM, names) if names else ()
    given, _ = dimensions_from(kind, request.form.to_dict(flat=False), form)
    return dict.fromkeys(names) | given


def _page(
    shown: Snapshot, asked: DecisionFact, placement: dict[str, Any], refusal: Refused | None = None
) -> Response:
    """The form with what was typed, and the drawings of it. Raises Refused where there is nothing to place."""
    row = in_project(Decision, shown.project.id, asked.id)
    dimensions = placed(row, placement)
    options = []
    try:
        options = [_option(layout) for layout in layouts_of(asked.kind, dimensions)]
    except Refused as found:
        refusal = found
    message = str(refusal.details.get("message", refusal)) if refusal else ""
    wrong = {field.removeprefix(_PATH): said for field, said in refusal.faults} if refusal else {}
    html = render(
        "propose.html", shown.firm, project=shown.project, decision=asked, room=shown.room_name(asked.room_id),
        refusal=message, fields=_fields(asked.kind, dimensions, wrong), options=options,
        note=legible(typed("note")), proposals=_proposals(shown, asked), once=new_mark(),
        phone=shown.project.phone or shown.firm.phone, hours=shown.project.office_hours or shown.firm.office_hours,
    )  # fmt: skip
    return page(html, refusal.status if refusal else 200)


def _fields(kind: str, dimensions: dict[str, Any], wrong: dict[str, str]) -> list[dict[str, str]]:
    form = narrowed(kind_named(kind).FORM, PLACED[kind])
    return [
        {
            "name": one.name, "label": f"{group.title}: {one.label}", "hint": one.hint,
            "text": value_at(dimensions, one.name.removeprefix(PREFIX)) or "",
            "wrong": wrong.get(one.name.removeprefix(PREFIX), ""),
        }
        for group in groups(kind, form) for one in group.fields
    ]  # fmt: skip


def _option(layout: Any) -> dict[str, Any]:
    option = {"key": layout.key, "detail": kept(layout)}
    chosen = typed("layout") in (layout.key, layout.title)
    return {"key": layout.key, "title": layout.title, "reason": layout.reason, "drawing": drawing_of(option),
            "chosen": chosen and layout.ok, "ok": layout.ok, "mends": layout.mends, "finish": None, "photos": ()}


def _proposals(shown: Snapshot, asked: DecisionFact) -> list[dict[str, str]]:
    """The reader's own."""
    zone = shown.project.timezone
    mine = [one for one in proposals_of(asked.id) if one.person_id == reader().id]
    return [{"when": when_words(one.at, zone), "layout": one.layout, "note": one.note, "outcome": one.outcome,
             "because": one.because} for one in mine]  # fmt: skip
