"""A signed head as a line of text, which each letter carries: so a household holds how long its record was.

    record-head 1 7 42 2026-12-02T13:30:00Z ...

The form (1), project, number of entries and time; then public key, root and signature, 128 bytes in base64url (RFC
4648, 5) without padding, in three words, so that no line is too long. Line ends and marks of quoting may stand between
them.
"""

import re
from base64 import urlsafe_b64decode, urlsafe_b64encode
from collections.abc import Iterator
from email import message_from_bytes
from email.policy import default

from portal.record.log.chain import is_time
from portal.record.log.heads import Head, SignedHead

FORM = 1
_WORD = 57  # a third of the letters
_LETTERS = 3 * _WORD
_GAP = r"[\s>|*]"
_NUMBER, _TIME = r"([0-9]{1,10})", r"([0-9]{4}-[0-9:T.-]{14,21}Z)"
# Between letters there may be gaps, too: some programs break a word at its dashes, and a field of a form joins lines.
_LINE = re.compile(f"{_GAP}+".join((rf"record-{_GAP}*head", str(FORM), _NUMBER, _NUMBER, _TIME))
                   + rf"((?:{_GAP}*[\w-]){{{_LETTERS}}})", re.ASCII)


def head_line(signed: SignedHead) -> str:
    """Write a signed head as words with single spaces between them."""
    head = signed.head
    packed = bytes.fromhex(signed.public_key) + bytes.fromhex(head.root) + bytes.fromhex(signed.signature)
    letters = urlsafe_b64encode(packed).decode().rstrip("=")
    words = [letters[at:at + _WORD] for at in range(0, len(letters), _WORD)]
    return " ".join(("record-head", str(FORM), str(head.project), str(head.size), head.at, *words))


def heads_in_text(text: str) -> list[SignedHead]:
    """List the heads in a text, however it was wrapped or quoted. Whether a signature holds is not looked at."""
    return [signed for found in _LINE.finditer(text) if (signed := _signed(*found.groups())) is not None]


def heads_in_letter(data: bytes) -> list[SignedHead]:
    """List the heads in a letter: a mail as it is saved (RFC 5322), or its text. Raises nothing."""
    return [signed for text in _texts(data) for signed in heads_in_text(text)]


def _signed(project: str, size: str, at: str, said: str) -> SignedHead | None:
    letters = re.sub(_GAP, "", said)
    packed = urlsafe_b64decode(f"{letters}=")
    if urlsafe_b64encode(packed).decode().rstrip("=") != letters or not is_time(at):
        return None
    return SignedHead(Head(int(project), int(size), packed[32:64].hex(), at), packed[:32].hex(), packed[64:].hex())


def _texts(data: bytes) -> Iterator[str]:
    """What is no mail is a text; of a mail, each part that is one."""
    plain = data.decode("utf-8", "replace")
    if _LINE.search(plain):
        yield plain
        return
    for part in message_from_bytes(data, policy=default).walk():
        if part.get_content_maintype() == "text":
            payload = part.get_payload(decode=True)
            yield payload.decode("utf-8", "replace") if isinstance(payload, bytes) else ""
