"""Times as people of a project send them; the words for times are portal.words.dates's."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from portal.store.refusals import FieldRefused
from portal.words.dates import clock_words, day_words, seconds


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
