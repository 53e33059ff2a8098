"""Sends what is due. The promise, to a household: every notice that is still true is sent, and sent once.

A notice is claimed before it is handed over to the mail server and settled after, each in a commit of its own. Only
if the machine stops, or the server's answer is lost, between those two, is that one notice handed over again after
the claim has run out; it then carries the same Message-ID, by which mail programs know it for the same. What the
server does not take is tried again with growing pauses, for a week; then it is given up, and the desk says so. While
the server can't be reached at all, no letter uses up a try: each goes with the first tick after.

No letter waits behind one that can't go. A slow server holds one letter, for as long as it may take by RFC 5321; none
is begun after `BEGUN_WITHIN`, and the next tick begins with the most urgent of what is left.
"""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import urlsplit

from portal import signing
from portal.notices.letter import Letter, Reader, text_of
from portal.notices.message import BadAddress, Envelope, address_of, message_of
from portal.notices.notice_kinds import KINDS
from portal.notices.outbox import that_can_go
from portal.notices.post import WAITS, NotHandedOver, Post, Unreachable, Waits
from portal.notices.reach import hindrance
from portal.notices.reading_back import NotAsMeant
from portal.notices.to_staff.letters import STAFF_KINDS, StaffReader, staff_text
from portal.pages.without_sums import seen_by, without
from portal.settings import MailServer
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import notice_rows
from portal.store.rows.letters import staff_notice_rows
from portal.store.rows.letters.staff_notice_rows import StaffNotice
from portal.store.rows.notice_rows import DROPPED, GIVEN_UP, SENT, UNWRITTEN, Notice

log = logging.getLogger(__name__)

_MINUTE, _HOUR, _DAY = 60, 3600, 24 * 3600
PAUSES = (5 * _MINUTE, 15 * _MINUTE, _HOUR, 3 * _HOUR, 6 * _HOUR, 12 * _HOUR, _DAY)
GIVE_UP = 7 * _DAY
BEGUN_WITHIN = 4 * _MINUTE
CLAIM = 40 * _MINUTE  # longer than systemd lets a tick run, and that longer than a letter (deploy/portal-tick.service)
_GIVEN_UP_AT_A_TIME = 200


@dataclass(frozen=True, slots=True)
class Sender:
    """What sending needs: where links lead, the secret they are made from, the mail server if there is one, the receipt
    file of a project's entry, and the signed head of a project's record as words. `clock`: whole seconds."""

    base_url: str
    secret: bytes
    server: MailServer | None
    receipt: Callable[[int, int], bytes]
    clock: Callable[[], int]
    head: Callable[[int], str]
    waits: Waits = WAITS
    returns_to: str = ""  # where letters come back to, if not to the firm's own address

    @property
    def host(self) -> str:
        return urlsplit(self.base_url).hostname or "localhost"


@dataclass(frozen=True, slots=True)
class Outcome:
    """How many letters were sent, how many could not be made by a fault of ours, and why the server can't be used."""

    sent: int = 0
    failed: int = 0
    unreachable: str = ""


def send_due(sender: Sender) -> Outcome:
    """Try every notice that is due and can go. What fails for one does not stop the others."""
    _give_up(sender.clock())
    if sender.server is None:
        return Outcome()
    with Post(sender.server, sender.host, sender.waits) as post:
        return _send(sender, post)


def _send(sender: Sender, post: Post) -> Outcome:
    began, sent, failed = sender.clock(), 0, 0
    for waiting in that_can_go(began):
        now = sender.clock()
        if now - began >= BEGUN_WITHIN:
            break
        kept = staff_notice_rows if isinstance(waiting, StaffNotice) else notice_rows
        if not kept.claim(waiting.id, now + CLAIM, now):
            continue  # another tick has it
        try:
            sent += _try_for_staff(sender, post, waiting, now) if isinstance(waiting, StaffNotice) else (
                _try(sender, post, notice_rows.one(waiting.id), now))
        except Unreachable as trouble:
            kept.put_back(waiting.id, waiting.due_at, str(trouble))
            notice_rows.held(sender.clock(), str(trouble))
            return Outcome(sent, failed, str(trouble))
        except Exception as error:  # whatever it was, it must not keep the others from being sent
            failed += _is_ours(error)
            _failed(waiting, sender.clock(), error)
    return Outcome(sent, failed)


def _try_for_staff(sender: Sender, post: Post, notice: StaffNotice, now: int) -> bool:
    """As `_try`, of a letter to somebody of the firm."""
    snapshot = read_snapshot(notice.project_id)
    desk = f"{sender.base_url}/desk/projects/{notice.project_id}/"
    reader = StaffReader(notice.staff_id, notice.name, snapshot, now, desk)
    letter = STAFF_KINDS[notice.kind](reader, notice.about) if notice.active else None
    if letter is None:
        staff_notice_rows.settle(notice.id, DROPPED, now)
        return False
    firm = snapshot.firm
    if not firm.email:
        staff_notice_rows.put_back(notice.id, now, "")
        return False
    key = f"desk-{signing.staff_letter_mark_for(sender.secret, notice.id)}"
    envelope = Envelope(
        address_of(firm.name, firm.email), address_of(notice.name, notice.email), key, sender.host)
    message = message_of(letter, staff_text(letter, reader), envelope, now)
    post.hand_over(message, sender.returns_to or firm.email, notice.email, key)
    staff_notice_rows.settle(notice.id, SENT, sender.clock())
    return True


def _try(sender: Sender, post: Post, notice: Notice, now: int) -> bool:
    """Whether it is sent; raises what keeps it from being. The notice is claimed, and as it is now."""
    reader = _reader(sender, notice, now)
    about = notice.about if reader.snapshot.sums else without(notice.about)
    letter = KINDS[notice.kind].letter(reader, about, lambda entry: sender.receipt(notice.project_id, entry))
    if letter is None or _is_asked_beside(notice):
        notice_rows.settle(notice.id, DROPPED, now)
        return False
    firm = reader.snapshot.firm
    if hindrance(notice, bool(firm.email)):
        notice_rows.put_back(notice.id, now, notice.trouble)
        return False
    message, return_path = _message(sender, letter, reader, notice), sender.returns_to or firm.email
    post.hand_over(message, return_path, notice.email, _key(sender, notice))
    notice_rows.settle(notice.id, SENT, sender.clock())
    return True


def _is_ours(error: Exception) -> bool:
    return not isinstance(error, BadAddress | NotHandedOver)


def _is_asked_beside(notice: Notice) -> bool:
    """Tell whether it reminds of a question that another letter of the same tick asks again: that one is enough."""
    return notice.kind == "reminder" and notice_rows.waits(notice.person_id, "opened_again", notice.about)


def _failed(notice: Notice | StaffNotice, now: int, error: Exception) -> None:
    """Try again later; what was refused for good only once a day, should the address be put right meanwhile. `notice`:
    as it was before this try."""
    about = {"notice": notice.id, "kind": notice.kind, "tries": notice.tries + 1}
    pause = PAUSES[min(notice.tries, len(PAUSES) - 1)]
    kept = staff_notice_rows if isinstance(notice, StaffNotice) else notice_rows
    if isinstance(error, NotAsMeant):
        log.error("a letter would be read otherwise than it is meant, and is not sent", extra=about)
        kept.give_up(notice.id, UNWRITTEN, f"The letter was not sent: as it was written, {error}.", now)
    elif isinstance(error, BadAddress | NotHandedOver):
        log.warning("a letter was not taken", extra=about)
        for_good = isinstance(error, BadAddress) or error.for_good
        kept.later(notice.id, now + (_DAY if for_good else pause), str(error))
    else:
        log.error("a letter could not be sent", extra=about, exc_info=error)
        kept.later(notice.id, now + pause, "A fault of ours, which the log describes.")


def _give_up(now: int) -> None:
    """What nobody could be told by mail for a week; the office may have to. What our own people were not told, the desk
    says."""
    staff_notice_rows.give_up_old(now, now - GIVE_UP)
    for notice in notice_rows.old(now, now - GIVE_UP, _GIVEN_UP_AT_A_TIME):
        try:
            true = KINDS[notice.kind].is_true(read_snapshot(notice.project_id), notice.person_id, notice.about, now)
        except Exception:  # a row of this project that can't be read must not keep the other letters
            log.exception("a letter could not be looked at", extra={"notice": notice.id, "kind": notice.kind})
            true = True
        notice_rows.settle(notice.id, GIVEN_UP if true else DROPPED, now)


def _reader(sender: Sender, notice: Notice, now: int) -> Reader:
    """With the person's own link, made from the secret and in no other place until it is in the mail."""
    link = signing.link_for(sender.secret, notice.salt) if notice.salt else ""
    return Reader(
        notice.person_id, notice.name, seen_by(read_snapshot(notice.project_id), notice.person_id), now,
        f"{sender.base_url}/p/{link}/", f"{sender.base_url}/guide/",
        f"{sender.base_url}/p/mail/{signing.stop_mark_for(sender.secret, notice.person_id)}/",
        sender.head(notice.project_id),
    )


def _message(sender: Sender, letter: Letter, reader: Reader, notice: Notice) -> bytes:
    firm = reader.snapshot.firm
    envelope = Envelope(
        address_of(firm.name, firm.email), address_of(notice.name, notice.email),
        _key(sender, notice), sender.host, reader.stop,
    )
    return message_of(letter, text_of(letter, reader), envelope, reader.now)


def _key(sender: Sender, notice: Notice) -> str:
    return f"notice-{signing.letter_mark_for(sender.secret, notice.id)}"
