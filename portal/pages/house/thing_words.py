"""How a thing stands, in the words at its drawing: its label, its tag, and around them the rest of the sentence.

Label and tag are parts of the sentence, so that it is read whole where nobody sees the drawing: `No toilet until the
evening of Tue Dec 2.`, of which `toilet` and `Dec 2` are seen.
"""

from dataclasses import dataclass
from datetime import datetime

from portal.pages.household_words import SERVICE_WORDS
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.house_ahead import LATER, OUT, UNKNOWN, WORKS, HouseAhead, Thing
from portal.words.dates import FAR, clock_words, day_words, part_of_day, short_span_words, weekday_words

OFF = "off "
"""What a tag begins with that says from when on something is out; every other says until when, or for which hours."""

TAG_LONGEST = 7
"""Characters for which a tag has room."""

_LABELS = SERVICE_WORDS | {"bath": "bath", "way_through": "door"}
_LABEL_LONGEST = 18
_UNTIL = {
    "in the morning": "until the morning of", "at noon": "until noon on", "in the evening": "until the evening of",
}  # fmt: skip
_SOON = 60  # minutes; what is back for less is as good as out

Piece = tuple[str, str, str]
"""What comes before the tag, the tag, and what comes after it."""


@dataclass(frozen=True, slots=True)
class Said:
    """`label` is seen; `cut`, what is too long of it, is only read. `out`: out of use as the stretch begins. `tag` is
    seen, `before` and `after` are only read; a thing that works has none of them. `no`: whether the sentence begins
    with that word."""

    label: str
    cut: str = ""
    out: bool = False
    no: bool = False
    before: str = ""
    tag: str = ""
    after: str = " works."

    @property
    def name(self) -> str:
        """The label, and what is cut of it."""
        return f"{self.label} {self.cut}".rstrip()

    @property
    def tail(self) -> str:
        """What is said after the name."""
        return f"{self.before}{self.tag}{self.after}"

    @property
    def sentence(self) -> str:
        """Say the whole, as it is read."""
        return f"{'No ' if self.no else ''}{self.name}{self.tail}"


def said_of(thing: Thing, house: HouseAhead, calendar: WorkCalendar) -> Said:
    """Say how a thing of the house stands."""
    label, cut = _label(label_of(thing))
    if thing.state == WORKS:
        return Said(label, cut)
    before, tag, after = _PIECES[thing.state](thing, house, calendar)
    after = f"{after}{_and_again(thing, calendar)}."
    return Said(label, cut, thing.state != LATER, not tag.startswith(OFF), before, tag, after)


def label_of(thing: Thing) -> str:
    """Give its own name, or what such a thing is called."""
    return thing.name or _LABELS[thing.service]


def until_words(instant: int | None, house: HouseAhead, calendar: WorkCalendar) -> Piece:
    """Say until when something is out; None: nobody knows. The minute is only worth saying when it is near; else the
    part of the day, never earlier than the end."""
    if instant is None:
        return ", ", "no date", " yet"
    moment = calendar.moment(instant)
    day, until, after = moment.date(), "until", f", {clock_words(moment)}"
    if instant > house.ends:
        day, part = part_of_day(moment)
        until, after = _UNTIL[part], ""
    far = f", {day.year}" if abs((day - house.today).days) >= FAR else ""
    return f" {until} {weekday_words(day)} ", short_span_words(day, day), f"{far}{after}"


def _out(thing: Thing, house: HouseAhead, calendar: WorkCalendar) -> Piece:
    """What is back for a moment only, before it is out again, is back after that."""
    last = thing.again if thing.again and _back_for_a_moment(thing) else thing.told
    return until_words(last.until, house, calendar)


def _later(thing: Thing, house: HouseAhead, calendar: WorkCalendar) -> Piece:
    """Out for some hours: these. Out for longer, or for hours that a tag has no room for: off from that day on."""
    since, until = calendar.moment(thing.told.since or house.begins), thing.told.until
    day = since.date()
    if until is not None and calendar.day_of(until) == day:
        which = f"{weekday_words(day)} " if house.at_work and day != house.today else ""
        tag = which + short_hours(since, calendar.moment(until), TAG_LONGEST - len(which))
        if len(tag) <= TAG_LONGEST:
            short = short_span_words(day, day)
            return (" ", tag, f", {short}") if which else (f" {day_words(day)}, ", tag, "")
    back = "".join(until_words(until, house, calendar)) if until is None or calendar.day_of(until) != day else (
        f" to {clock_words(calendar.moment(until))}")
    return " ", f"{OFF}{weekday_words(day)}", f" {short_span_words(day, day)} from {clock_words(since)}{back}"


_PIECES = {OUT: _out, UNKNOWN: _out, LATER: _later}


def short_hours(since: datetime, until: datetime, longest: int = TAG_LONGEST) -> str:
    """Say hours of a day in few characters: `8 to 3`, `8–4:30`. Where even that is too long they are rounded to whole
    hours, from the hour before to the hour after: what is said to be out may be back, never the other way."""
    exact = _clock(since), _clock(until)
    ends = until.hour + (until.minute > 0)
    whole = f"{since.hour % 12 or 12}", f"{ends % 12 or 12}"
    ways = (" to ".join(exact), "–".join(exact), "–".join(whole))
    return next((way for way in ways if len(way) <= longest), ways[-1])


def _clock(moment: datetime) -> str:
    return f"{moment.hour % 12 or 12}{f':{moment:%M}' if moment.minute else ''}"


def _back_for_a_moment(thing: Thing) -> bool:
    again, until = thing.again, thing.told.until
    return again is not None and again.since is not None and until is not None and again.since - until <= _SOON


def _and_again(thing: Thing, calendar: WorkCalendar) -> str:
    again = thing.again
    if again is None or again.since is None or (thing.state != LATER and _back_for_a_moment(thing)):
        return ""
    since = calendar.moment(again.since)
    ends = f" to {clock_words(calendar.moment(again.until))}" if again.until is not None else ""
    return f", and again {day_words(since.date())} from {clock_words(since)}{ends}"


def _label(name: str) -> tuple[str, str]:
    """As many whole words as there is room for, and the others."""
    words, count = name.split(), 1
    while len(" ".join(words[:count + 1])) <= _LABEL_LONGEST and count < len(words):
        count += 1
    return " ".join(words[:count]), " ".join(words[count:])
