"""The shapes of a line of the day's list, and what its words are made of."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from portal.pages.telling.phone_addresses import mail_address, sms_address, telephone
from portal.planning.day_list import Due
from portal.store.reading.today.matters import Matter
from portal.words.dates import dated_words, near_words


@dataclass(frozen=True, slots=True)
class Reached:
    """A person who is to be told, and the addresses that open phone, messages and mail with the words ready; empty
    where there is no number or no e-mail address."""

    name: str
    phone: str = ""
    call: str = ""
    text: str = ""
    mail: str = ""

    @property
    def by_text(self) -> "Press":
        return Press(f"Text {_short(self.name)}", self.text)

    @property
    def by_phone(self) -> "Press":
        return Press(f"Call {_short(self.name)}", self.call, "phone")

    @property
    def by_mail(self) -> "Press":
        return Press(f"Mail {_short(self.name)}", self.mail)

    @property
    def best(self) -> "Press":
        """By text, which stands there in writing; else by phone, else by mail. Without an address where there is
        none."""
        return next((way for way in (self.by_text, self.by_phone, self.by_mail) if way.href), Press(""))


def _short(name: str) -> str:
    return name.split()[0] if name.split() else name


def reached(name: str, phone: str, email: str, subject: str, words: str) -> Reached:
    number = telephone(phone)
    return Reached(name, phone, f"tel:{number}" if number else "", sms_address(phone, words),
                   mail_address(email, subject, words))


@dataclass(frozen=True, slots=True)
class Press:
    """What a line does or where it leads. `ask`: the question of the second look; without it, a link. `does`: the
    address that a form is sent to, with the version `seen`; `yes`: its sign. `also`: another way, beside the sign."""

    words: str
    href: str = ""
    symbol: str = ""
    ask: str = ""
    does: str = ""
    yes: str = ""
    seen: int | None = None
    also: tuple[str, str] | None = None
    may: str = ""  # the act; who may not do it is led to `href`


@dataclass(frozen=True, slots=True)
class Line:
    """One line. `house` 0: of no house. `late`: the words before its heading, in red; empty while it is not late.
    `told`: the address that notes that they were told, and what is sent with it. `people`: who is to be told."""

    house: int
    name: str
    address: str
    late: str
    heading: str
    reason: str
    press: Press | None
    due: Due
    today: date
    people: tuple[Reached, ...] = ()
    told: str = ""
    carries: Mapping[str, Any] = field(default_factory=dict)
    key: str = ""
    marked: str = ""  # who told them and when, of a line that is told
    then: str = ""  # what it waits for once it is told

    @property
    def ways(self) -> list[Press]:
        """Beside what the line does first: the other way to whom that reaches, and one to each of the others."""
        found, taken = [], self.press.href if self.press else ""
        for one in self.people:
            ways = [way for way in (one.by_text, one.by_phone, one.by_mail) if way.href]
            if taken in [way.href for way in ways]:
                ways = [way for way in ways if way.href != taken]
            found += ways[:1]
        return found

    @property
    def first(self) -> bool:
        return self.due.is_first(self.today)


@dataclass(frozen=True, slots=True)
class Told:
    """What the words of a line are made of: the house's `name` and id, its people by id, its own `today`."""

    house: int
    name: str
    zone: str
    today: date
    people: Mapping[int, Any]
    firm: Any
    before: Mapping[str, Any] = field(default_factory=dict)  # the facts of the matter as it was told last

    def below(self, rest: str) -> str:
        return f"/desk/projects/{self.house}/{rest}"

    def day(self, text: str | None) -> str:
        """A day that is kept as text: `Thu Dec 3`; `today, Wed Dec 2`."""
        return near_words(date.fromisoformat(text), self.today) if text else ""

    def near(self, text: str) -> str:
        """Where there is little room: `Thu Dec 3`, `today`, `tomorrow`."""
        days = (date.fromisoformat(text) - self.today).days
        return {0: "today", 1: "tomorrow"}.get(days) or self.plain_day(text)

    def plain_day(self, text: str) -> str:
        return dated_words(date.fromisoformat(text), self.today)

    def is_late(self, matter: Matter) -> bool:
        return matter.due.days_late(self.today) > 0


Words = tuple[str, str, Press | None]
"""The heading, the reason in a sentence, what it does."""
