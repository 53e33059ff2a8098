"""Sends what is due. The promise, to a household: every notice that is still true is sent, and sent once.

A notice is claimed before it is handed over to the mail server and settled after, each in a commit of its own. Only
if the machine stops, or the server's answer is lost, between those two, is that one notice handed over again after
the claim has run out; it then carries the same Message-ID, by which mail programs know it for the same. What the
server does not take is tried again with growing pauses, for a week; then it is given up, and the desk says so.
"""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from email.message import EmailMessage
from urllib.parse import urlsplit

from portal import signing
from portal.notices.letter import Letter, Reader, text_of
from portal.notices.message import BadAddress, Envelope, address_of, message_of
from portal.notices.notice_kinds import KINDS
from portal.notices.post import NotHandedOver, Post, Unreachable
from portal.notices.reach import hindrance
from portal.settings import MailServer
from portal.store.facts import FirmFact
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import notice_rows
from portal.store.rows.notice_rows import DROPPED, GIVEN_UP, SENT, Notice

log = logging.getLogger(__name__)

_MINUTE, _HOUR, _DAY = 60, 3600, 24 * 3600
PAUSES = (5 * _MINUTE, 15 * _MINUTE, _HOUR, 3 * _HOUR, 6 * _HOUR, 12 * _HOUR, _DAY)
GIVE_UP = 7 * _DAY
CLAIM = 10 * _MINUTE  # longer than systemd lets a tick run (deploy/portal-tick.service)
LOOK_AGAIN = 30 * _MINUTE  # for someone who can't be reached by mail as things stand
AT_A_TIME = 100


@dataclass(frozen=True, slots=True)
class Sender:
    """What sending needs: where links lead, the secret they are made from, the mail server if there is one, and the
    receipt file of a project's entry. `clock`: whole seconds."""

    base_url: str
    secret: bytes
    server: MailServer | None
    receipt: Callable[[int, int], bytes]
    clock: Callable[[], int]

    @property
    def host(self) -> str:
        return urlsplit(self.base_url).hostname or "localhost"


def send_due(sender: Sender) -> int:
    """Try every notice that is due; returns how many were sent. What fails for one does not stop the others."""
    if sender.server is None:
        return _send(sender, None)
    with Post(sender.server, sender.host) as post:
        return _send(sender, post)


def _send(sender: Sender, post: Post | None) -> int:
    sent, down = 0, None
    for notice in notice_rows.due(sender.clock(), AT_A_TIME):
        try:
            sent += _try(sender, post, notice, down)
        except Unreachable as trouble:
            down = trouble
        except Exception:  # a fault of ours in one letter must not keep the others from being sent
            log.exception("notice %s could not be sent", notice.id)
            _fail(notice, sender.clock(), "A fault of ours, which the log describes.")
    return sent


def _try(sender: Sender, post: Post | None, notice: Notice, down: Unreachable | None) -> bool:
    now = sender.clock()
    reader = _reader(sender, notice, now)
    letter = KINDS[notice.kind].letter(reader, notice.about, lambda entry: sender.receipt(notice.project_id, entry))
    if letter is None:
        return _settled(notice, DROPPED, now)
    if now - notice.made_at >= GIVE_UP:
        return _settled(notice, GIVEN_UP, now)
    firm = reader.snapshot.firm
    if post is None or hindrance(notice, post is not None and bool(firm.email)):
        notice_rows.later(notice.id, now + LOOK_AGAIN, notice.trouble)
        return False
    if not notice_rows.claim(notice.id, now + CLAIM, now):
        return False  # another tick has it
    try:
        if down is not None:
            raise down
        post.hand_over(_message(sender, letter, reader, notice), firm.email, notice.email)
    except (NotHandedOver, BadAddress) as trouble:
        _fail(notice, now, str(trouble), for_good=isinstance(trouble, BadAddress) or trouble.for_good)
        if isinstance(trouble, Unreachable):
            raise
        return False
    notice_rows.settle(notice.id, SENT, sender.clock())
    return True


def _reader(sender: Sender, notice: Notice, now: int) -> Reader:
    """With the person's own link, made from the secret and in no other place until it is in the mail."""
    link = signing.link_for(sender.secret, notice.salt) if notice.salt else ""
    return Reader(
        notice.person_id, notice.name, read_snapshot(notice.project_id), now,
        f"{sender.base_url}/p/{link}/", f"{sender.base_url}/guide/",
    )


def _message(sender: Sender, letter: Letter, reader: Reader, notice: Notice) -> EmailMessage:
    firm: FirmFact = reader.snapshot.firm
    envelope = Envelope(
        address_of(firm.name, firm.email), address_of(notice.name, notice.email),
        f"notice-{notice.id}-{notice.made_at}", sender.host,
    )
    return message_of(letter, text_of(letter, reader), envelope, reader.now)


def _settled(notice: Notice, state: str, now: int) -> bool:
    notice_rows.settle(notice.id, state, now)
    return False


def _fail(notice: Notice, now: int, trouble: str, for_good: bool = False) -> None:
    """Try again later; what was refused for good only once a day, should the address be put right meanwhile."""
    pause = _DAY if for_good else PAUSES[min(notice.tries, len(PAUSES) - 1)]
    notice_rows.later(notice.id, now + pause, trouble)
