"""Reads the mailbox that letters come back to (IMAP4rev1, RFC 3501), and what of it is ours. Nothing in it is changed:
it is opened read-only, how far it was read is kept here."""

import imaplib
import re
import ssl
from datetime import UTC, datetime
from typing import Any

from portal import signing
from portal.notices.deadline import Deadline
from portal.notices.delivery_status import Returned, returned
from portal.notices.letter import one_line
from portal.settings import ReturnedMail
from portal.store.rows.letters import mail_rows, staff_notice_rows
from portal.words.dates import day_words, local

SECONDS = 30.0  # for each answer
LONGEST = 120.0  # for all of it
AT_A_TIME = 200
_FIRST_DAYS = 14
_READ = 200_000  # bytes of a notification; it begins with what counts
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def read_returned(mailbox: ReturnedMail, secret: bytes, now: int) -> str:
    """Keep which letters came back since the last reading. Returns why it could not be read; empty when it was."""
    try:
        with Deadline(LONGEST) as deadline:
            _read(mailbox, secret, now, deadline)
    except (imaplib.IMAP4.error, OSError, ValueError) as error:
        late = isinstance(error, TimeoutError) or deadline.passed
        trouble = "it did not answer in time" if late else one_line(str(error))[:200] or type(error).__name__
        mail_rows.mailbox_not_read(mailbox.name, trouble)
        return trouble
    return ""


def returned_words(mailbox: ReturnedMail | None) -> str:
    """Whether mail that comes back is read here, for the desk and for whoever looks after the server."""
    if mailbox is None:
        return ("Mail that comes back is not read here: no mailbox is set for it (PORTAL_BOUNCES). Look for it in the "
                "firm’s own mailbox, and tell those people by phone.")
    kept = mail_rows.mailbox(mailbox.name)
    if kept is not None and kept.trouble:
        return f"Mail that comes back can’t be read: {kept.trouble.rstrip('.')}. Look into that mailbox yourself."
    if kept is None:
        return "Mail that comes back is read with the next tick."
    return f"Mail that comes back is read, last on {day_words(local(kept.read_at, 'UTC').date())}."


def not_read(mailbox: ReturnedMail | None) -> bool:
    """Whether a letter may have come back that nobody here knows of."""
    kept = mail_rows.mailbox(mailbox.name) if mailbox else None
    return mailbox is None or kept is None or bool(kept.trouble)


def _read(mailbox: ReturnedMail, secret: bytes, now: int, deadline: Deadline) -> None:
    with imaplib.IMAP4_SSL(
        mailbox.host, mailbox.port, ssl_context=ssl.create_default_context(), timeout=SECONDS
    ) as box:
        deadline.of(box.sock)
        box.login(_quoted(mailbox.user), mailbox.password)  # the password is quoted by imaplib
        _done(box.select(_quoted(mailbox.folder), readonly=True))
        validity = _number(box.response("UIDVALIDITY")[1])
        kept = mail_rows.mailbox(mailbox.name)
        last = kept.last_uid if kept and kept.validity == validity else 0
        for uid in _notifications(box, last, now)[:AT_A_TIME]:
            found = returned(_fetched(box, uid))
            if found is not None:
                _keep(found, secret, now)
            last = uid
        mail_rows.mailbox_read(mailbox.name, validity, last, now)


def _notifications(box: imaplib.IMAP4_SSL, last: int, now: int) -> list[int]:
    """Those after the last one. `n:*` names the newest mail even where it is older than n (RFC 3501, 6.4.8)."""
    since = datetime.fromtimestamp(now - _FIRST_DAYS * 24 * 3600, UTC)
    day = f"{since.day}-{_MONTHS[since.month - 1]}-{since.year}"
    asked = ("UID", f"{last + 1}:*") if last else ("SINCE", day)
    found = _done(box.uid("SEARCH", *asked, "HEADER", "Content-Type", "multipart/report"))
    numbers = b" ".join(one for one in found if isinstance(one, bytes)).split()
    return sorted(uid for uid in map(int, numbers) if uid > last)


def _fetched(box: imaplib.IMAP4_SSL, uid: int) -> bytes:
    """PEEK: it stays unread. Empty where it is gone meanwhile."""
    found = _done(box.uid("FETCH", str(uid), f"(BODY.PEEK[]<0.{_READ}>)"))
    return next((one[1] for one in found if isinstance(one, tuple)), b"")


def _keep(found: Returned, secret: bytes, now: int) -> None:
    notice_id = signing.letter_named(secret, found.mark, to_staff=found.to_staff)
    if notice_id is not None and found.to_staff:
        staff_notice_rows.came_back(notice_id, found.said)
        return
    letter = None if notice_id is None else mail_rows.letter(notice_id)
    if letter is not None:  # to an address that has been put right meanwhile, the next letter is tried
        bad = found.bad_address and letter.email.lower() in found.addresses
        mail_rows.came_back(letter, now, found.status, found.said, bad)


def _done(answer: tuple[str, Any]) -> list[Any]:
    kind, found = answer[0], list(answer[1])
    if kind != "OK":
        raise imaplib.IMAP4.error(one_line(str(found[0] if found else kind)))
    return found


def _quoted(text: str) -> str:
    """RFC 3501, 4.3."""
    escaped = re.sub(r'(["\\])', r"\\\1", text)
    return f'"{escaped}"'


def _number(found: list[Any]) -> int:
    said = found[0] if found else None
    return int(said) if isinstance(said, bytes) and said.isdigit() else 0
