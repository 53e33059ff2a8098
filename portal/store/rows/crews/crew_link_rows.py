"""Rows of crews' private links: found by digest while they open, made, revoked."""

from datetime import date, datetime, time, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from portal.store.engine.named_rows import as_date, first_row, values
from portal.store.tables import CrewLink

_BY_DIGEST = """SELECT l.id AS link, l.crew_id AS crew, c.name, l.day FROM crew_link l JOIN crew c ON c.id = l.crew_id
    WHERE l.digest = ? AND l.revoked_at IS NULL AND (l.ends_at IS NULL OR l.ends_at > ?)"""
_ZONES = "SELECT DISTINCT timezone FROM project WHERE closed_at IS NULL"


class CrewHolder(NamedTuple):
    """The crew whose live link was opened. `day`: of its sheet; None: the link is that of its calendar."""

    link: int
    crew: int
    name: str
    day: date | None


def holder_of(digest: str, now: int) -> CrewHolder | None:
    row = first_row(_BY_DIGEST, digest, now, day=as_date)
    return CrewHolder(**row) if row else None


def end_of(day: date) -> int:
    """When the day is over in the last of our houses, wherever they are: midnight by their clocks."""
    after = datetime.combine(day + timedelta(days=1), time())
    zones = [ZoneInfo(zone) for zone in values(_ZONES)] or [ZoneInfo("UTC")]
    return max(int(after.replace(tzinfo=zone).timestamp()) for zone in zones)


def add(crew_id: int, day: date | None, salt: str, digest: str, now: int) -> CrewLink:
    ends_at = None if day is None else end_of(day)
    return CrewLink.create(crew=crew_id, day=day, salt=salt, digest=digest, made_at=now, ends_at=ends_at)


def live(crew_id: int, now: int) -> list[CrewLink]:
    """Those that still open, that of the calendar first."""
    still = (CrewLink.crew == crew_id) & CrewLink.revoked_at.is_null()
    found = CrewLink.select().where(still & (CrewLink.ends_at.is_null() | (CrewLink.ends_at > now)))
    return sorted(found, key=lambda one: (one.day or date.min, one.id))


def revoke(links: list[int], now: int) -> None:
    CrewLink.update(revoked_at=now).where(CrewLink.id.in_(links)).execute()


def revoke_all(now: int) -> None:
    CrewLink.update(revoked_at=now).where(CrewLink.revoked_at.is_null()).execute()
