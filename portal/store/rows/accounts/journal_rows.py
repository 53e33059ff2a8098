"""What was done to accounts of the staff."""

from portal.store.tables import AccountEntry


def note(staff_id: int, kind: str, now: int, *, by: int | None, about: str = "") -> None:
    """`by`: who of the staff did it; None: the server's operator."""
    AccountEntry.create(staff=staff_id, by=by, at=now, kind=kind, note=about)


def newest(most: int, staff_id: int | None = None) -> list[AccountEntry]:
    """Of one account, or of all of them."""
    rows = AccountEntry.select().order_by(AccountEntry.at.desc(), AccountEntry.id.desc()).limit(most)
    return list(rows if staff_id is None else rows.where(AccountEntry.staff == staff_id))
