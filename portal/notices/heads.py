"""The heads of a mail as RFC 5322 and RFC 2047 want them, and how they are read.

Whatever could be taken for an encoded word is encoded itself: a name `=?utf-8?q?a=0d=0aBcc:...?=` was typed, and is
delivered as typed. `email`'s newer policy reads such a word when a head is set, and writes out what it decodes to.
"""

import re
from collections.abc import Iterator
from email.errors import HeaderParseError
from email.header import Header, decode_header, make_header
from email.headerregistry import Address
from email.policy import Compat32

LONGEST_LINE = 998  # RFC 5322, 2.1.1
_FOLDED_AT = 76
_NO_TEXT = {"Message-ID", "List-Unsubscribe", "List-Unsubscribe-Post"}  # never encoded (RFC 2047, 5), nor folded
_PLAIN = re.compile(r"[ -~]*")
_ATOMS = re.compile(r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~ -]*")  # RFC 5322, 3.2.3, with the blanks of a phrase
_LINE = re.compile(rb"([!-9;-~]+): ?(.*)", re.DOTALL)
_MAILBOX = re.compile(r"(?:(.*) )?<([^<>]*)>", re.DOTALL)


class AsWritten(Compat32):
    """The policy of our mails: heads are written out as they were set."""

    def fold_binary(self, name: str, value: str) -> bytes:
        if name in _NO_TEXT:
            return f"{name}: {value}{self.linesep}".encode("ascii")
        return super().fold_binary(name, value)


class UnreadableHead(ValueError):
    """These bytes are not the heads of a mail; says why."""


def head(name: str, value: str | Address) -> str | Header:
    """A head's value for a Message of the policy `AsWritten`."""
    if isinstance(value, Address):
        return _mailbox(name, value)
    if _is_plain(value) or name in _NO_TEXT and _PLAIN.fullmatch(value):
        return value
    return Header(value, "utf-8", _FOLDED_AT, name)


def raw_heads(data: bytes) -> Iterator[tuple[str, str]]:
    """The lines of a mail's head, by nothing but RFC 5322, 2.2: name and unfolded value. Raises UnreadableHead."""
    top, blank, _ = data.partition(b"\r\n\r\n")
    if not blank:
        raise UnreadableHead("no blank line ends the head")
    for line in re.sub(rb"\r\n([ \t])", rb"\1", _checked(top)).split(b"\r\n"):
        found = _LINE.fullmatch(line)
        if not found:
            raise UnreadableHead("a line of the head has no name")
        yield found[1].decode("ascii"), found[2].decode("ascii")


def read_text(value: str) -> str:
    """Raises UnreadableHead."""
    try:
        return str(make_header(decode_header(value)))
    except (HeaderParseError, UnicodeDecodeError, LookupError) as wrong:
        raise UnreadableHead("an encoded word can't be read") from wrong


def read_mailbox(value: str) -> tuple[str, str]:
    """Name and address. Raises UnreadableHead."""
    found = _MAILBOX.fullmatch(value)
    if not found:
        return "", value
    name = found[1] or ""
    if name.startswith('"'):
        return re.sub(r"\\(.)", r"\1", name[1:-1]), found[2]
    return read_text(name), found[2]


def _mailbox(name: str, address: Address) -> str | Header:
    shown, at = address.display_name, f"<{address.addr_spec}>"
    if not shown:
        return address.addr_spec
    if not _is_plain(shown):
        made = Header(shown, "utf-8", _FOLDED_AT, name)
        made.append(at, "us-ascii")
        return made
    if _ATOMS.fullmatch(shown):
        return f"{shown} {at}"
    quoted = re.sub(r'(["\\])', r"\\\1", shown)
    return f'"{quoted}" {at}'


def _is_plain(text: str) -> bool:
    """Short enough for one line, too: what is folded is encoded, so that no blank of it is ever lost."""
    return bool(_PLAIN.fullmatch(text)) and "=?" not in text and "?=" not in text and len(text) <= _FOLDED_AT


def _checked(top: bytes) -> bytes:
    if not top.isascii() or re.search(rb"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]", top):
        raise UnreadableHead("the head holds what is no ASCII text")
    lines = top.split(b"\r\n")
    if any(b"\r" in line or b"\n" in line for line in lines):
        raise UnreadableHead("a line of the head ends with half a line break")
    if max(map(len, lines)) > LONGEST_LINE:
        raise UnreadableHead("a line of the head is too long")
    return top
