"""Who of the firm sends a request."""

from portal.store.engine.database import execute

_BEARER = """SELECT s.role, s.id, s.name FROM token t JOIN staff s ON s.id = t.staff_id
    WHERE t.digest = ? AND t.revoked_at IS NULL AND s.active = TRUE"""


def bearer(digest: str) -> tuple[str, int, str] | None:
    """Role, id and name of whoever holds the token of this digest. Every request to the API asks, so it goes past the
    mapper, which takes longer than all the rest of it."""
    found: tuple[str, int, str] | None = execute(_BEARER, digest).fetchone()
    return found


def names() -> dict[int, str]:
    """Of all who have ever been of the staff, by id."""
    return dict(execute("SELECT id, name FROM staff").fetchall())
