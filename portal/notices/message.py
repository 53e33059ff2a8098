"""A letter as a mail: plain text and nothing else but the receipt. No pictures, nothing that tells us it was read."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from email.charset import QP, Charset
from email.errors import MessageError
from email.headerregistry import Address
from email.message import Message
from email.mime.application import MIMEApplication
from email.mime.multipart import MIMEMultipart
from email.mime.text import MIMEText
from email.utils import format_datetime

from portal.notices.heads import AsWritten, head
from portal.notices.letter import Letter, one_line
from portal.notices.reading_back import Meant, NotAsMeant, check_as_meant

_POLICY = AsWritten(linesep="\r\n")
_LONGEST_FILE_NAME = 60


class BadAddress(ValueError):
    """What stands as the e-mail address of someone is none, or more than one."""


@dataclass(frozen=True, slots=True)
class Envelope:
    """`key` makes the Message-ID: the same each time that a notice is tried, so that what comes twice shows as one.
    `stop`: where one POST stops our mail to the reader."""

    sender: Address
    to: Address
    key: str
    host: str
    stop: str = ""

    @property
    def message_id(self) -> str:
        return f"<{self.key}@{self.host}>"


def message_of(letter: Letter, text: str, envelope: Envelope, now: int) -> bytes:
    """The mail as the server gets it. Raises NotAsMeant when it would be read otherwise than it is meant."""
    heads: list[tuple[str, str | Address]] = [
        ("From", envelope.sender),
        ("To", envelope.to),
        ("Subject", one_line(letter.subject)),
        ("Date", format_datetime(datetime.fromtimestamp(now, UTC))),
        ("Message-ID", envelope.message_id),
        ("Auto-Submitted", "auto-generated"),  # RFC 3834: no one's absence note answers it
    ]
    if envelope.stop.startswith("https://"):  # RFC 8058, 3.1: by https, or not with one press
        heads += [("List-Unsubscribe", f"<{envelope.stop}>"), ("List-Unsubscribe-Post", "List-Unsubscribe=One-Click")]
    name = one_line(letter.receipt_name)[:_LONGEST_FILE_NAME].strip()
    message = _body(text, letter.receipt, name)
    meant = Meant(heads, message.keys(), text, name, letter.receipt)
    try:
        data = _with_heads(message, heads).as_bytes(policy=_POLICY)
    except MessageError as wrong:
        raise NotAsMeant("a head of it can't be written") from wrong
    check_as_meant(data, meant)
    return data


def address_of(name: str, email: str) -> Address:
    """Raises BadAddress for what is not one address."""
    try:
        found = Address(one_line(name), addr_spec=email)
    except (ValueError, IndexError, MessageError) as wrong:  # the parser stumbles over some of what is none
        raise _bad(email) from wrong
    if not found.addr_spec.isascii():
        raise _bad(email)
    return found


def _bad(email: str) -> BadAddress:
    return BadAddress(f"“{one_line(email)}” can't be used as an e-mail address.")


def _body(text: str, file: bytes, file_name: str) -> Message:
    charset = Charset("utf-8")
    charset.body_encoding = QP
    words = MIMEText(text, "plain", charset, policy=_POLICY)  # type: ignore[arg-type]
    if not file:
        return words
    attached = MIMEApplication(file, "json", policy=_POLICY)
    plain = file_name.isascii() and "=?" not in file_name
    attached.add_header("Content-Disposition", "attachment",
                        filename=file_name if plain else ("utf-8", "", file_name))  # RFC 2231
    return MIMEMultipart("mixed", None, [words, attached], policy=_POLICY)


def _with_heads(message: Message, heads: Sequence[tuple[str, str | Address]]) -> Message:
    """Before those of the body."""
    of_body = message.items()
    for name, _ in of_body:
        del message[name]
    for name, value in [*((name, head(name, value)) for name, value in heads), *of_body]:
        message[name] = value  # type: ignore[assignment]
    return message
