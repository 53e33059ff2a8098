"""Who stopped our mail, and which letters came back. What is over stays: it shows why someone was told by phone."""

from typing import Any, NamedTuple

from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import first_row, first_value, rows

_STOPPED = "SELECT stopped_at FROM mail_stop WHERE person_id = ? AND resumed_at IS NULL"
_STOP = """INSERT INTO mail_stop (person_id, stopped_at, resumed_at, resumed_by) SELECT ?, ?, NULL, ''
    WHERE NOT EXISTS (SELECT 1 FROM mail_stop WHERE person_id = ? AND resumed_at IS NULL)"""
_RESUME = "UPDATE mail_stop SET resumed_at = ?, resumed_by = ? WHERE person_id = ? AND resumed_at IS NULL"
_CLEAR = "UPDATE bounce SET cleared_at = ? WHERE person_id = ? AND cleared_at IS NULL"
_STOPS_SINCE = "SELECT COUNT(*) FROM mail_stop WHERE person_id = ? AND stopped_at > ?"
_PERSON = "SELECT id, name, role, may_approve, project_id FROM person WHERE id = ?"
_OF_PROJECT = """SELECT p.id AS person, (SELECT s.stopped_at FROM mail_stop s WHERE s.person_id = p.id
    AND s.resumed_at IS NULL) AS stopped_at, COALESCE((SELECT b.said FROM bounce b WHERE b.person_id = p.id
    AND b.email = p.email AND b.bad_address AND b.cleared_at IS NULL ORDER BY b.id DESC LIMIT 1), '') AS comes_back
    FROM person p WHERE p.project_id = ? ORDER BY p.id"""
_LETTER = """SELECT n.id AS notice, n.person_id AS person, p.email, n.state FROM notice n
    JOIN person p ON p.id = n.person_id WHERE n.id = ?"""
_BOUNCED = """INSERT INTO bounce (notice_id, person_id, email, at, status, said, bad_address, cleared_at)
    VALUES (?, ?, ?, ?, ?, ?, ?, NULL) ON CONFLICT (notice_id) DO NOTHING"""
_RETURNED = "UPDATE notice SET state = 'returned', trouble = ? WHERE id = ? AND state = 'sent'"
_MAILBOX = "SELECT validity, last_uid, read_at, trouble FROM returned_mailbox WHERE mailbox = ?"
_READ = """INSERT INTO returned_mailbox (mailbox, validity, last_uid, read_at, trouble) VALUES (?, ?, ?, ?, '')
    ON CONFLICT (mailbox) DO UPDATE SET validity = excluded.validity, last_uid = excluded.last_uid,
    read_at = excluded.read_at, trouble = ''"""
_NOT_READ = """INSERT INTO returned_mailbox (mailbox, validity, last_uid, read_at, trouble) VALUES (?, 0, 0, 0, ?)
    ON CONFLICT (mailbox) DO UPDATE SET trouble = excluded.trouble"""


class MailState(NamedTuple):
    """Of one person: since when they want no mail, and what the server of their address said of the last letter."""

    person: int
    stopped_at: int | None
    comes_back: str


class SentLetter(NamedTuple):
    notice: int
    person: int
    email: str
    state: str


class MailboxRead(NamedTuple):
    """How far a mailbox was read, when, and why the last reading failed."""

    validity: int
    last_uid: int
    read_at: int
    trouble: str


def stopped(person_id: int) -> int | None:
    """Since when the person wants no mail."""
    found: int | None = first_value(_STOPPED, person_id)
    return found


def stop(person_id: int, now: int) -> bool:
    """Whether they got mail until now."""
    return bool(execute(_STOP, person_id, now, person_id).rowcount)


def resume(person_id: int, now: int, by: str) -> None:
    """They get mail again, also where it came back before."""
    execute(_RESUME, now, by, person_id)
    execute(_CLEAR, now, person_id)


def stops_since(person_id: int, at: int) -> int:
    return int(first_value(_STOPS_SINCE, person_id, at))


def of_project(project_id: int) -> dict[int, MailState]:
    return {row["person"]: MailState(**row) for row in rows(_OF_PROJECT, project_id)}


def person(person_id: int) -> dict[str, Any] | None:
    return first_row(_PERSON, person_id, may_approve=bool)


def letter(notice_id: int) -> SentLetter | None:
    row = first_row(_LETTER, notice_id)
    return SentLetter(**row) if row else None


def came_back(letter: SentLetter, now: int, status: str, said: str, bad_address: bool) -> None:
    """Once; who was told by phone meanwhile is not to be told again."""
    with write():
        execute(_BOUNCED, letter.notice, letter.person, letter.email, now, status, said, bad_address)
        execute(_RETURNED, said, letter.notice)


def mailbox(name: str) -> MailboxRead | None:
    row = first_row(_MAILBOX, name)
    return MailboxRead(**row) if row else None


def mailbox_read(name: str, validity: int, last_uid: int, now: int) -> None:
    with write():
        execute(_READ, name, validity, last_uid, now)


def mailbox_not_read(name: str, trouble: str) -> None:
    with write():
        execute(_NOT_READ, name, trouble)
