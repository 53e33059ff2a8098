"""What we need from the household: each open question a card, the most urgent first; apart from them, what was just
settled. What waits for our answer first stands in portal.pages.cards.owe alone."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from portal.pages.answers.who_answered import answered_sentences, called_in, title_of
from portal.pages.cards.swatches import colors_of, swatch_picture
from portal.pages.handover_words import waiting_handovers
from portal.pages.outlook import Outlook
from portal.pages.pictures.fronts import card_picture
from portal.record.log.approval_history import ANY
from portal.store.facts import DecisionFact, Snapshot
from portal.words.capitals import first_upper
from portal.words.dates import dated_words, day_words, local
from portal.words.lists import listed, quoted
from portal.words.plurals import counted

MOST = 4
"""So many cards at most; of more questions three are cards, and the rest rows in a fold."""
_NEW = 2 * 24 * 3600
"""So many seconds what was approved or withdrawn stands among the cards; then it is in its fold."""


@dataclass(frozen=True, slots=True)
class Card:
    """`look`: `ask` (it waits for an answer), `waits` (for another of the household), `kept` (approved), `off`
    (withdrawn). `sign`: what to press; empty where the card only leads on. `colors`: the names of the
    picture's colors, for paper without them."""

    leads: str
    title: str
    look: str
    lines: tuple[str, ...]
    by: str = ""
    late: bool = False
    sign: str = ""
    picture: Markup | None = None
    colors: str = ""


@dataclass(frozen=True, slots=True)
class Asked:
    """`many`: so many things we need, cards and rows together. `rows`: where they lead, the question, by when. `rest`:
    what their fold says. `settled`: cards that ask for nothing."""

    many: int
    cards: tuple[Card, ...]
    rows: tuple[tuple[str, str, str], ...]
    rest: str
    enough: str
    settled: tuple[Card, ...]


def asked_section(snapshot: Snapshot, outlook: Outlook, now: int) -> Asked:
    """All cards of the page as of `now`, in seconds."""
    today = local(now, snapshot.project.timezone).date()
    found = open_questions(snapshot, outlook)
    many = len(found) > MOST
    cards = [open_card(snapshot, outlook, one, today) for one in (found[:MOST - 1] if many else found)]
    rows = [_row(outlook, one, today) for one in found[MOST - 1:]] if many else []
    over = _to_accept(snapshot)
    enough = any(one.approvers == ANY and not one.approvals for one in found)
    return Asked(
        len(found) + len(over), (*cards, *over), tuple(rows), _rest(rows),
        "One of you answers." if enough and len(snapshot.owners) > 1 else "", tuple(_settled(snapshot, now)),
    )


def open_questions(snapshot: Snapshot, outlook: Outlook) -> list[DecisionFact]:
    """Those that wait for the household, the most urgent first. What waits for our answer is among what we owe."""
    found = [one for one in snapshot.decisions if one.is_open and one.state == "asked"]
    return sorted(found, key=lambda one: (outlook.needed_by.get(one.id) or date.max, one.number))


def by_words(outlook: Outlook, decision: DecisionFact, today: date) -> tuple[str, bool]:
    """By when the answer is needed, and whether that has passed."""
    needed_by = outlook.needed_by.get(decision.id)
    if needed_by is None:
        return "", False
    if needed_by >= today:
        return f"by {'today' if needed_by == today else dated_words(needed_by, today)}", False
    return f"Late since {dated_words(needed_by, today)}", True


def leads_to(decision: DecisionFact) -> str:
    """Where a decision stands, from the page."""
    return f"decisions/{decision.number}/"


def picture_of(decision: DecisionFact) -> Markup | None:
    """The small picture of a question: drawn, or its colors. None where there is nothing to draw."""
    return card_picture(decision) or swatch_picture(decision.options)


def open_card(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> Card:
    """The card of a question that waits for the household."""
    by, late = by_words(outlook, decision, today)
    return Card(
        leads_to(decision), decision.question, "waits" if decision.approvals else "ask",
        tuple(_standing(snapshot, decision)), by, late,
        "Choose" if snapshot.sums and not decision.differ else "Look",  # who reads no sums approves nothing
        picture_of(decision), colors_of(decision.options),
    )


def _standing(snapshot: Snapshot, decision: DecisionFact) -> Iterable[str]:
    """That it was asked anew, and who has answered what; where one answer is enough and there is none yet, the section
    says so once."""
    if decision.revision > 1:
        on = day_words(local(decision.asked_at, snapshot.project.timezone).date())
        yield f"Changed on {on}: an earlier answer no longer counts."
    for one in decision.withdrawals[-1:]:
        on = day_words(local(one.at, snapshot.project.timezone).date())
        yield f"{called_in(snapshot, one.person_id)} took the approval back on {on}."
    if decision.approvals or decision.approvers != ANY:
        yield from answered_sentences(snapshot, decision)


def _row(outlook: Outlook, decision: DecisionFact, today: date) -> tuple[str, str, str]:
    return leads_to(decision), decision.question, by_words(outlook, decision, today)[0]


def _rest(rows: list[tuple[str, str, str]]) -> str:
    if not rows:
        return ""
    first = rows[0][2]
    return f"{len(rows)} more{f', the next {first}' if first.startswith('by ') else ''}"


def _to_accept(snapshot: Snapshot) -> list[Card]:
    return [
        Card(f"handovers/{one.id}/", f"{one.what} is done. Look it over.", "ask", (f"{first_upper(one.left)}.",),
             sign="Look")
        for one in waiting_handovers(snapshot)
    ]  # fmt: skip


def _settled(snapshot: Snapshot, now: int) -> Iterable[Card]:
    """Not of a closed house: its page stays as it is, and would show them as new for good."""
    if snapshot.project.closed_at is not None:
        return
    for one in snapshot.decisions:
        if one.state == "approved" and one.approvals and not one.is_closed and now - one.approvals[-1].at < _NEW:
            yield _kept(snapshot, one)
        elif one.withdrawn and now - one.withdrawn.at < _NEW:
            yield _off(snapshot, one)


def _kept(snapshot: Snapshot, decision: DecisionFact) -> Card:
    zone = snapshot.project.timezone
    names = [called_in(snapshot, one.person_id) or one.name for one in decision.approvals]
    on = day_words(local(decision.approvals[-1].at, zone).date())
    held = [snapshot.phase(phase).name for phase in decision.holds]
    until = f"until {quoted(held[:1])} starts" if held else "at any time"
    lines = (f"{listed(names)}, {on}. Can be taken back {until}.",)
    title = f"Approved: {title_of(decision, decision.approvals[0].option)}"
    return Card(leads_to(decision), title, "kept", lines, picture=picture_of(decision))


def _off(snapshot: Snapshot, decision: DecisionFact) -> Card:
    gone = decision.withdrawn
    assert gone is not None
    on = day_words(local(gone.at, snapshot.project.timezone).date())
    lines = (f"Withdrawn by {gone.staff}, {on}: {gone.reason.rstrip('.')}.",)
    return Card(leads_to(decision), decision.question, "off", lines, picture=picture_of(decision))


def open_words(many: int, late: int, over: int) -> str:
    """How much we need, and how many answers are late: `4 questions, 1 late`; with a hand-over to look over, `5 things,
    1 late`."""
    return f"{counted(many + over, 'thing' if over else 'question')}{f', {late} late' if late else ''}"
