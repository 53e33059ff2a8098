"""The page of one decision under a private link: what is asked, what each option does, and the way to answer.

An answer is given in two steps. One form gets `review`, which shows the choice once more; the others post to `approve`
and `ask`. Each carries the revision that was read; those that post, a mark that makes a repeated form one answer.
"""

from dataclasses import dataclass
from datetime import date
from typing import Any

from markupsafe import Markup

from portal.content import Piece, guidance_for
from portal.pages.approved import approved_by
from portal.pages.asking import consequences, question_sentences, urgency_words
from portal.pages.environment import render
from portal.pages.moving import moving_sentences
from portal.pages.option_drawing import OptionDrawing, advice_of, drawing_of
from portal.pages.outlook import Outlook, outlook_of
from portal.pages.sheet import has_sheet
from portal.pages.words import cost_words, days_words, short_code
from portal.planning.schedule import Schedule
from portal.store.facts import ApprovalFact, DecisionFact, Snapshot
from portal.when import clock_words, local, long_day_words, when_words


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


@dataclass(frozen=True, slots=True)
class Option:
    key: str
    title: str
    recommended: bool
    sentences: list[str]
    cannot_be_undone: str
    chosen: bool
    drawing: OptionDrawing | None


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
    return render("decision.html", snapshot.firm, **_shown(snapshot, decision, typed, now),
                  **_wanted(snapshot, outlook, decision, today), may_approve=may_approve,
                  may_withdraw=_may_withdraw(snapshot, decision, reader), designer=designer, guidance=guidance,
                  guidance_html=Markup(guidance.html) if guidance else None)  # allow-listed by portal.prose


def render_review(
    snapshot: Snapshot, decision: DecisionFact, now: int, typed: Typed, *, first_time: bool = False
) -> str:
    """The second step: the choice once more, to be confirmed with one's name. `typed.option` must be an option.

    `first_time`: approving here also agrees to deal on a screen, and the page says so.
    """
    shown = _shown(snapshot, decision, typed, now)
    chosen = next(option for option in shown["options"] if option.key == typed.option)
    return render("review.html", snapshot.firm, **shown, chosen=chosen, first_time=first_time)


def render_approved(
    snapshot: Snapshot, decision: DecisionFact, approval: ApprovalFact, now: int, entry: int | None = None
) -> str:
    """The copy at once: what this person has just approved, what happens next, and their receipt: that of `entry`."""
    zone = snapshot.project.timezone
    chosen = next(o for o in options_of(decision, Typed(option=approval.option)) if o.chosen)
    return render("result.html", snapshot.firm, **_shown(snapshot, decision, Typed(), now), chosen=chosen,
                  title="Your approval is kept", by=approved_by((approval,), zone), sentences=_next(snapshot, decision),
                  entry=entry)


def render_asked(snapshot: Snapshot, decision: DecisionFact, now: int) -> str:
    """What happens after a question back."""
    sentences = [
        "Your question is with the project manager. The answer will stand on this page, and the decision stays open.",
        f"If it is urgent, call {snapshot.project.phone or snapshot.firm.phone}.",
    ]
    return render("result.html", snapshot.firm, **_shown(snapshot, decision, Typed(), now), chosen=None,
                  title="Your question is on its way", by="", sentences=sentences, entry=None)


def options_of(decision: DecisionFact, typed: Typed = Typed()) -> list[Option]:
    chosen = "" if typed.superseded else typed.option
    return [_option(option, option["key"] == chosen) for option in decision.options]


def _option(option: dict[str, Any], chosen: bool) -> Option:
    sentences = [option.get("effects") or "", cost_words(option.get("cost_cents")), days_words(option.get("days"))]
    return Option(
        option["key"], option["title"], bool(option.get("recommended")), [s for s in sentences if s],
        option.get("cannot_be_undone") or "", chosen, drawing_of(option),
    )


def _shown(snapshot: Snapshot, decision: DecisionFact, typed: Typed, now: int) -> dict[str, Any]:
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
        "options": options_of(decision, typed),
        "advice": advice_of(decision.options),
        "typed": typed,
    }


def _wanted(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> dict[str, Any]:
    needed_by = outlook.needed_by.get(decision.id)
    approved = decision.state == "approved" and bool(decision.approvals)
    option = decision.option(decision.approvals[0].option) if approved else None
    return {
        "drawing": outlook.lateness[decision.id].drawing() if decision.id in outlook.lateness else None,
        "urgency": urgency_words(needed_by, today, decision.state == "asked_back"),
        "late": needed_by is not None and needed_by < today,
        "consequences": [
            *consequences(snapshot, outlook, decision, today), *moving_sentences(snapshot, outlook, decision, today)
        ],
        "questions": list(question_sentences(snapshot, decision)),
        "approved": option["title"] if option else "",
        "by": approved_by(decision.approvals, snapshot.project.timezone) if approved else "",
        "has_sheet": has_sheet(decision),
    }


def _may_withdraw(snapshot: Snapshot, decision: DecisionFact, reader: int | None) -> bool:
    mine = any(approval.person_id == reader for approval in decision.approvals)
    return mine and all(snapshot.phase(phase).started_at is None for phase in decision.holds)


def _next(snapshot: Snapshot, decision: DecisionFact) -> list[str]:
    if decision.state == "approved":
        held = [snapshot.phase(phase).name for phase in decision.holds]
        return [f"“{name}” may now start." for name in held]
    given = {approval.person_id for approval in decision.approvals}
    missing = [p.name for p in snapshot.people if p.role == "homeowner" and p.may_approve and p.id not in given]
    return [f"{name} must approve it, too, before the work may start." for name in missing]
