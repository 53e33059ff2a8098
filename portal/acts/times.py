"""Times as people of a project send them; the words for times are portal.words.dates's."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from portal.store.refusals import FieldRefused
from portal.words.dates import clock_words, day_words, seconds

_DAY = 24 * 3600
WAITS_AT_MOST = 7 * _DAY
"""So long a form may wait on a phone for a network, and still say when it was pressed. Answers to forms that come again
are kept as long (portal.commands.tick)."""
SOON = 120
"""Seconds that a form needs to get here; what was pressed no longer ago is of now."""
_AHEAD = 60


def existing_local(moment: datetime, zone: str, field: str) -> int:
    """The instant of a wall-clock time; one that the change to summer time skips is refused.

    Of a time that occurs twice, the first is meant (RFC 5545, 3.3.5).
    """
    if moment.tzinfo is not None:
        return seconds(moment)
    there = moment.replace(tzinfo=ZoneInfo(zone), fold=0)
    back = there.astimezone(UTC).astimezone(ZoneInfo(zone))
    if back.replace(tzinfo=None) != moment:
        later = back
        raise FieldRefused(
            field, f"{clock_words(moment)} on {day_words(moment.date())} does not exist: the clocks go forward then. "
            f"Did you mean {clock_words(later)}?",
        )
    return seconds(there)


def pressed_by(pressed: int, now: int) -> int:
    """When what a form tells of happened, for one that was `pressed` before it could be sent: the same bounds for all
    acts. Raises FieldRefused beyond them."""
    if pressed > now + _AHEAD:
        raise FieldRefused("pressed_at", "By its phone this was pressed at a time that still lies ahead. Set that "
                           "phone’s clock, then open the form and send it again.")
    if pressed < now - WAITS_AT_MOST:
        raise FieldRefused("pressed_at", "This was pressed more than 7 days ago and has waited on the phone since. "
                           "Open the form, say in it when it happened, and send it again.")
    return now if pressed > now - SOON else pressed


def happened(at: int | None, now: int) -> int:
    """`at`, or now. Raises FieldRefused for what has not happened yet."""
    if at is not None and at > now + _AHEAD:
        raise FieldRefused("at", "This lies in the future. Give the time when it really happened, or leave it empty.")
    return now if at is None else at
