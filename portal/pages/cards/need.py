"""What the first screen says that we need: how many answers, how many late, and of the most urgent one sentence."""

from dataclasses import dataclass
from datetime import date

from portal.pages.cards.card import by_words, leads_to, open_questions, open_words
from portal.pages.handover_words import waiting_handovers
from portal.pages.outlook import Outlook
from portal.planning.calendar.lead import answer_by
from portal.store.facts import DecisionFact, PlannedFact, Snapshot
from portal.words.capitals import first_upper
from portal.words.dates import dated_words
from portal.words.plurals import counted


@dataclass(frozen=True, slots=True)
class Need:
    """`leads`: to the most urgent, which is `about` that; empty: nothing is needed, and `words` say so. `sign`: what to
    press."""

    words: str
    more: str
    late: bool = False
    leads: str = ""
    sign: str = ""
    about: str = ""


def need(snapshot: Snapshot, outlook: Outlook, today: date) -> Need:
    """One card; of a house in which nothing waits for the household, a slip."""
    found, over = open_questions(snapshot, outlook), waiting_handovers(snapshot)
    late = [one for one in found if (due := outlook.needed_by.get(one.id)) is not None and due < today]
    if found:
        first = found[0]
        return Need(
            open_words(len(found), len(late), len(over)), _urgent(outlook, first, today), first in late,
            leads_to(first), "Choose" if snapshot.sums and not first.differ else "Look", first.question,
        )
    if over:
        words = counted(len(over), "hand-over") + " to look over"
        return Need(words, f"{over[0].what}: {over[0].left}.", leads=f"handovers/{over[0].id}/", sign="Look")
    return Need("Nothing from you. Thank you.", _next(snapshot, outlook, today))


def _urgent(outlook: Outlook, decision: DecisionFact, today: date) -> str:
    """By when, or, where that has passed, what an answer costs from today."""
    by, late = by_words(outlook, decision, today)
    costs = cost_from_today(outlook, decision.id, today) if late else ""
    return costs or (f"{by}." if late else f"The first {by}." if by else decision.question)


def cost_from_today(outlook: Outlook, decision: int, today: date) -> str:
    """What a late answer costs from today, in one sentence; empty of one that holds no work."""
    found = outlook.lateness.get(decision)
    return first_upper(found.cost_short(today)) if found else ""


def _next(snapshot: Snapshot, outlook: Outlook, today: date) -> str:
    """The question that the plan wants asked next, and before when. Empty: it wants none, or the house is closed."""
    if snapshot.project.closed_at is not None:
        return ""
    dated = [(day, one.id, one) for one in snapshot.planned if (day := _answer_by(snapshot, outlook, one)) is not None]
    if not dated:
        return "There may be more to ask." if snapshot.planned else ""
    day, _, one = min(dated, key=lambda each: each[:2])
    when = f"by {dated_words(day, today)}" if day > today else "soon"
    return f"The next question comes {when}: {one.question}"


def _answer_by(snapshot: Snapshot, outlook: Outlook, planned: PlannedFact) -> date | None:
    """When its answer will be needed, by today's plan; None where no work that has yet to start waits for it."""
    waiting = [phase for phase in map(snapshot.phase, planned.holds) if phase.started_at is None]
    starts = [outlook.starts[phase.id] for phase in waiting]
    return answer_by(outlook.booked.plan.calendar, min(starts), planned.lead_days) if starts else None
