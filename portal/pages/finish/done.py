"""When it is done: one meaning on every page, in letters and at the desk, and one way to say how sure that is.

Done is the day of the plan as booked, with every open answer given today. What moved it, what a late answer costs and
the flag on the span are counted in the same plan, so that they agree to the day. How sure it is comes from the
forecast: in how many of a hundred cases all is done by the end of a day.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from portal.pages.outlook import Outlook
from portal.planning.forecast.forecast import LIKELY, SAFE, Forecast
from portal.store.facts import Snapshot
from portal.store.reading.desk_lines import owed
from portal.words.dates import dated_words, local, short_span_words
from portal.words.lists import quoted
from portal.words.plurals import counted, plural


@dataclass(frozen=True, slots=True)
class Finish:
    """`day`: all work is done; `over`: it was. `late`: the day comes after `promised`. `sure`, `promise_sure`: the
    share of cases (0 to 1) in which all is done by the end of the day, and of the promised one; `safe`: the first day
    with a share of SAFE or more. `counts_on`: the questions that must be answered today, or the day likely moves."""

    day: date
    over: bool
    promised: date | None
    late: bool
    sure: float | None = None
    safe: date | None = None
    promise_sure: float | None = None
    counts_on: tuple[str, ...] = ()


def finish_of(snapshot: Snapshot, outlook: Outlook, forecast: Forecast | None) -> Finish | None:
    """None while nothing is planned, and of a house that was closed before all was finished. `forecast`: None where
    none can be made, or nothing is left to foresee."""
    project = snapshot.project
    done = [phase.finished_at for phase in snapshot.phases if phase.finished_at is not None]
    if outlook.finish is None or snapshot.stopped:
        return None
    if len(done) == len(snapshot.phases):
        day = local(max(done), project.timezone).date()
        return Finish(day, True, project.promised_on, _is_late(day, project.promised_on))
    late = _is_late(outlook.finish, project.promised_on)
    if forecast is None:
        return Finish(outlook.finish, False, project.promised_on, late)
    hanging = [snapshot.decision(one) for one, share in forecast.decisions.items() if share >= LIKELY]
    return Finish(
        outlook.finish, False, project.promised_on, late, forecast.sure, forecast.safely_on, forecast.chance,
        tuple(one.question for one in hanging if one.is_open and not owed(one)),
    )


def done_words(finish: Finish, today: date) -> str:
    """The bold answer, by today's plan: `Done Thu Dec 24`; where that is too little sure, until when it is: `Done Dec
    24 to 28`."""
    unsure = finish.safe is not None and finish.sure is not None and finish.sure < SAFE and finish.safe > finish.day
    if unsure and finish.safe:
        return f"Done {short_span_words(finish.day, finish.safe)}"
    return f"Done {dated_words(finish.day, today)}"


def promised_words(finish: Finish, today: date) -> str:
    """`promised Mon Dec 28`, and how late that is. Empty without a promise."""
    if finish.promised is None:
        return ""
    late = f", {counted((finish.day - finish.promised).days, 'day')} late" if finish.late else ""
    return f"promised {dated_words(finish.promised, today)}{late}"


def sure_words(finish: Finish, today: date) -> str:
    """In how many cases the day holds, and which day does in most. Empty where that is not known."""
    if finish.sure is None or finish.safe is None:
        return ""
    day, safe = dated_words(finish.day, today), dated_words(finish.safe, today)
    if finish.sure >= SAFE or finish.safe <= finish.day:
        return f"{day} holds in {_cases(finish.sure)}."
    return f"{day} holds in {_cases(finish.sure)}, {safe} in {round(SAFE * 100)} or more."


def finish_sentences(finish: Finish | None, today: date) -> Iterator[str]:
    """All that is said of it. Nothing while nothing is planned."""
    if finish is None:
        return
    if finish.over:
        yield f"All work was done on {dated_words(finish.day, today)}."
        return
    yield f"By today’s plan, all work is done on {dated_words(finish.day, today)}."
    if said := sure_words(finish, today):
        yield said
    yield from _promise(finish, today)
    yield from _counted_on(finish)


def _promise(finish: Finish, today: date) -> Iterator[str]:
    if finish.promised is None:
        return
    day = dated_words(finish.promised, today)
    if finish.late:
        yield f"We promised {day}. That is {counted((finish.day - finish.promised).days, 'day')} late."
    elif finish.promised == finish.day:
        yield "That is the day we promised."
    elif finish.promise_sure is None:
        yield f"We promised {day}."
    else:
        yield f"We promised {day}, which holds in {_cases(finish.promise_sure)}."


def _counted_on(finish: Finish) -> Iterator[str]:
    """An open decision is reckoned with as if answered today. Where a day more would likely move the finish, say so."""
    if finish.counts_on:
        answers = plural(len(finish.counts_on), "an answer", f"{len(finish.counts_on)} answers")
        yield f"This counts on {answers} today: {quoted(finish.counts_on)}."


def _is_late(day: date, promised: date | None) -> bool:
    return promised is not None and day > promised


def _cases(share: float) -> str:
    """In whole hundredths; a simulation is never as sure as 0 or 100."""
    hundredths = min(99, max(1, round(share * 100)))
    edge = "more than " if share > 0.99 else "less than " if share < 0.01 else ""
    return f"{edge}{hundredths} of 100 cases"
