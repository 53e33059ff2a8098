"""The steps that follow the page of a decision: the choice once more, the copy at once, asking, taking back."""

from collections.abc import Iterator
from urllib.parse import urlencode

from portal.pages.decision.binding import binding_sentences, open_questions, set_free
from portal.pages.decision.decision_page import Typed, options_of, shown_of
from portal.pages.decision.taking_back import taking_back_words
from portal.pages.environment import render
from portal.pages.home.approved import approved_by
from portal.pages.home.booked_words import booked_words
from portal.pages.home.contract import price_without
from portal.pages.outlook import Outlook, outlook_of
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
    chosen = next(option for option in options_of(decision, typed) if option.key == typed.option)
    kept = decision.option(typed.option) or {}
    return render("review.html", snapshot.firm, **shown_of(snapshot, decision, typed, now), chosen=chosen,
                  first_time=first_time, binding=list(binding_sentences(snapshot, outlook, decision, kept, today)),
                  questions=list(open_questions(snapshot, decision)), back=_back(typed.option))


def render_approved(
    snapshot: Snapshot, schedule: Schedule, decision: DecisionFact, approval: ApprovalFact, now: int,
    entry: int | None = None,
) -> str:
    """The copy at once: what this person has just approved, what happens next, and their receipt: that of `entry`."""
    zone, outlook = snapshot.project.timezone, outlook_of(snapshot, schedule)
    chosen = next(o for o in options_of(decision, Typed(option=approval.option)) if o.chosen)
    by = approved_by((approval,), snapshot.people, zone)
    return render("result.html", snapshot.firm, **shown_of(snapshot, decision, Typed(), now), chosen=chosen,
                  title="Your approval is kept", by=by, entry=entry, back="./",
                  sentences=list(_next(snapshot, outlook, decision, now)))


def render_asked(snapshot: Snapshot, decision: DecisionFact, now: int, option: str = "") -> str:
    """What happens after a question back. `option`: what was ticked when it was sent, and is ticked again."""
    known = option if decision.option(option) else ""
    kept = "What you had ticked is still ticked there." if known else ""
    sentences = [
        "Your question is with the project manager.",
        "The answer will stand on your page and on the page of this decision, and it is sent to you if we have your "
        f"e-mail address. The decision stays as it is until then. {kept}".rstrip(),
        f"If it is urgent, call {snapshot.project.phone or snapshot.firm.phone}.",
    ]
    return render("result.html", snapshot.firm, **shown_of(snapshot, decision, Typed(), now), chosen=None,
                  title="Your question is on its way", by="", sentences=sentences, entry=None, back=_back(known))


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


def _next(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, now: int) -> Iterator[str]:
    today = local(now, snapshot.project.timezone).date()
    yield taking_back_words(snapshot, outlook, decision, today)
    if decision.state == "approved":
        yield from set_free(snapshot, outlook, decision, today)
    else:
        given = {approval.person_id for approval in decision.approvals}
        missing = [p.name for p in snapshot.people if p.role == "homeowner" and p.may_approve and p.id not in given]
        yield from (f"{name} must approve it, too, before the work may start." for name in missing)
    if decision.unanswered:
        yield "We still owe you the answer to what you asked about it."


def _taking_back(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, now: int) -> Iterator[str]:
    today = local(now, snapshot.project.timezone).date()
    if decision.state == "approved":
        yield "The decision is open again, and we need a new answer."
    for phase in (snapshot.phase(one) for one in decision.holds):
        booked = booked_words(snapshot, outlook, phase.id, today)
        day = f", {booked}" if booked else ""
        yield f"We don’t start {quoted([phase.name])}{day}, until there is one. A later answer may move that day."
    yield from price_without(snapshot, decision)
    yield "What is ordered or cut by then may not go back: if in doubt, call us first."
    yield "The record keeps both: that you approved it, and that you took it back."
