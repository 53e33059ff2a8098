"""Letters about visits: one is moved, one is cancelled, all stay where they are by the clock at the house."""

from typing import Any

from portal.notices.letter import Letter, Reader
from portal.pages.days.visits import announced, visit_words
from portal.pages.where_and_when import hours_words
from portal.store.facts import Snapshot, VisitFact
from portal.words.dates import dated_words, local


def visit_moved(reader: Reader, about: dict[str, Any]) -> Letter | None:
    """None when it has been moved on or back since, was cancelled, or is over: then this is no news."""
    visit, before = _visit(about), _visit(about | about["before"])
    if not still_moved(reader.snapshot, about, reader.now):
        return None
    return Letter(
        f"{reader.house}: a visit is moved to {_day(reader, visit)}",
        [
            "A visit at your house is moved.",
            f"Now: {_when(reader, visit)}. {_announced(reader, visit)}",
            f"It was booked for {_when(reader, before)}.",
            *_why(about.get("reason", "")),
            "All visits, for your calendar:",
            f"{reader.link}calendar/",
        ],
    )


def visit_cancelled(reader: Reader, about: dict[str, Any]) -> Letter | None:
    visit = _visit(about)
    if not still_cancelled(reader.snapshot, about, reader.now):
        return None
    return Letter(
        f"{reader.house}: the visit on {_day(reader, visit)} is cancelled",
        [
            "A visit at your house is cancelled.",
            f"Nobody comes on {_when(reader, visit)} for this: {visit_words(reader.snapshot, visit)}",
            *_why(about["because"]),
        ],
    )


def _why(because: str) -> list[str]:
    return [f"Why: {because.rstrip('.')}."] if because else []


def clock_kept(reader: Reader) -> Letter | None:
    """The timezone was put right. A calendar keeps instants, so it has shown other times than the page."""
    coming = [visit for visit in reader.snapshot.visits if visit.ends_at > reader.now]
    if not coming:
        return None
    return Letter(
        f"{reader.house}: your visits stay at the times on your page",
        [
            "We had set the time zone of your house wrong, and have put it right.",
            "Nobody comes at another time than your page said. Booked are:",
            *(f"- {_when(reader, visit)}. {_announced(reader, visit)}" for visit in coming),
            "If you have our visits in your own calendar, it may have shown other times. Take them from here again:",
            f"{reader.link}calendar/",
        ],
    )


def still_moved(snapshot: Snapshot, about: dict[str, Any], now: int) -> bool:
    """Whether the visit still is where it was moved to, and not over."""
    visit, before = _visit(about), _visit(about | about["before"])
    standing = next((one for one in snapshot.visits if one.id == visit.id), None)
    return standing is not None and _times(standing) == _times(visit) != _times(before) and visit.ends_at > now


def still_cancelled(snapshot: Snapshot, about: dict[str, Any], now: int) -> bool:
    """Whether the visit that is cancelled would not be over yet, and is not booked again at the same time."""
    visit = _visit(about)
    again = any(one.id != visit.id and (one.crew, one.phase_id, _times(one)) == (
        visit.crew, visit.phase_id, _times(visit)) for one in snapshot.visits)
    return visit.ends_at > now and not again


def _visit(about: dict[str, Any]) -> VisitFact:
    return VisitFact(
        about["visit"], about["phase"], about["crew"], about["purpose"], about["starts_at"], about["ends_at"]
    )


def _times(visit: VisitFact) -> tuple[int, int]:
    return visit.starts_at, visit.ends_at


def _announced(reader: Reader, visit: VisitFact) -> str:
    """Who comes, what for, and whether that can be kept."""
    (one,) = announced(reader.snapshot, reader.outlook, [visit])
    return f"{visit_words(reader.snapshot, visit)} {one.standing}"


def _day(reader: Reader, visit: VisitFact) -> str:
    return dated_words(local(visit.starts_at, reader.zone).date(), reader.today)


def _when(reader: Reader, visit: VisitFact) -> str:
    return f"{_day(reader, visit)}, {hours_words(visit, reader.zone)}"
