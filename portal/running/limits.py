"""What makes the portal ready, each with its limit and what to do beyond it: one table, for `/up/ready`, the alerts and
`portal check`."""

from typing import NamedTuple

MINUTE, HOUR, DAY = 60, 3600, 24 * 3600
MOST_TICK_AGE = 15 * MINUTE  # it runs every five minutes
LONGEST_TICK = 36 * MINUTE  # a letter may wait for its answer; then the unit ends it (deploy/portal-tick.service)
MOST_SILENCE = 10 * MINUTE  # of one under way: it gives a sign with each part and page, and while mail waits
MOST_LETTER_AGE = HOUR  # after its first hour a letter is tried less often than an hour apart: then someone should look
MOST_BACKUP_AGE = 2 * DAY  # made each night; a night may be lost to a power failure (common practice)
LEAST_FREE = 500 * 1024 * 1024  # a few days of photos, and room for a migration to copy the database (common practice)
TURN_SECONDS = 5.0  # a change takes milliseconds


class Limit(NamedTuple):
    """`limit` as it is said to whoever looks after the server."""

    limit: str
    to_do: str


LIMITS: dict[str, Limit] = {
    "database": Limit(
        "can be written within 5 seconds",
        "Look at the server's disk, at who owns the database's files, and, with PostgreSQL, at its server.",
    ),
    "scratch file": Limit(
        "can be written in PORTAL_DATA", "Look whether the disk of PORTAL_DATA is full or was mounted read-only."
    ),
    "pages": Limit(
        "none behind the last change for more than a minute",
        "Run `portal publish`: its lines say what keeps them; most often it is room or rights in PORTAL_DATA/site.",
    ),
    "tick": Limit(
        "at most 15 minutes ago, 51 while one that waits for the mail server gives signs, and nothing failed in it",
        "systemctl status portal-tick.timer; journalctl -u portal-tick says what failed; `portal tick` tries it again.",
    ),
    "letters": Limit(
        "none due for more than an hour",
        "Look whether the mail server of PORTAL_SMTP answers: `portal check` asks it. The desk says why each waits.",
    ),
    "disk": Limit("at least 500 MB free where PORTAL_DATA lies", "Make room, or move PORTAL_DATA to a larger disk."),
    "backup": Limit(
        "at most 2 days old, and each record begins with what the one before held",
        "systemctl status portal-backup.timer portal-backup.service; then run `portal backup`, which says more.",
    ),
    "keys": Limit("those of the database", "Put that file back, and start the service again."),
}
