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
from portal.layouts import pulls
from portal.pages.cards.swatches import swatch_scene
from portal.pages.closed import closed_words
from portal.pages.decision.due import due_of
from portal.pages.decision.failing import fails_words
from portal.pages.decision.if_later import changed_sentences, later_sentences, who_answers, window_sentences
from portal.pages.decision.option_drawing import NOT_SHOWN, OptionDrawing, advice_of, crew_advice_of, drawing_of
from portal.pages.decision.option_extras import Finish, OptionPhoto, finish_of, photos_of
from portal.pages.decision.taking_back import may_take_back, taking_back_words
from portal.pages.environment import render
from portal.pages.home.approved import approved_by
from portal.pages.home.asking import question_sentences, withdrawal_sentences
from portal.pages.outlook import Outlook, outlook_of
from portal.pages.paper.sheet import has_sheet
from portal.pages.pictures.fronts import pictures_of
from portal.pages.without_sums import prices_words
from portal.planning.schedule.critical_path import Schedule
from portal.store.facts import DecisionFact, Snapshot
from portal.store.refusals import NotAsAsked
from portal.words.codes import short_code
from portal.words.dates import clock_words, dated_words, local, long_day_words, time_change, time_words
from portal.words.money import price_changed, price_words

PRACTICE = "Good practice"
"""The heading of guidance from which on it is practice, safety and sources."""


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
    it all the same, in words; empty where it breaks none. `price` and `time`: what it changes, in two words; empty
    where nobody said. `picture`: its front view; `drawing`: the measured one."""

    key: str
    title: str
    recommended: bool
    sentences: list[str]
    cannot_be_undone: str
    chosen: bool
    drawing: OptionDrawing | None
    mark: str = ""
    fails: str = ""
    effects: str = ""
    price: str = ""
    time: str = ""
    picture: Markup | None = None
    finish: Finish | None = None
    photos: tuple[OptionPhoto, ...] = ()


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
    may_choose = may_approve and decision.is_open and decision.as_asked
    thinking, practice = map(_under_link, guidance.split_at(PRACTICE) if guidance else ("", ""))
    return render("decision.html", snapshot.firm, **shown_of(snapshot, decision, typed, now),
                  **_asked(snapshot, outlook, decision, today, reader),
                  **_settled(snapshot, outlook, decision, today, reader),
                  may_choose=may_choose, may_withdraw=may_take_back(snapshot, decision, reader), designer=designer,
                  prices=prices_words(snapshot), guidance=guidance, crew_advice=crew_advice_of(decision.options),
                  thinking=thinking, practice=practice)


def _under_link(html: str) -> Markup:
    """Guidance as it is shown here: what it points to stands under the reader's own link, too."""
    return Markup(html.replace('href="/guide/', 'href="../../guide/'))  # allow-listed by portal.words.prose


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
        option.get("cannot_be_undone") or "", chosen, drawing_of(option), fails=fails, effects=sentences[0],
        price=price_changed(option.get("cost_cents")), time=time_change(option.get("days")),
        finish=finish_of(option), photos=tuple(photos_of(option)),
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
    """What the page of a decision and each of its steps show: its options with their pictures, how to call."""
    zone = snapshot.project.timezone
    moment, pictures = local(now, zone), pictures_of(decision)
    options = settled_options(decision) if is_settled(decision) else options_of(decision, typed)
    return {
        "project": snapshot.project,
        "decision": decision,
        "room": snapshot.room_name(decision.room_id),
        "asked_on": dated_words(local(decision.asked_at, zone).date(), moment.date()),
        "as_of": f"{long_day_words(moment.date())}, at {clock_words(moment)}",
        "phone": snapshot.project.phone or snapshot.firm.phone,
        "hours": snapshot.project.office_hours or snapshot.firm.office_hours,
        "code": short_code(decision.check_code),
        "options": [
            replace(one, picture=pictures.by_key.get(one.key) or swatch_scene(one.finish.swatch if one.finish else ""))
            for one in options
        ],
        "scale": pictures.scale,
        "advice": advice_of(decision.options),
        "typed": typed,
        "unlike": unlike_words(decision),
    }


def _asked(
    snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date, reader: int | None
) -> dict[str, Any]:
    """Of a question that is open: by when, who answers, what a later answer does."""
    if is_settled(decision) or decision.is_closed:
        return {"due": None, "who": [], "changed": [], "later": [], "curve": None}
    lateness = outlook.lateness.get(decision.id)
    return {
        "due": due_of(snapshot, outlook, decision, today),
        "who": who_answers(snapshot, decision, reader),
        "changed": [*changed_sentences(snapshot, decision), *window_sentences(snapshot, outlook, decision, today)],
        "later": list(later_sentences(snapshot, outlook, decision, today)),
        "curve": lateness.drawing() if lateness else None,
    }


def _settled(
    snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date, reader: int | None
) -> dict[str, Any]:
    """What was approved, and until when that can be taken back; that the question is closed."""
    approved = is_settled(decision)
    option = decision.option(decision.approvals[0].option) if approved else None
    return {
        "closed": closed_words(snapshot, decision),
        "withdrawn": list(withdrawal_sentences(snapshot, decision, reader)),
        "taking_back": taking_back_words(snapshot, outlook, decision, today),
        "questions": list(question_sentences(snapshot, decision)),
        "approved": option["title"] if option else "",
        "fails": fails_words(option) if option else "",
        "by": approved_by(decision.approvals, snapshot.people, snapshot.project.timezone) if approved else "",
        "has_sheet": has_sheet(decision),
        "may_place": has_sheet(decision) and decision.kind == pulls.KIND,
    }
