"""What a mail server says of a letter that came back: delivery status notifications (RFC 3464, in the report of RFC
6522). Whatever else lies in the mailbox is nobody's business."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from email import message_from_bytes
from email.message import Message
from email.policy import compat32
from email.utils import getaddresses

from portal.notices.letter import one_line

_KEY = re.compile(r"(notice|desk)-(\d{1,15}-[A-Za-z0-9_-]{16})")
_BAD_ADDRESS = re.compile(r"5\.1\.\d+|5\.2\.1")  # RFC 3463, 3.2 and 3.3: of the address itself; the mailbox is disabled
_LONGEST = 200


@dataclass(frozen=True, slots=True)
class Returned:
    """`mark` names the letter (`portal.signing.letter_named`), `to_staff`: one to our own people. `addresses`: for whom
    it was, as the notification tells. `bad_address`: nothing arrives there, whatever is written."""

    mark: str
    addresses: frozenset[str]
    status: str
    said: str
    to_staff: bool = False

    @property
    def bad_address(self) -> bool:
        return bool(_BAD_ADDRESS.fullmatch(self.status))


def returned(data: bytes) -> Returned | None:
    """The letter of ours that this mail says has failed for good; None for any other mail."""
    message = message_from_bytes(data, policy=compat32)
    if message.get_content_type() != "multipart/report" or message.get_param("report-type", "") != "delivery-status":
        return None
    blocks = list(_status_blocks(message))
    letters = list(_returned_heads(message))
    failed = next((one for one in blocks if _field(one, "Action").lower() == "failed"), None)
    whose, mark = _mark([_field(one, "Original-Envelope-Id") for one in blocks[:1]],
                 [_field(one, "Message-ID") for one in letters])
    if failed is None or not mark:
        return None
    told = [_field(failed, name).partition(";")[2] for name in ("Original-Recipient", "Final-Recipient")]
    told += [address for one in letters for _, address in getaddresses([_field(one, "To")])]
    kind, _, said = _field(failed, "Diagnostic-Code").partition(";")
    status = _field(failed, "Status").split(" ")[0]
    return Returned(
        mark, frozenset(one.strip().lower() for one in told if one.strip()), status[:20],
        one_line(said or kind or status)[:_LONGEST], whose == "desk",
    )


def _status_blocks(message: Message) -> Iterator[Message]:
    """The fields of the message, then those of each recipient (RFC 3464, 2.1)."""
    for part in message.walk():
        if part.get_content_type() == "message/delivery-status" and part.is_multipart():
            yield from (one for one in part.get_payload() if isinstance(one, Message))


def _returned_heads(message: Message) -> Iterator[Message]:
    """The letter that came back, or no more than its head (RFC 6522, 4)."""
    for part in message.walk():
        if part.get_content_type() == "message/rfc822" and part.is_multipart():
            yield from (one for one in part.get_payload() if isinstance(one, Message))
        elif part.get_content_type() == "text/rfc822-headers":
            text = part.get_payload(decode=True)
            yield message_from_bytes(text if isinstance(text, bytes) else b"", policy=compat32)


def _field(block: Message, name: str) -> str:
    """Unfolded; whatever it holds, it is one line."""
    return one_line(str(block.get(name, "")))


def _mark(*told: list[str]) -> tuple[str, str]:
    """To whom the letter was, and its mark; empty where none is named."""
    found = (_KEY.search(text) for texts in told for text in texts)
    return next(((one[1], one[2]) for one in found if one), ("", ""))
