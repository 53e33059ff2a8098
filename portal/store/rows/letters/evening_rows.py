"""Which houses are looked at for the letter of the evening, and what each person was told of a day."""

from typing import Any, NamedTuple

from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import as_json, rows, values
from portal.store.rows import notice_rows

KIND = "evening"

_DUE = """SELECT j.id FROM project j LEFT JOIN evening_look l ON l.project_id = j.id WHERE j.closed_at IS NULL
    AND (l.project_id IS NULL OR l.next_at <= ? OR l.next_at > ? OR (l.changed <> j.changed AND l.until > ?))
    ORDER BY j.id"""
_LOOKED_AT = """INSERT INTO evening_look (project_id, changed, next_at, until) VALUES (?, ?, ?, ?)
    ON CONFLICT (project_id) DO UPDATE SET changed = excluded.changed, next_at = excluded.next_at,
    until = excluded.until"""
_TOLD = """SELECT id, state, about FROM notice WHERE person_id = ? AND kind = 'evening' AND state <> 'dropped'
    AND made_at > ? ORDER BY id"""
_EVER = "SELECT id FROM notice WHERE person_id = ? AND kind = 'evening'"
_DROP = """UPDATE notice SET state = 'dropped', settled_at = ?
    WHERE person_id = ? AND kind = 'evening' AND state = 'waiting'"""
_TWO_DAYS = 2 * 24 * 3600


class Told(NamedTuple):
    """What a person was told of a day, or will be with the next mail: `facts` tells one state of it from another."""

    id: int
    sent: bool
    facts: str


def to_look_at(now: int) -> list[int]:
    """Open projects whose evening has come, or that have changed since they were looked at and may still be told; a
    look that is more than two days off was set by a clock that went wrong."""
    return values(_DUE, now, now + _TWO_DAYS, now)


def known(project_id: int) -> bool:
    """Tell whether the project was ever looked at."""
    return bool(values("SELECT 1 FROM evening_look WHERE project_id = ?", project_id))


def looked_at(project_id: int, changed: int, next_at: int, until: int) -> None:
    """Keep at which change it was looked at, when its next evening is, and until when a change is looked at before."""
    with write():
        execute(_LOOKED_AT, project_id, changed, next_at, until)


def told_last(person_id: int, day: str, now: int) -> Told | None:
    """What the person was told last of the day (ISO 8601)."""
    found = [row for row in rows(_TOLD, person_id, now - _TWO_DAYS, about=as_json) if row["about"]["day"] == day]
    if not found:
        return None
    return Told(found[-1]["id"], found[-1]["state"] != "waiting", found[-1]["about"]["facts"])


def tell(project_id: int, person_id: int, about: dict[str, Any], last: Told | None, now: int) -> None:
    """Put a letter into the outbox in place of one that still waits there. `last`: what they were told before."""
    newest = max(values(_EVER, person_id), default=0)  # also of those dropped: what was moot may be true again
    mark = f"evening of {about['day']}, person {person_id}, after {newest}"
    with write():
        execute(_DROP, now, person_id)
        notice_rows.add_once(project_id, person_id, KIND, about, mark, now)
