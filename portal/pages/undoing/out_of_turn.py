"""What is asked before a phase starts out of turn, or is finished sooner than its hours allow: what is still open, and
what the tap would do to the finish. The same at the desk, in the API and, of what was done anyway, in the record."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import Any

from portal.pages.in_the_way import InTheWay
from portal.planning.calendar.working_calendar import calendar_of
from portal.planning.conflicts import out_of_turn
from portal.planning.conflicts.out_of_turn import StillOpen
from portal.planning.moves.what_if import FinishDays
from portal.store.facts import Snapshot
from portal.words.dates import dated_words, day_words, when_words
from portal.words.lists import listed, quoted
from portal.words.plurals import counted


def open_words(snapshot: Snapshot, found: Iterable[StillOpen]) -> Iterator[InTheWay]:
    """Each in a sentence."""
    for one in found:
        yield InTheWay(one.kind, one.id, _sentence(snapshot, one))


def effect_words(days: FinishDays, today: date, tap: str) -> str:
    """What it does to the finish. `tap`: what is said, as `Started now`. Empty where no finish can be computed."""
    if days.stands is None or days.would_be is None:
        return ""
    if days.stands == days.would_be:
        return f"{tap}, by today’s plan all work would be done on {dated_words(days.stands, today)}, as it stands."
    return (
        f"{tap}, by today’s plan all work would be done on {dated_words(days.would_be, today)} instead of "
        f"{dated_words(days.stands, today)}."
    )


def open_on_record(listed_open: Iterable[Mapping[str, Any]]) -> str:
    """Of an entry, what was open and was known to be: `. Yet “Set the tile” was not finished`. Empty where nothing
    was."""
    said = [_ON_RECORD[one["kind"]].format(quoted([one["name"]])) for one in listed_open if one["kind"] in _ON_RECORD]
    return f". Yet {listed(said)}" if said else ""


_ON_RECORD = {
    out_of_turn.PHASE: "{} was not finished", out_of_turn.INSPECTED: "{} was not inspected",
    out_of_turn.CURE: "the wait after {} was not over", out_of_turn.DELIVERY: "{} had not come",
    out_of_turn.DAY_OFF: "nobody works on that day", out_of_turn.TOO_SOON: "its hours had not passed",
}


def _sentence(snapshot: Snapshot, one: StillOpen) -> str:
    zone = snapshot.project.timezone
    if one.kind == out_of_turn.PHASE:
        return f"Before it comes {quoted([one.name])}, which is not finished."
    if one.kind == out_of_turn.INSPECTED:
        return f"Before it comes {quoted([one.name])}, which waits for its inspection."
    if one.kind == out_of_turn.CURE:
        left = counted(max(1, round(one.left / 60)), "hour")
        return f"The wait after {quoted([one.name])} has {left} to go, until {when_words(one.until * 60, zone)}."
    if one.kind == out_of_turn.DELIVERY:
        return f"It waits for what is ordered: {one.name}."
    if one.kind == out_of_turn.DAY_OFF:
        day = calendar_of(snapshot.project.calendar, zone).day_of(one.until)
        return f"{day_words(day)} is no work day."
    done, least = f"{one.done / 60:.3g}", counted(one.left / 60, "crew hour")
    return f"Since it was started, {done} of at least {least} have passed."
