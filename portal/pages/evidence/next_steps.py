"""What follows an answer: who comes for it, and the next question that waits for one."""

from dataclasses import dataclass, replace
from datetime import date

from portal.pages.cards.card import Card, open_card
from portal.pages.home.booked_words import booked_words
from portal.pages.in_the_way import approvals_missing
from portal.pages.outlook import Outlook
from portal.store.facts import DecisionFact, PersonFact, PhaseFact, Snapshot
from portal.words.capitals import first_upper
from portal.words.dates import dated_words, local, when_words
from portal.words.lists import listed, quoted
from portal.words.plurals import counted


@dataclass(frozen=True, slots=True)
class NextQuestion:
    """`left`: `3 answers left, 1 is late`. `card`: that of the most urgent one, as on the page."""

    left: str
    card: Card


def next_words(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, now: int) -> str:
    """Say in a sentence or two what comes next for a decision that somebody has approved."""
    owed = " We still owe you the answer to a question." if decision.unanswered else ""
    if decision.state != "approved":
        return f"We wait for {listed(_missing(snapshot, decision)) or 'another answer'}.{owed}"
    return f"{_work(snapshot, outlook, decision, now)}{owed}"


def next_question(snapshot: Snapshot, outlook: Outlook, reader: PersonFact, today: date) -> NextQuestion | None:
    """Find what this person has to answer first; None where nothing waits for them."""
    asked = [one for one in snapshot.decisions if _waits_for(one, reader)]
    if not asked:
        return None
    asked.sort(key=lambda one: (outlook.needed_by.get(one.id) or date.max, one.number))
    late = [one for one in asked if _is_late(outlook, one, today)]
    left = counted(len(asked), "answer left", "answers left")
    more = f", {counted(len(late), 'is', 'are')} late" if late else ""
    return NextQuestion(f"{left}{more}", replace(open_card(snapshot, outlook, asked[0], today), sign="Next question"))


def _work(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, now: int) -> str:
    """When the first work comes that it held, and what else that waits for."""
    waiting = [one for one in map(snapshot.phase, decision.holds) if one.started_at is None]
    if not waiting:
        return "The work goes on." if decision.holds else "No work waits for it."
    first = min(waiting, key=lambda phase: outlook.starts[phase.id])
    missing = approvals_missing(snapshot, first)
    unasked = [one.question for one in snapshot.unasked(first)]
    held = [f" It still waits until {missing}."] if missing else []
    held += [f" We still have to ask you {quoted(unasked)} before."] if unasked else []
    return f"{_coming(snapshot, outlook, first, now)}.{''.join(held)}"


def _waits_for(decision: DecisionFact, reader: PersonFact) -> bool:
    """What waits for our answer first is counted nowhere among theirs."""
    if not (reader.is_owner and decision.is_open and decision.state == "asked"):
        return False
    mine = decision.approvers in ("any", "all", str(reader.id))
    return mine and all(approval.person_id != reader.id for approval in decision.approvals)


def _is_late(outlook: Outlook, decision: DecisionFact, today: date) -> bool:
    by = outlook.needed_by.get(decision.id)
    return by is not None and by < today


def _missing(snapshot: Snapshot, decision: DecisionFact) -> list[str]:
    given = {approval.person_id for approval in decision.approvals}
    return [one.name for one in snapshot.owners if one.id not in given]


def _coming(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, now: int) -> str:
    """Its next visit, with the time; of work that nobody is booked for, the day of today's plan."""
    zone = snapshot.project.timezone
    today = local(now, zone).date()
    visits = [one for one in snapshot.visits if one.phase_id == phase.id and one.starts_at >= now]
    if not visits:
        booked = booked_words(snapshot, outlook, phase.id, today)
        return f"“{phase.name}” {f'is {booked}' if booked else _by_plan(outlook, phase, today)}"
    first = min(visits, key=lambda one: one.starts_at)
    return f"{first_upper(first.purpose.rstrip('.'))}: {first.crew}, {when_words(first.starts_at, zone)}"


def _by_plan(outlook: Outlook, phase: PhaseFact, today: date) -> str:
    return f"starts {dated_words(outlook.starts[phase.id], today)}, by today’s plan"
