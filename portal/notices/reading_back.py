"""Reads a mail back before it is sent, twice: by `email`'s policy, as mail programs do, and by the bare lines of its
head. Both must find exactly what was meant; else it is not sent."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from email import message_from_bytes
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import default
from typing import cast

from portal.notices.heads import UnreadableHead, raw_heads, read_mailbox, read_text


class NotAsMeant(Exception):
    """The mail would be read otherwise than it is meant; says where."""


@dataclass(frozen=True, slots=True)
class Meant:
    """`heads` with their values, then the names of those that tell how the body is written; the text, and the file
    with its name, if there is one."""

    heads: Sequence[tuple[str, str | Address]]
    of_body: Sequence[str]
    text: str
    file_name: str
    file: bytes

    @property
    def names(self) -> list[str]:
        return [*(name for name, _ in self.heads), *self.of_body]


def check_as_meant(data: bytes, meant: Meant) -> None:
    """Raises NotAsMeant."""
    try:
        where = next(_differs(data, meant), None)
    except UnreadableHead as wrong:
        where = str(wrong)
    if where is not None:
        raise NotAsMeant(where)


def _differs(data: bytes, meant: Meant) -> Iterator[str]:
    raw = list(raw_heads(data))
    parsed = message_from_bytes(data, policy=default)
    if [name for name, _ in raw] != meant.names or list(parsed.keys()) != meant.names:
        yield "it has other heads"
    for (name, value), (_, line), read in zip(meant.heads, raw, parsed.values(), strict=False):
        if not (_line_says(line, value) and _policy_says(read, value)):
            yield f"the head {name} says something else"
    yield from _differs_inside(parsed, meant)


def _line_says(line: str, value: str | Address) -> bool:
    if isinstance(value, Address):
        return read_mailbox(line) == (value.display_name, value.addr_spec)
    return read_text(line) == value


def _policy_says(read: object, value: str | Address) -> bool:
    """Of a name in several encoded words, Python 3.11 makes as many words, against RFC 2047, 6.2."""
    if not isinstance(value, Address):
        return str(read) == value
    found = cast(tuple[Address, ...], getattr(read, "addresses", ()))
    return [("".join(one.display_name.split()), one.addr_spec) for one in found] == [
        ("".join(value.display_name.split()), value.addr_spec)
    ]


def _differs_inside(parsed: EmailMessage, meant: Meant) -> Iterator[str]:
    parts = list(parsed.iter_parts()) if parsed.is_multipart() else [parsed]
    if len(parts) != (2 if meant.file else 1):
        yield "it has other parts"
    if str(parts[0].get_content()).replace("\r\n", "\n") != meant.text:
        yield "its text says something else"
    for part in parts[1:]:
        if list(part.keys()) != ["Content-Type", "MIME-Version", "Content-Transfer-Encoding", "Content-Disposition"]:
            yield "the file has other heads"
        if part.get_filename() != meant.file_name or part.get_content() != meant.file:
            yield "the file or its name is another"
