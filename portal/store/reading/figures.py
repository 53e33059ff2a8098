"""What is counted for whoever watches the service."""

from portal.store.engine.named_rows import first_value, rows
from portal.store.rows.notice_rows import DROPPED, FAILED, SENT, TOLD, WAITING

_APPROVALS = "SELECT COUNT(*) FROM approval"
_LETTERS = """SELECT state, COUNT(*) AS letters FROM (SELECT state FROM notice UNION ALL SELECT state FROM staff_notice)
    AS every GROUP BY state"""
_NEWEST = "SELECT COALESCE(MAX(changed_at), 0) FROM project"


def approvals_kept() -> int:
    """Ever: none is removed."""
    return int(first_value(_APPROVALS))


def newest_change() -> int:
    """When a project was last changed, by the clock of then."""
    return int(first_value(_NEWEST))


def letters_by_state() -> dict[str, int]:
    """Those to households and those to our own people."""
    none = dict.fromkeys((WAITING, SENT, TOLD, DROPPED, *FAILED), 0)
    return none | {row["state"]: row["letters"] for row in rows(_LETTERS)}
