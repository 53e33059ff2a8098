"""What a change would do to the dates, said before it is made: it is done, looked at and taken back, and done for good
once the same form comes with the mark that it was shown with."""

import hashlib
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from flask import request

from portal import clock
from portal.pages.unkept_visits import whose_words
from portal.planning.conflicts.unkept_visits import Conflict
from portal.planning.conflicts.warnings import PromiseWarning
from portal.store.engine.database import is_writing, write
from portal.store.reading.snapshot import read_snapshot
from portal.store.reading.warnings import Moved, moved_by
from portal.store.refusals import Refused
from portal.store.rows.editable import project_row
from portal.web.desk.conflict_words import Said, conflict_words
from portal.words.dates import dated_words, local
from portal.words.plurals import counted

Result = TypeVar("Result")
_ASIDE = ("mark", "once", "looked", "picture", "pressed_at")
"""What a form carries besides what was typed."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """One sentence on what would happen. `late`: something can't be kept then."""

    words: str
    late: bool = False


class LookFirst(Refused):
    """Not done yet: `ahead` says what it would do; the same form with `looked` does it."""

    status = 409
    sentence = "This is not saved yet. See what it does, then press again."

    @property
    def in_full(self) -> list[str]:
        """Where nobody looks at the page that says what it would do."""
        ahead: list[Ahead] = self.details["ahead"]
        return ["This is not saved yet.", *(one.words for one in ahead), "Open the form and press once more."]


def look_mark() -> str:
    """Stands for what was typed, so that what was changed since is looked at anew."""
    typed = sorted(
        (name, text) for name, text in request.form.items(multi=True)
        if name not in _ASIDE and not name.startswith("door.")  # who signed in beside the form
    )
    return hashlib.sha256(repr(typed).encode()).hexdigest()


def looked() -> bool:
    """Whether the form comes from the page that said what it would do."""
    return request.form.get("looked", "") == look_mark()


def look_first(ahead: list[Ahead]) -> None:
    """Raise LookFirst where there is something to see that nobody has looked at."""
    if ahead and not looked():
        raise LookFirst(ahead=ahead, looked=look_mark())


def asked_first(project_id: int, change: Callable[[], Said]) -> Said:
    """Do a change, and say with it what it did; where it moves dates, only after that was looked at. Within the
    transaction of the form: what is not done is taken back with it."""
    said, moved = moved_by(project_id, clock.now(), change)
    ahead = ahead_of(project_id, moved)
    look_first(ahead)
    words = " ".join(["", *(one.words for one in ahead or first_finish(project_id, moved))])
    return f"{said}{words}" if isinstance(said, str) else (f"{said[0]}{words}", said[1])


class _TakenBack(Exception):
    """Ends a change that is only looked at."""


def look_at(project_id: int, change: Callable[[], Result]) -> tuple[Result, list[Ahead]]:
    """Do a change, and take it back: what it gives, and what it would do."""
    if is_writing():
        raise RuntimeError("what lies in a transaction is not taken back without it")
    found: list[tuple[Result, list[Ahead]]] = []
    with suppress(_TakenBack), write():
        result, moved = moved_by(project_id, clock.now(), change)
        found.append((result, ahead_of(project_id, moved) or first_finish(project_id, moved)))
        raise _TakenBack
    return found[0]


def ahead_of(project_id: int, moved: Moved) -> list[Ahead]:
    """What moves, or can't be kept any more; nothing where nothing does. The first finish of a plan moves nothing."""
    project = project_row(project_id)
    today = local(clock.now(), project.timezone).date()
    unkept = [one for one in moved.found if isinstance(one, Conflict)]
    found = [Ahead(words, late=True) for words in (whose_words(read_snapshot(project_id), unkept) if unkept else ())]
    found += dict.fromkeys(
        Ahead(conflict_words(one, project.timezone), isinstance(one, PromiseWarning))
        for one in moved.found if not isinstance(one, Conflict)
    )
    said = [*found, *_answers(project_id, moved, today)]
    before, after = moved.before.finish, moved.after.finish
    if before and after and before != after:
        return [Ahead(f"Done {dated_words(after, today)} instead of {dated_words(before, today)}: "
                      f"{_apart(before, after)}."), *said]
    if said and after and before:
        return [Ahead(f"The finish stays: {dated_words(after, today)}."), *said]
    return said


def first_finish(project_id: int, moved: Moved) -> list[Ahead]:
    """Of a plan that was empty before: when all is done by it."""
    if moved.before.finish or not moved.after.finish:
        return []
    today = local(clock.now(), project_row(project_id).timezone).date()
    return [Ahead(f"By this plan, all is done on {dated_words(moved.after.finish, today)}.")]


def _answers(project_id: int, moved: Moved, today: date) -> Iterator[Ahead]:
    snapshot = read_snapshot(project_id) if moved.answers else None
    for one, (before, after) in moved.answers.items():
        assert snapshot is not None
        question = snapshot.decision(one).question
        if after >= today:
            instead = f" instead of {dated_words(before, today)}" if before >= today else ""
            yield Ahead(f"The answer to “{question}” is needed by {dated_words(after, today)}{instead}.")
        elif before >= today:
            yield Ahead(f"The answer to “{question}” would be late.", late=True)


def _apart(before: date, after: date) -> str:
    return f"{counted(abs((after - before).days), 'day')} {'later' if after > before else 'earlier'}"

