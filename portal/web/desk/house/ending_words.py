"""What ends with a house that is closed, and what stays: said before it is closed."""

from collections.abc import Iterator

from portal.pages.handover_words import item_words
from portal.store.facts import Snapshot
from portal.store.reading.closing.what_ends import Ending
from portal.words.dates import day_words, local
from portal.words.lists import listed, quoted
from portal.words.plurals import plural


def ending_sentences(ending: Ending, snapshot: Snapshot) -> list[str]:
    """A sentence for each kind; where nothing is left, that."""
    said = [*_left(ending, snapshot)]
    return said or ["All is finished, answered and here. Nothing else ends with it."]


def _left(ending: Ending, snapshot: Snapshot) -> Iterator[str]:
    zone = snapshot.project.timezone
    if ending.unfinished:
        yield f"Not finished: {quoted([one.name for one in ending.unfinished])}."
    if ending.questions or ending.planned:
        asked = [snapshot.decision(one.id).question for one in ending.questions]
        names = [*asked, *(one.question for one in ending.planned)]
        yield f"Closed with it, unanswered: {quoted(names)}. The household is told of those that it was asked."
    if ending.orders or ending.deliveries:
        names = [*(one.item for one in ending.orders), *(one.item for one in ending.deliveries)]
        yield f"Off the list, not here: {quoted(names)}. Call who was to bring {plural(len(names), 'it', 'them')}."
    if ending.visits:
        days = [f"{one.crew} on {day_words(local(one.starts_at, zone).date())}" for one in ending.visits]
        yield f"Cancelled, and told: {listed(days)}."
    for handover in snapshot.handovers:
        for item in handover.still_open:
            yield f"Stays on our list: {item_words(snapshot, item)}"
    waiting = [one for one in snapshot.handovers if one.accepted_at is None]
    if waiting:
        yield "A hand-over waits to be accepted; the household can still do that."
