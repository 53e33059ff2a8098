"""What an answer that comes a working day too late moves: booked visits that can't be kept then, and other phases."""

from collections.abc import Iterator
from datetime import date, timedelta

from portal.pages.outlook import Outlook
from portal.planning.late_answers.moved_by_answer import MovedByAnswer, moved_by_answer
from portal.store.facts import DecisionFact, Snapshot
from portal.words.dates import dated_words, local
from portal.words.lists import listed, quoted
from portal.words.plurals import plural


def moved_if_late(outlook: Outlook, decision: int) -> MovedByAnswer | None:
    """By an answer on the first working day after the last that is in time; None where no work waits for it."""
    lateness, calendar = outlook.lateness.get(decision), outlook.booked.plan.calendar
    if lateness is None:
        return None
    today = calendar.day_of(outlook.booked.now)
    on = calendar.add_days(max(lateness.moves_after, today) + timedelta(days=1), 0)
    return moved_by_answer(outlook.booked, decision, on)


def moving_sentences(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> Iterator[str]:
    moved = moved_if_late(outlook, decision.id)
    if moved is None:
        return
    visits = [visit for visit in snapshot.visits if visit.id in moved.visits]
    on = dated_words(moved.on, today)
    if visits:
        zone = snapshot.project.timezone
        names = [f"{one.crew} on {dated_words(local(one.starts_at, zone).date(), today)}" for one in visits]
        these = plural(len(names), "this booked visit", "these booked visits")
        yield f"An answer on {on} comes too late for {these}: {listed(names)}."
    booked = {visit.phase_id for visit in visits}
    later = [phase.name for phase in snapshot.phases if phase.id in moved.phases and phase.id not in booked]
    if later:
        starts, these = plural(len(later), "this starts", "these start"), plural(len(later), "this", "these")
        words = f"Then {starts} later, too" if visits else f"An answer on {on} moves {these}"
        yield f"{words}: {quoted(later)}."
