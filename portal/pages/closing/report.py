"""The closing report: what was done and by whom, what was approved, what it costs, how the dates held, what stays open
until when, and how to care for it. For whoever lives there next, as much as for those who paid for it."""

from collections.abc import Iterator
from datetime import date

from portal.content import pieces
from portal.drawings.writers.report import Report, ReportSection
from portal.pages.finish.moved import moved_section
from portal.pages.handover_words import accepted_words, item_words, what_words
from portal.pages.home.approved import approved_section
from portal.pages.home.contract import contract_fold
from portal.pages.without_sums import prices_words
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.finish.moves import MovedFinish
from portal.words.capitals import first_upper
from portal.words.dates import day_words, local, span_words
from portal.words.lists import listed
from portal.words.plurals import counted
from portal.words.prose import plain_of


def closing_report(snapshot: Snapshot, moved: MovedFinish, now: int) -> Report:
    """Sections about which nothing is known are left out; sums, for whoever reads none."""
    today = local(now, snapshot.project.timezone).date()
    found = (
        ("What was done", _work(snapshot)),
        ("Who did it", _crews(snapshot)),
        ("What was approved", _approved(snapshot)),
        ("Price", _price(snapshot, today)),
        ("How the dates held", _dates(snapshot, moved, today)),
        ("What was handed over, and what stays open", _open(snapshot)),
        ("How to care for it", () if snapshot.stopped else _care()),
    )
    sections = [ReportSection(heading, lines) for heading, one in found if (lines := tuple(one))]
    return Report(
        f"{snapshot.project.name}: the work, and what stays", tuple(_under(snapshot, today)), tuple(sections),
        ", ".join(filter(None, (snapshot.firm.name, snapshot.firm.phone))),
    )


def _under(snapshot: Snapshot, today: date) -> Iterator[str]:
    if snapshot.project.address:
        yield snapshot.project.address
    closed = snapshot.project.closed_at
    done = f" The house was closed on {_day(snapshot, closed)}." if closed is not None else ""
    yield f"As of {day_words(today)}.{done}"


def _work(snapshot: Snapshot) -> Iterator[str]:
    """Room by room, in the order in which it was done; what was never finished says so."""
    for room in [*(room.id for room in snapshot.rooms), None]:
        here = [phase for phase in snapshot.phases if phase.room_id == room]
        for phase in sorted(here, key=lambda one: (one.started_at is None, one.started_at or 0)):
            yield f"{first_upper(snapshot.room_name(room))}: {phase.name}, {_when(snapshot, phase)}."


def _when(snapshot: Snapshot, phase: PhaseFact) -> str:
    if phase.started_at is None:
        return "not done"
    began = local(phase.started_at, snapshot.project.timezone).date()
    if phase.finished_at is None:
        return f"begun {day_words(began)}, not finished"
    ended = local(phase.finished_at, snapshot.project.timezone).date()
    return day_words(ended) if began == ended else span_words(began, ended)


def _crews(snapshot: Snapshot) -> Iterator[str]:
    for crew in dict.fromkeys(phase.crew for phase in snapshot.phases if phase.crew and phase.started_at is not None):
        did = [phase.name for phase in snapshot.phases if phase.crew == crew and phase.started_at is not None]
        yield f"{crew}: {listed(did)}."


def _approved(snapshot: Snapshot) -> Iterator[str]:
    section = approved_section(snapshot)
    for one in sorted(section.approved, key=lambda each: each.number):
        yield f"{one.number}. {one.question} {first_upper(one.option)}. {one.by}. Check code {one.code}."
    yield from (line for _, line in section.closed)


def _price(snapshot: Snapshot, today: date) -> Iterator[str]:
    """Whoever reads no sums is told that they are left out."""
    if prices_words(snapshot):
        yield prices_words(snapshot)
    else:
        yield from contract_fold(snapshot, today).sentences


def _dates(snapshot: Snapshot, moved: MovedFinish, today: date) -> Iterator[str]:
    """The end against the promise, in days of the calendar, and what moved it."""
    if snapshot.stopped:
        because = snapshot.project.closed_because.rstrip(".")
        yield f"The job ended before all was finished{f': {because}' if because else ''}."
        return
    ends = [phase.finished_at for phase in snapshot.phases if phase.finished_at is not None]
    promised = snapshot.project.promised_on
    if ends:
        end = local(max(ends), snapshot.project.timezone).date()
        said = f"The last work was finished on {day_words(end)}"
        yield f"{said}; {_against(end, promised)}." if promised else f"{said}."
    found = moved_section(snapshot, moved, today, most=None)
    if found:
        yield found.sum
        yield from (f"{line.when}: {line.by}. {line.why}" for line in found.lines)


def _against(end: date, promised: date) -> str:
    off = (end - promised).days
    if not off:
        return f"that was the promised day, {day_words(promised)}"
    return f"promised was {day_words(promised)}, {counted(abs(off), 'day')} {'earlier' if off > 0 else 'later'}"


def _open(snapshot: Snapshot) -> Iterator[str]:
    for handover in snapshot.handovers:
        accepted = accepted_words(snapshot, handover)
        yield f"{what_words(snapshot, handover)}: {f'accepted by {accepted}' if accepted else 'not accepted yet'}."
        if handover.items_until:
            yield f"You can add to its list until {day_words(handover.items_until)}."
        yield from (f"Still open: {item_words(snapshot, item)}" for item in handover.still_open)


def _care() -> Iterator[str]:
    for one in pieces("care"):
        yield f"{one.title}: {one.summary}"
        yield from filter(None, map(plain_of, one.body.splitlines()))


def _day(snapshot: Snapshot, at: int) -> str:
    return day_words(local(at, snapshot.project.timezone).date())
