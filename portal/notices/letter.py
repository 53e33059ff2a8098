"""A letter: what a mail says, in the sentences of the pages, as plain text that reads well in any program."""

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from portal.pages.outlook import Outlook, outlook_of
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.words.dates import local, when_words
from portal.words.stops import stopped_once

WIDTH = 72
"""Columns, as RFC 5322, 2.1.1 leaves room for quoting within its 78."""


@dataclass(frozen=True, slots=True)
class Letter:
    """`paragraphs` that begin with `- ` are points of a list. `receipt`: the file to attach, byte for byte."""

    subject: str
    paragraphs: Sequence[str]
    receipt: bytes = b""
    receipt_name: str = ""


@dataclass(frozen=True)
class Reader:
    """Whom a letter is for, what is true of their house now, and where their own link leads (ends in a slash)."""

    person: int
    name: str
    snapshot: Snapshot
    now: int
    link: str
    guide: str = field(default="")  # where the guidance lies, ends in a slash
    stop: str = field(default="")  # where our mail to them is stopped
    head: str = field(default="")  # the signed head of their record, as words; none while it has no entries

    @property
    def zone(self) -> str:
        return self.snapshot.project.timezone

    @property
    def house(self) -> str:
        return self.snapshot.project.name

    @property
    def today(self) -> date:
        return local(self.now, self.zone).date()

    @cached_property
    def outlook(self) -> Outlook:
        return outlook_of(self.snapshot, schedule_of(self.snapshot, self.now))

    def decision(self, decision_id: int) -> DecisionFact | None:
        return next((one for one in self.snapshot.decisions if one.id == decision_id), None)

    def way_to(self, decision: DecisionFact) -> str:
        return f"{self.link}decisions/{decision.number}/"


def text_of(letter: Letter, reader: Reader) -> str:
    """The whole text: greeting, paragraphs, who wrote, as of when. Addresses are never broken."""
    return wrapped_text([f"Hello {reader.name},", *map(stopped_once, letter.paragraphs), *_closing(reader)])


def wrapped_text(blocks: Sequence[str]) -> str:
    """Blocks as one text, each wrapped by itself; empty ones are left out."""
    wrapped = [_wrapped(block) for block in blocks if block]
    apart = ["\n" if one.startswith("- ") and two.startswith("- ") else "\n\n"
             for one, two in zip(wrapped, wrapped[1:], strict=False)]
    return "".join(f"{text}{gap}" for text, gap in zip(wrapped, [*apart, "\n"], strict=True))


def one_line(text: str) -> str:
    """Without line breaks and other control characters: nothing that was typed can end a line of a mail's head."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def _wrapped(paragraph: str) -> str:
    indent = "  " if paragraph.startswith("- ") else ""
    return textwrap.fill(
        one_line(paragraph), WIDTH, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False
    )


def _closing(reader: Reader) -> Iterator[str]:
    project, firm = reader.snapshot.project, reader.snapshot.firm
    phone, hours = project.phone or firm.phone, project.office_hours or firm.office_hours
    if phone:
        yield f"Questions? Call {phone}.{f' The office answers {hours}.' if hours else ''}"
    yield f"This is as of {when_words(reader.now, reader.zone)}. Your page has the latest: {reader.link}"
    yield "The addresses in this mail are your own key to the page. Please don’t pass them on."
    if reader.stop:
        yield f"Rather no mail? Stop it here, and we call you instead: {reader.stop}"
    yield ", ".join(filter(None, (firm.name, firm.address)))
    yield from firm.registrations
    yield from _evidence(reader)


def _evidence(reader: Reader) -> Iterator[str]:
    """Whoever keeps the mail can show years later that nothing was cut off or changed since."""
    if reader.head:
        yield f"Keep this mail: the words below are signed, and prove how long the record of {reader.house} was."
        yield reader.head
