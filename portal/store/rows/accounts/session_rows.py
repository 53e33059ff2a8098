"""Sessions of the staff. An ended one, or one of somebody who has left, is not found."""

from dataclasses import dataclass

from portal.store.engine.database import execute
from portal.store.engine.named_rows import first_row
from portal.store.tables import StaffSession

_FIND = """SELECT n.id, n.staff_id AS staff, s.role, s.name, s.email, n.began_at, n.used_at, n.proved_at,
    f.made_at AS factor_at, (SELECT demands_second_factor FROM firm ORDER BY id LIMIT 1) AS demanded
    FROM staff_session n JOIN staff s ON s.id = n.staff_id LEFT JOIN second_factor f ON f.staff_id = s.id
    WHERE n.digest = ? AND n.ended_at IS NULL AND s.active = TRUE"""
_USED = "UPDATE staff_session SET used_at = ? WHERE id = ? AND used_at < ?"
_FORGET = "DELETE FROM staff_session WHERE ended_at < ? OR began_at < ?"


@dataclass(frozen=True, slots=True)
class SessionFact:
    """One session and whose it is. `factor_at`: since when they have a second factor; `demanded`: whether the firm
    wants one of everybody."""

    id: int
    staff: int
    role: str
    name: str
    email: str
    began_at: int
    used_at: int
    proved_at: int | None
    factor_at: int | None
    demanded: bool

    @property
    def proved(self) -> bool:
        """Whether the second factor that they have now was given in it."""
        return self.factor_at is not None and self.proved_at is not None and self.proved_at >= self.factor_at


def begin(staff_id: int, digest: str, device: str, now: int) -> int:
    row = StaffSession.create(staff=staff_id, digest=digest, device=device, began_at=now, used_at=now)
    return int(row.id)


def find(digest: str) -> SessionFact | None:
    """Every request of the desk asks."""
    row = first_row(_FIND, digest, demanded=bool)
    return SessionFact(**row) if row else None


def whose(digest: str) -> int | None:
    """Ended ones, too."""
    row = StaffSession.get_or_none(StaffSession.digest == digest)
    return row.staff_id if row else None


def proved_at(session_id: int) -> int | None:
    """When the second factor was given in it, as it is now."""
    row = StaffSession.get_or_none((StaffSession.id == session_id) & StaffSession.ended_at.is_null())
    return row.proved_at if row else None


def use(session_id: int, now: int) -> None:
    execute(_USED, now, session_id, now)


def prove(session_id: int, now: int) -> None:
    StaffSession.update(proved_at=now).where(StaffSession.id == session_id).execute()


def end(staff_id: int, session_id: int, now: int) -> bool:
    """Whether it was theirs and open."""
    return _end((StaffSession.staff == staff_id) & (StaffSession.id == session_id), now) > 0


def end_all(staff_id: int, now: int, besides: int | None = None) -> int:
    """Returns how many were open."""
    theirs = StaffSession.staff == staff_id
    return _end(theirs & (StaffSession.id != besides) if besides is not None else theirs, now)


def _end(which: object, now: int) -> int:
    ended: int = StaffSession.update(ended_at=now).where(which & StaffSession.ended_at.is_null()).execute()
    return ended


def newest(staff_id: int, most: int) -> list[StaffSession]:
    """Ended ones, too; the one that was used last stands first."""
    theirs = StaffSession.select().where(StaffSession.staff == staff_id)
    return list(theirs.order_by(StaffSession.used_at.desc(), StaffSession.id.desc()).limit(most))


def last_used() -> dict[int, int]:
    """When each of the staff was last seen, by id, as far as sessions are kept."""
    rows = StaffSession.select(StaffSession.staff, StaffSession.used_at).order_by(StaffSession.used_at)
    return {row.staff_id: row.used_at for row in rows}


def forget(ended_before: int, began_before: int) -> int:
    """Drop those that ended or began before; returns how many."""
    return int(execute(_FORGET, ended_before, began_before).rowcount)
