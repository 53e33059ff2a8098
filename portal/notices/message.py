"""A letter as a mail: plain text and nothing else but the receipt. No pictures, nothing that tells us it was read."""

from dataclasses import dataclass
from datetime import UTC, datetime
from email.errors import MessageError
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime

from portal.notices.letter import Letter, one_line


class BadAddress(ValueError):
    """What stands as the e-mail address of someone is none, or more than one."""


@dataclass(frozen=True, slots=True)
class Envelope:
    """`key` makes the Message-ID: the same each time that a notice is tried, so that what comes twice shows as one."""

    sender: Address
    to: Address
    key: str
    host: str


def message_of(letter: Letter, text: str, envelope: Envelope, now: int) -> EmailMessage:
    """Headers as RFC 5322 wants them; names that are not ASCII are encoded (RFC 2047)."""
    message = EmailMessage(policy=SMTP)
    message["From"] = envelope.sender
    message["To"] = envelope.to
    message["Subject"] = one_line(letter.subject)
    message["Date"] = format_datetime(datetime.fromtimestamp(now, UTC))
    message["Message-ID"] = f"<{envelope.key}@{envelope.host}>"
    message["Auto-Submitted"] = "auto-generated"  # RFC 3834: no one's absence note answers it
    message.set_content(text, cte="quoted-printable")
    if letter.receipt:
        message.add_attachment(
            letter.receipt, maintype="application", subtype="json", filename=letter.receipt_name, cte="base64"
        )
    return message


def address_of(name: str, email: str) -> Address:
    """Raises BadAddress for what is not one address."""
    try:
        return Address(one_line(name), addr_spec=email)
    except (ValueError, IndexError, MessageError) as wrong:  # the parser stumbles over some of what is none
        raise BadAddress(f"“{one_line(email)}” can't be used as an e-mail address.") from wrong
