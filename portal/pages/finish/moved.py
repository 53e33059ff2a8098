"""What moved the finish, in words, as the page, the desk and the API say it: newest first, with the sum."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from portal.pages.without_sums import without
from portal.planning.moves import drivers
from portal.planning.moves.replay import VISIT_OVER, Move
from portal.store.facts import Snapshot
from portal.store.reading.finish.moves import MovedFinish
from portal.store.reading.finish.told_causes import (
    DELIVERY_MOVED,
    NOT_ANSWERED_BY_US,
    NOT_ASKED_AGAIN,
    REMAINING,
)
from portal.words.dates import dated_words, span_words
from portal.words.lists import listed, quoted
from portal.words.plurals import counted, plural

MOST = 6
"""Lines that the page shows; what is older is summed up."""
_MOST_NAMES = 3

_ANSWER = {
    "asked": "We asked {}.", "revised": "We asked {} again.", "question_withdrawn": "We withdrew {}.",
    "question_changed": "We changed what waits for {}.", "asked_back": "A question came back about {}.",
    "answered": "We gave an answer about {}.", "approvers_changed": "We changed who answers {}.",
    "approved": "{} was|were answered.", "withdrawn": "The answer to {} was taken back.",
    drivers.NOT_ANSWERED: "{} waited for an answer.", NOT_ANSWERED_BY_US: "{} waited for an answer of ours.",
    NOT_ASKED_AGAIN: "We had not asked {} again.",
}  # fmt: skip
_OTHERS = {
    "delivery_ordered": "{} was|were ordered.", "delivery_changed": "The order of {} was changed.",
    "delivery_removed": "{} is|are no longer ordered.", "delivery_arrived": "{} came.",
    "arrival_taken_back": "Taken back: {} has|have not come.",
    drivers.NOT_COME: "{} had not come.",
    "visit_booked": "A visit was booked: {}.", "visit_moved": "A visit was moved: {}.",
    "visit_cancelled": "A visit was cancelled: {}.", "visit_changed": "A visit was changed: {}.",
    VISIT_OVER: "A visit was over and its work had not begun: {}.",
}  # fmt: skip
_PHASES = {
    "started": "{} began.", "finished": "{} was|were finished.", REMAINING: "We counted anew what is left of {}.",
    drivers.NOT_STARTED: "{} had not begun.", drivers.TOOK_LONGER: "{} took longer.", "stopped": "{} stopped.",
    "resumed": "{} went on.", "inspection_awaited": "{} waits|wait for the inspector.", drivers.RESTED: "{} rested.",
    drivers.NOT_INSPECTED: "{} waited for the inspector.", "released": "{} may start without an answer.",
    "start_taken_back": "Taken back: {} has|have not begun.",
    "finish_taken_back": "Taken back: {} is|are not finished.",
    "stop_taken_back": "Taken back: {} does|do not rest.",
    "inspection_taken_back": "Taken back: {} waits|wait for no inspector.",
    "release_taken_back": "Taken back: {} waits|wait for an answer.",
    "plan_changed": "The plan was changed: {}.",
}  # fmt: skip
"""Of one and of several: `was|were`."""
_PLAIN = {
    "hold_lifted": "Work no longer waits for an answer.", "project_changed": "Dates or working days were changed.",
    "timezone_changed": "The time zone was put right.", drivers.PASSED: "Time passed.",
    "untold": "The record does not say why.",
}  # fmt: skip
_VERB = re.compile(r"(\w+)\|(\w+)")


@dataclass(frozen=True, slots=True)
class MovedLine:
    """`when`: the day, or the days in a row that had the same cause. `by`: `2 days later, to Mon Dec 21`. `why`: the
    cause, and the reason as it was typed."""

    when: str
    by: str
    why: str


@dataclass(frozen=True, slots=True)
class Moved:
    """`sum`: one sentence. `lines`: newest first. `older`: how much the lines that are left out moved it; empty where
    none are."""

    sum: str
    lines: list[MovedLine]
    older: str


def moved_section(snapshot: Snapshot, moved: MovedFinish, today: date, most: int | None = MOST) -> Moved | None:
    """None while no plan is told, and of a job that ended before its end. `most`: how many lines; None: all."""
    if moved.since is None or moved.first is None or snapshot.stopped:
        return None
    runs = list(_runs(moved.moves))[::-1]
    shown = runs if most is None or len(runs) <= most else runs[:most - 1]
    older = [move for run in runs[len(shown):] for move in run]
    lines = [_line(snapshot, run, today) for run in shown]
    found = Moved(_sum(moved.since, moved.first, moved.moves, today), lines, _older(len(runs) - len(shown), older))
    return found if snapshot.sums else without(found)


def why_words(snapshot: Snapshot, move: Move) -> str:
    """The cause in a sentence, and the reason in quotation marks, as it was typed."""
    asked = {f"{one.number}": one.question for one in snapshot.decisions}
    return cause_words(move.cause.did, move.cause.about, move.cause.reason, move.days, asked)


def cause_words(did: str, about: Sequence[str], reason: str, days: int, asked: Mapping[str, str]) -> str:
    """The same of the parts of a cause. `days`: by how many it moved the finish; `asked`: questions by their numbers as
    text."""
    return f"{_cause(did, about, days, asked)}{f' “{reason}”' if reason else ''}"


def lately_words(moves: Sequence[Move], asked: Mapping[str, str], today: date) -> str:
    """What moved the finish from the first of these on, in sentences, for a list and for a message: the cause; of
    several, the one that moved it most the way that it went in all, and of those that did as much the last."""
    most, why = _most(moves), most_moved_by(moves, asked)
    if why.all_of_it:
        return why.cause
    since, days = dated_words(moves[0].day, today), (moves[-1].after - moves[0].before).days
    return f"In all {_by(days)} since {since}; most by this, {_by(_days(most))}: {why.cause}"


class MovedBy(NamedTuple):
    """The cause in a sentence, and whether it is the only one."""

    cause: str
    all_of_it: bool


def most_moved_by(moves: Sequence[Move], asked: Mapping[str, str]) -> MovedBy:
    """The same cause, where there is room for one sentence."""
    most = _most(moves)
    cause = most[-1].cause
    return MovedBy(cause_words(cause.did, cause.about, cause.reason, _days(most), asked), len(list(_runs(moves))) == 1)


def _most(moves: Sequence[Move]) -> Sequence[Move]:
    days, runs = (moves[-1].after - moves[0].before).days, list(_runs(moves))
    ways = [run for run in runs if (_days(run) > 0) == (days > 0)]
    return max(reversed(ways or runs), key=lambda run: abs(_days(run)))


def _days(run: Sequence[Move]) -> int:
    return (run[-1].after - run[0].before).days


def _cause(did: str, about: Sequence[str], days: int, asked: Mapping[str, str]) -> str:
    if did == DELIVERY_MOVED:
        comes = plural(len(about), "comes", "come")
        return f"{_named(about, str)} {comes} {'later' if days > 0 else 'sooner'}."
    for words, name in ((_ANSWER, lambda one: _question(asked, one)), (_OTHERS, str), (_PHASES, _quoted)):
        if did in words and about:
            return _VERB.sub(r"\1" if len(about) == 1 else r"\2", words[did]).format(_named(about, name))
    return _PLAIN.get(did, "The plan was changed.")


def _named(about: Sequence[str], name: Callable[[str], str]) -> str:
    names = [name(one) for one in about[:_MOST_NAMES]]
    more = len(about) - len(names)
    return listed([*names, f"{more} more"] if more else names)


def _quoted(name: str) -> str:
    return quoted([name])


def _question(asked: Mapping[str, str], number: str) -> str:
    return quoted([asked[number]]) if number in asked else f"decision {number}"


def _runs(moves: Sequence[Move]) -> Iterator[list[Move]]:
    """Moves that follow each other for the same cause, such as a question that waits day after day."""
    run: list[Move] = []
    for move in moves:
        if run and move.cause != run[-1].cause:
            yield run
            run = []
        run.append(move)
    if run:
        yield run


def _line(snapshot: Snapshot, run: Sequence[Move], today: date) -> MovedLine:
    first, last = run[0], run[-1]
    when = dated_words(last.day, today) if first.day == last.day else span_words(first.day, last.day)
    days = _days(run)
    whole = Move(last.day, first.before, last.after, last.cause)
    return MovedLine(when, f"{_by(days)}, to {dated_words(last.after, today)}", why_words(snapshot, whole))


def _by(days: int) -> str:
    return f"{counted(abs(days), 'day')} {'later' if days > 0 else 'earlier'}" if days else "as before"


def _sum(since: date, first: date, moves: Sequence[Move], today: date) -> str:
    began, day = dated_words(since, today), dated_words(first, today)
    if not moves:
        return f"Nothing has moved the end since {began}: it is still {day}."
    days = (moves[-1].after - first).days
    if not days:
        return f"The end is {day}, as on {began}."
    return f"In all {_by(days)}: on {began} the end was {day}, now it is {dated_words(moves[-1].after, today)}."


def _older(count: int, moves: Sequence[Move]) -> str:
    if not count:
        return ""
    days = sum(move.days for move in moves)
    return f"Before that: {counted(count, 'move')}, in all {_by(days) if days else 'no day'}."
