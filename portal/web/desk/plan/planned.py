"""What a plan to start from still wants asked or ordered: sent by a form that is filled in already, or dropped."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from flask import Response, redirect, request, url_for
from marshmallow import fields

from portal import clock
from portal.acts.plan.planned_questions import ask_planned, drop_question, held_by_planned
from portal.acts.plan.starting_plans import drop_order, order_planned
from portal.acts.visiting.suppliers import choose_supplier
from portal.api.http.shapes import Strict
from portal.api.resources.plans import DropQuestionSchema
from portal.layouts.kinds import KINDS
from portal.pages.outlook import Outlook
from portal.planning.calendar.lead import answer_by
from portal.request.option_photos import with_kept_photos
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import planned_rows
from portal.store.rows.household import supplier_rows
from portal.store.tables import PlannedOrder, PlannedQuestion
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.chosen_photos import chosen_photos
from portal.web.desk.forms import Values, project_form
from portal.web.desk.plan.deliveries import delivery_form
from portal.web.forms import decision_forms as made
from portal.web.forms.inputs import Field, Form
from portal.words.dates import near_words
from portal.words.lists import quoted
from portal.words.plurals import counted


@dataclass(frozen=True, slots=True)
class ToSend:
    """A planned question or order: what it is, when and for what it is needed, below which address its forms are."""

    what: str
    words: str
    way: str


def to_ask(snapshot: Snapshot, outlook: Outlook, today: date) -> list[ToSend]:
    rows = planned_rows.questions(snapshot.project.id)
    return [ToSend(row.question, " ".join(_when(snapshot, outlook, row, today)), f"planned/{row.id}") for row in rows]


def to_order(snapshot: Snapshot) -> list[ToSend]:
    names = {phase.id: phase.name for phase in snapshot.phases}
    return [
        ToSend(row.item, f"For {quoted(names[one] for one in row.phases if one in names)}.{_with_whom(row)}",
               f"orders/{row.id}")
        for row in planned_rows.orders(snapshot.project.id)
    ]  # fmt: skip


def _with_whom(row: PlannedOrder) -> str:
    """Whom somebody chose, or with whom the same item was ordered last."""
    supplier = supplier_rows.likely_for(row)
    if supplier is None:
        return ""
    takes = f", who take {counted(supplier.lead_days, 'working day')}" if supplier.lead_days is not None else ""
    return f" With {supplier.name}{takes}."


@form_page(f"{PROJECT}/planned/<int:planned_id>/ask", "ask_planned")
def ask_as_planned(project_id: int, planned_id: int) -> Response:
    """One that can be drawn is asked by its drawing, unless somebody wants it in words (`?in=words`)."""
    row, snapshot = planned_rows.question(project_id, planned_id), read_snapshot(project_id)
    if row.kind in KINDS and request.args.get("in") != "words":
        drawn = url_for("desk.layouts", project_id=project_id, kind=row.kind, planned=planned_id)
        return redirect(drawn, 303)  # type: ignore[return-value]

    def do(values: Values) -> tuple[str, str]:
        whole = with_kept_photos(project_id, made.with_ticked(values))
        asked = ask_planned(who(), project_id, planned_id, whole, clock.now())
        return f"Decision {asked.number} is asked. It stands on the page.", url_for(
            "desk.decision", project_id=project_id, decision_id=asked.id
        )

    sent, wrong = chosen_photos(project_id)
    form = made.ask_form(snapshot, sent, len(row.options))
    return project_form(form, do, project_id, _asked(row), wrong=wrong)


@form_page(f"{PROJECT}/planned/<int:planned_id>/drop", "drop_question")
def drop_planned(project_id: int, planned_id: int) -> Response:
    row = planned_rows.question(project_id, planned_id)

    def do(values: Values) -> str:
        drop_question(who(), project_id, planned_id, clock.now(), reason=values.get("reason", ""))
        return "The question is dropped. What it held may start without it."

    held = quoted(phase.name for phase in held_by_planned(row))
    why = Field("reason", "Why nobody is asked", "text", required=True,
                hint=f"{held} may start without an answer: this goes on the record, with your name.")
    form = Form("Drop a planned question", [why] if held else [], DropQuestionSchema(), "Drop it",
                intro=f"“{row.question}” Nobody will be asked.")
    return project_form(form, do, project_id)


@form_page(f"{PROJECT}/orders/<int:order_id>/order", "order_planned")
def order_as_planned(project_id: int, order_id: int) -> Response:
    row, snapshot = planned_rows.order(project_id, order_id), read_snapshot(project_id)

    def do(values: Values) -> str:
        order_planned(who(), project_id, order_id, values, now=clock.now())
        return "The delivery is on the plan."

    form = delivery_form(snapshot, "Order what the plan needs", "Put it on the plan", row.phases)
    return project_form(form, do, project_id, _ordered(row))


class SupplierChoice(Strict):
    supplier = fields.String(allow_none=True, load_default=None)


@form_page(f"{PROJECT}/orders/<int:order_id>/supplier", "choose_supplier")
def supplier_of_order(project_id: int, order_id: int) -> Response:
    row = planned_rows.order(project_id, order_id)

    def do(values: Values) -> str:
        choose_supplier(who(), project_id, order_id, values["supplier"], clock.now())
        return f"{row.item}: {'with ' + values['supplier'] if values['supplier'] else 'with nobody yet'}."

    likely = supplier_rows.likely_for(row)
    names = [("", "Nobody yet"), *((one.name, one.name) for one in supplier_rows.every())]
    form = Form(f"With whom: {row.item}", [Field("supplier", "Supplier", "choice", choices=names)], SupplierChoice(),
                "Keep it", intro="From the days that they take follows by when to order.")
    then = url_for("desk.deliveries", project_id=project_id)
    return project_form(form, do, project_id, {"supplier": likely.name if likely else ""}, then=then)


@form_page(f"{PROJECT}/orders/<int:order_id>/drop", "drop_order")
def drop_planned_order(project_id: int, order_id: int) -> Response:
    row = planned_rows.order(project_id, order_id)

    def do(values: Values) -> str:
        drop_order(who(), project_id, order_id, clock.now())
        return f"{row.item} is dropped."

    form = Form("Drop a planned order", [], Strict(), "Drop it", intro=f"{row.item}: nothing is ordered.")
    return project_form(form, do, project_id)


def _when(snapshot: Snapshot, outlook: Outlook, row: PlannedQuestion, today: date) -> Iterator[str]:
    starts = {phase.id: outlook.starts[phase.id] for phase in snapshot.phases if phase.id in row.holds}
    if not starts:
        yield "It holds nothing."
        return
    names = quoted(snapshot.phase(phase).name for phase in starts)
    by = answer_by(outlook.schedule.plan.calendar, min(starts.values()), row.lead_days)
    yield f"{names} can’t start before it is asked and approved; an answer is needed by {near_words(by, today)}."


def _asked(row: PlannedQuestion) -> dict[str, Any]:
    return {
        "question": row.question, "kind": row.kind, "room": row.room_id, "options": made.typed_options(row.options),
        "holds": row.holds, "lead_days": row.lead_days, "approvers": "any",
    }


def _ordered(row: PlannedOrder) -> dict[str, Any]:
    likely = supplier_rows.likely_for(row)
    return {"item": row.item, "phases": row.phases, "supplier": likely.name if likely else ""}
