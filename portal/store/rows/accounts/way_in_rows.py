"""Ways in: links by which one of the staff sets a password. A link is used up by the one statement that finds it open:
of two that come at once, one is taken."""

from portal.store.tables import Staff, WayIn


def make(staff_id: int, digest: str, now: int, by: int | None) -> None:
    """From now on it is the only one of theirs."""
    end_all(staff_id, now)
    WayIn.create(staff=staff_id, digest=digest, made_at=now, by=by)


def find(digest: str, made_after: int) -> WayIn | None:
    """An open one, of somebody who works here."""
    rows = WayIn.select(WayIn, Staff).join(Staff, on=WayIn.staff == Staff.id)
    found: WayIn | None = rows.where((WayIn.digest == digest) & _open(made_after) & Staff.active).first()
    return found


def use(way_id: int, made_after: int, now: int) -> bool:
    """Whether it was still open; from now on it is not."""
    found = (WayIn.id == way_id) & _open(made_after)
    return bool(WayIn.update(used_at=now).where(found).execute())


def used_digest(digest: str) -> WayIn | None:
    """One that was used, for whoever sends the same form again."""
    return WayIn.get_or_none((WayIn.digest == digest) & WayIn.used_at.is_null(False))


def end_all(staff_id: int, now: int) -> int:
    """Returns how many were open."""
    theirs = (WayIn.staff == staff_id) & WayIn.used_at.is_null() & WayIn.ended_at.is_null()
    return int(WayIn.update(ended_at=now).where(theirs).execute())


def newest(made_after: int) -> dict[int, int]:
    """By the id of the staff: when their open one was made."""
    return {one.staff_id: one.made_at for one in WayIn.select().where(_open(made_after))}


def _open(made_after: int) -> object:
    return (WayIn.made_at > made_after) & WayIn.used_at.is_null() & WayIn.ended_at.is_null()
