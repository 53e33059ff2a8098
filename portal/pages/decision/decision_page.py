"""The page of one decision under a private link: what is asked, what each option does, and the way to answer.

One form holds the choice and the question, so that neither is lost when the other is sent: `choose` goes on to the
second step, `ask` asks. It carries the revision that was read, and a mark that makes a repeated form one answer. The
steps that follow stand in portal.pages.decision.answer_steps.
"""

from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from markupsafe import Markup

from portal.content import Piece, guidance_for
from portal.drawings.sheets.kept_sheet import can_be_worked_to
from portal.pages.closed import closed_words
from portal.pages.decision.failing import fails_words
from portal.pages.decision.moving import moving_sentences
from portal.pages.decision.option_drawing import NOT_SHOWN, OptionDrawing, advice_of, drawing_of
from portal.pages.decision.taking_back import may_take_back, taking_back_words
from portal.pages.environment import render
from portal.pages.home.approved import approved_by
from portal.pages.home.asking import consequences, question_sentences, urgency_words, withdrawal_sentences
from portal.pages.outlook import Outlook, outlook_of
from portal.pages.paper.sheet import has_sheet
from portal.planning.schedule.critical_path import Schedule
from portal.store.facts import DecisionFact, Snapshot
from portal.store.refusals import NotAsAsked
from portal.words.codes import short_code
from portal.words.dates import clock_words, local, long_day_words, time_words, when_words
from portal.words.money import price_words


@dataclass(frozen=True, slots=True)
class Typed:
    """What a form held when it was sent, and why it was refused. A superseded choice is not carried over."""

    option: str = ""
    name: str = ""
    text: str = ""
    once: str = ""
    refusal: str = ""
    field: str = ""
    superseded: bool = False
    sure: str = ""  # the name that was asked about already


@dataclass(frozen=True, slots=True)
class Option:
    """`mark`: of a decision that is approved, what became of this option. `fails`: which rules it breaks and who offers
    it all the same, in words; empty where it breaks none."""

    key: str
    title: str
    recommended: bool
    sentences: list[str]
    cannot_be_undone: str
    chosen: bool
    drawing: OptionDrawing | None
    mark: str = ""
    fails: str = ""


def render_decision(
    snapshot: Snapshot, schedule: Schedule, decision: DecisionFact, now: int,
    typed: Typed = Typed(), *, may_approve: bool = True, reader: int | None = None, designer: bool = False,
    guidance: Piece | None = None,
) -> str:
    """What is asked and the forms; of an approved decision, what was approved. `may_approve`: this reader is asked.
    `reader`: the person who reads; they may take back what they approved, until work that it held has started.
    `designer`: a reader who neither asks nor approves, but may propose. `guidance`: as it was shown when this was
    asked; where that was not kept, as it is now."""
    guidance = guidance or guidance_for(decision.kind)
    outlook = outlook_of(snapshot, schedule)
    today = local(now, snapshot.project.timezone).date()
    return render("decision.html", snapshot.firm, **shown_of(snapshot, decision, typed, now),
                  **_wanted(snapshot, outlook, decision, today, reader),
                  may_choose=may_approve and decision.is_open and decision.as_asked,
                  may_withdraw=may_take_back(snapshot, decision, reader), designer=designer, guidance=guidance,
                  guidance_html=Markup(guidance.html) if guidance else None)  # allow-listed by portal.words.prose


def options_of(decision: DecisionFact, typed: Typed = Typed()) -> list[Option]:
    chosen = "" if typed.superseded else typed.option
    return [_option(option, option["key"] == chosen) for option in decision.options]


def settled_options(decision: DecisionFact) -> list[Option]:
    """Of a decision that is approved: the approved option first, and no advice any more."""
    key = decision.approvals[0].option
    marked = [
        replace(one, recommended=False, mark="Approved" if one.key == key else "Not chosen")
        for one in options_of(decision)
    ]
    return sorted(marked, key=lambda one: one.key != key)


def _option(option: dict[str, Any], chosen: bool) -> Option:
    sentences = [option.get("effects") or "", price_words(option.get("cost_cents")), time_words(option.get("days"))]
    fails = fails_words(option)
    return Option(
        option["key"], option["title"], bool(option.get("recommended")) and not fails, [s for s in sentences if s],
        option.get("cannot_be_undone") or "", chosen, drawing_of(option), fails=fails,
    )


def is_settled(decision: DecisionFact) -> bool:
    return decision.state == "approved" and bool(decision.approvals)


def unlike_words(decision: DecisionFact) -> str:
    """Say that what is kept is not what was asked, or that what was approved of it can't be drawn; else empty."""
    if not decision.as_asked:
        return NotAsAsked.sentence
    approved = decision.option(decision.approvals[0].option) if decision.approvals else None
    return "" if approved is None or can_be_worked_to(approved, decision.kind) else NOT_SHOWN


def shown_of(snapshot: Snapshot, decision: DecisionFact, typed: Typed, now: int) -> dict[str, Any]:
    zone = snapshot.project.timezone
    moment = local(now, zone)
    return {
        "project": snapshot.project,
        "decision": decision,
        "room": snapshot.room_name(decision.room_id),
        "asked_at": when_words(decision.asked_at, zone),
        "as_of": f"{long_day_words(moment.date())}, at {clock_words(moment)}",
        "phone": snapshot.project.phone or snapshot.firm.phone,
        "hours": snapshot.project.office_hours or snapshot.firm.office_hours,
        "code": short_code(decision.check_code),
        "options": settled_options(decision) if is_settled(decision) else options_of(decision, typed),
        "advice": advice_of(decision.options),
        "typed": typed,
        "unlike": unlike_words(decision),
    }


def _wanted(
    snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date, reader: int | None
) -> dict[str, Any]:
    needed_by = outlook.needed_by.get(decision.id)
    approved = is_settled(decision)
    option = decision.option(decision.approvals[0].option) if approved else None
    return {
        "closed": closed_words(snapshot, decision),
        "drawing": outlook.lateness[decision.id].drawing() if decision.id in outlook.lateness else None,
        "urgency": urgency_words(needed_by, today, decision.state == "asked_back"),
        "late": needed_by is not None and needed_by < today,
        "consequences": [
            *consequences(snapshot, outlook, decision, today, reader),
            *moving_sentences(snapshot, outlook, decision, today),
        ],
        "withdrawn": list(withdrawal_sentences(snapshot, decision, reader)),
        "taking_back": taking_back_words(snapshot, outlook, decision, today),
        "questions": list(question_sentences(snapshot, decision)),
        "approved": option["title"] if option else "",
        "fails": fails_words(option) if option else "",
        "by": approved_by(decision.approvals, snapshot.people, snapshot.project.timezone) if approved else "",
        "has_sheet": has_sheet(decision),
    }
