"""The steps that follow the page of a decision: the choice once more, asking, taking back."""

from collections.abc import Iterator
from urllib.parse import urlencode

from portal.pages.decision.binding import finish_with, open_questions
from portal.pages.decision.decision_page import Typed, options_of, shown_of
from portal.pages.decision.taking_back import you_may_take_back
from portal.pages.environment import render
from portal.pages.home.approved import approved_by
from portal.pages.home.booked_words import booked_words
from portal.pages.home.contract import price_without
from portal.pages.outlook import Outlook, outlook_of
from portal.pages.title_block import choice_rows
from portal.planning.schedule.critical_path import Schedule
from portal.store.facts import ApprovalFact, DecisionFact, Snapshot
from portal.words.dates import local
from portal.words.lists import quoted


def render_review(
    snapshot: Snapshot, schedule: Schedule, decision: DecisionFact, now: int, typed: Typed, *, first_time: bool = False
) -> str:
    """The second step: the choice once more, to be confirmed with one's name. `typed.option` must be an option.

    `first_time`: approving here also agrees to deal on a screen, and the page says so.
    """
    outlook, today = outlook_of(snapshot, schedule), local(now, snapshot.project.timezone).date()
    shown, kept = shown_of(snapshot, decision, typed, now), decision.option(typed.option) or {}
    chosen = next(option for option in shown["options"] if option.key == typed.option)
    rows = choice_rows(snapshot, decision, kept, finish_with(outlook, kept, today))
    return render("review.html", snapshot.firm, **shown, chosen=chosen, rows=rows, first_time=first_time,
                  until=you_may_take_back(snapshot, outlook, decision, today),
                  questions=list(open_questions(snapshot, decision)), back=_back(typed.option))


def render_asked(snapshot: Snapshot, decision: DecisionFact, now: int, option: str = "") -> str:
    """What happens after a question back. `option`: what was ticked when it was sent, and is ticked again."""
    known = option if decision.option(option) else ""
    kept = "What you had ticked is still ticked there." if known else ""
    sentences = [
        "Your question is with the project manager.",
        "The answer will stand on your page and on the page of this question, and it is sent to you if we have your "
        f"e-mail address. Until then all stays as it is. {kept}".rstrip(),
        f"If it is urgent, call {snapshot.project.phone or snapshot.firm.phone}.",
    ]
    return render("result.html", snapshot.firm, **shown_of(snapshot, decision, Typed(), now),
                  title="Your question is on its way", sentences=sentences, back=_back(known))


def render_taking_back(
    snapshot: Snapshot, schedule: Schedule, decision: DecisionFact, approval: ApprovalFact, now: int, typed: Typed
) -> str:
    """What it means to take this approval back, before it is done."""
    outlook, zone = outlook_of(snapshot, schedule), snapshot.project.timezone
    chosen = next(o for o in options_of(decision, Typed(option=approval.option)) if o.chosen)
    return render("take_back.html", snapshot.firm, **shown_of(snapshot, decision, typed, now), chosen=chosen,
                  by=approved_by((approval,), snapshot.people, zone),
                  meaning=list(_taking_back(snapshot, outlook, decision, now)))


def _back(option: str) -> str:
    return f"./?{urlencode({'option': option})}" if option else "./"


def _taking_back(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, now: int) -> Iterator[str]:
    today = local(now, snapshot.project.timezone).date()
    if decision.state == "approved":
        yield "The question is open again, and we need a new answer."
    for phase in (snapshot.phase(one) for one in decision.holds):
        booked = booked_words(snapshot, outlook, phase.id, today)
        day = f", {booked}" if booked else ""
        yield f"We don’t start {quoted([phase.name])}{day}, until there is one. A later answer may move that day."
    yield from price_without(snapshot, decision)
    yield "What is ordered or cut by then may not go back: if in doubt, call us first."
    yield "The record keeps both: that you approved it, and that you took it back."
