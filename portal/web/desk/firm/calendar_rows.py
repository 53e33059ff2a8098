"""The working calendar as a form asks for it: one row for the days with the same hours, the others and the public
holidays in folds, days off by lines; and back."""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, date, datetime
from typing import Any

from flask import request
from marshmallow import ValidationError, fields, validate

from portal import clock
from portal.api.http.shapes import Strict, Whole, line_field
from portal.planning.calendar.public_holidays import NextHoliday, holidays_at, next_holidays
from portal.planning.calendar.week import DAYS
from portal.store.refusals import FieldRefused
from portal.store.rows.project_rows import usual_holidays, usual_timezone
from portal.store.tables import Firm
from portal.web.forms.inputs import Field, grouped
from portal.web.forms.plain_fields import DateLines, Lines
from portal.words.capitals import first_upper
from portal.words.dates import day_words

_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_ENDS = (("begins", "ends"), ("again", "until"))
_HALF_DAY = re.compile(r"(\d{4}-\d\d-\d\d)[ ,]+(\d\d?:\d\d) *(?:to|-|–)? *(\d\d?:\d\d)")


class HalfDays(Lines):
    """`2026-12-24 08:00 to 12:00` a line outside, the hours by date inside."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        hours: dict[str, list[list[str]]] = {}
        for line in super()._deserialize(value, attr, data):
            match = _HALF_DAY.fullmatch(line)
            if match is None:
                raise ValidationError(f"“{line}” can’t be read. Write a line such as 2026-12-24 08:00 to 12:00.")
            hours.setdefault(match[1], []).append([match[2].zfill(5), match[3].zfill(5)])
        return hours


class DayForm(Strict):
    begins = line_field(5)
    ends = line_field(5)
    again = line_field(5)
    until = line_field(5)


class UsualForm(DayForm):
    days = fields.List(fields.String(validate=validate.OneOf(DAYS)), load_default=list)


class CalendarForm(Strict):
    usual = Whole(UsualForm, load_default=dict)
    week = fields.Dict(keys=fields.String(validate=validate.OneOf(DAYS)), values=Whole(DayForm), load_default=dict)
    country = line_field(10, load_default="")
    state = line_field(20, load_default="")
    listed = line_field(40, load_default="")
    off = fields.List(line_field(120), load_default=list)
    days_off = DateLines(load_default=list)
    half_days = HalfDays(load_default=dict)


def likely_holidays(firm: Firm) -> dict[str, Any] | None:
    """Whose holidays a new calendar begins with: those of the newest house; before there is one, those of the state
    that the firm's address ends with."""
    return usual_holidays() if usual_timezone() else holidays_at(firm.address)


def why_none(firm: Firm, holidays: dict[str, Any] | None) -> str:
    """What is missing where no holidays are known, and where it is mended; empty where there is nothing to say."""
    if holidays or usual_timezone():
        return ""
    lacks = "has no address yet" if not firm.address else "has an address that ends with no state"
    return f"Nobody’s are filled in: the firm {lacks}. Write it down under “The firm’s details”, or name a state here."


def calendar_fields(listed: str, today: date, lacks: str = "") -> list[Field]:
    """Ask for the week and the days off. `listed`: whose holidays have a tick each, as `whose` writes it. `lacks`: why
    none are filled in."""
    days = list(zip(DAYS, _NAMES, strict=True))
    others = [one for day, name in days for one in _times(name, f"calendar.week.{day}.")]
    return [
        *grouped("Work hours", _times("", "calendar.usual.")),
        Field("calendar.usual.days", "On these days", "choices", choices=days),
        *grouped("Weekdays with other hours", others, folded=True),
        *grouped("Public holidays", _holidays(listed, today, lacks), "calendar.", folded=bool(listed)),
        *grouped("Days off", [
            Field("days_off", "Other days off", "text", hint="One a line, such as 2026-11-27."),
            Field("half_days", "Days with other hours", "text", hint="One a line, such as 2026-12-24 08:00 to 12:00."),
        ], "calendar."),
    ]


def _times(day: str, prefix: str) -> list[Field]:
    """Two spans: before and after a break."""
    labels = (("begins", "from"), ("ends", "to"), ("again", "and from"), ("until", "and to"))
    return [Field(f"{prefix}{name}", first_upper(f"{day} {words}".strip()), "time") for name, words in labels]


def _holidays(listed: str, today: date, lacks: str) -> list[Field]:
    return [
        Field("country", "Public holidays of",
              hint=f"The country in two letters, such as US. Empty: none. {lacks}".rstrip()),
        Field("state", "State", hint="In two letters, such as MN."),
        Field("listed", "", "hidden"), *_ticks(listed, today),
    ]


def whose(holidays: dict[str, Any] | None) -> str:
    """Write down whose holidays a form lists: `US/MN`; empty for nobody's."""
    return f"{holidays['country']}/{holidays.get('subdivision') or ''}" if holidays else ""


def calendar_json(typed: dict[str, Any], today: date) -> dict[str, Any]:
    """What the form holds as the calendar of a project. An end at 00:00 is midnight, the end of the day."""
    usual = _periods(typed["usual"], "usual")
    week = {day: _periods(typed["week"].get(day, {}), "week", day) or (
        usual if day in typed["usual"].get("days", ()) else []) for day in DAYS}
    country = typed["country"].upper()
    holidays = {"country": country, "subdivision": typed["state"].upper() or None} if country else None
    # Ticks are of the list that was shown; of another state all are off, until its own list was seen.
    unticked = [one.name for one in _listed(typed["listed"], today) if one.name not in typed["off"]]
    if holidays and whose(holidays) == typed["listed"] and unticked:
        holidays["except"] = unticked
    return {
        "week": {day: periods for day, periods in week.items() if periods},
        "holidays": holidays,
        "days_off": typed["days_off"],
        "half_days": typed["half_days"],
    }


def typed_calendar(calendar: dict[str, Any], today: date) -> dict[str, Any]:
    """A project's calendar as the form holds it."""
    holidays = calendar.get("holidays") or {}
    listed, week = whose(calendar.get("holidays")), calendar.get("week", {})
    usual: list[list[str]] = max(week.values(), key=list(week.values()).count, default=[])
    return {
        "usual": _row(usual) | {"days": [day for day in DAYS if usual and week.get(day) == usual]},
        "week": {day: _row(periods) for day, periods in week.items() if periods != usual},
        "country": holidays.get("country", ""),
        "state": holidays.get("subdivision") or "",
        "listed": listed,
        "off": [one.name for one in _listed(listed, today) if one.name not in (holidays.get("except") or ())],
        "days_off": "\n".join(calendar.get("days_off") or []),
        "half_days": "\n".join(
            f"{day} {begins} to {ends}"
            for day, hours in (calendar.get("half_days") or {}).items() for begins, ends in hours
        ),
    }


def _ticks(listed: str, today: date) -> list[Field]:
    choices = [(one.name, _dated(one)) for one in _listed(listed, today)]
    hint = ("Without a tick it is a work day. Where several fall on one day, it is off while one of them has its tick. "
            "For another state, save first; then its own holidays are listed here.")
    return [Field("off", "Days off among them, and when each comes next", "choices", choices=choices, hint=hint)
            ] if choices else []


def _dated(one: NextHoliday) -> str:
    return f"{one.name}: {day_words(one.on)}, {one.on.year}{', in lieu' if one.in_lieu else ''}"


def _listed(listed: str, today: date) -> tuple[NextHoliday, ...]:
    """The holidays of whom a form names; none for nobody, or for what no form of ours names."""
    country, _, subdivision = listed.partition("/")
    try:
        return next_holidays(country, subdivision or None, today) if country else ()
    # `holidays` raises the first for a subdivision that it does not know: a form that was tampered with names one.
    except (NotImplementedError, KeyError, AttributeError):
        return ()


def _row(periods: list[list[str]]) -> dict[str, Any]:
    row: dict[str, Any] = {}
    for names, times in zip(_ENDS, periods, strict=False):
        row |= {name: "00:00" if time == "24:00" else time for name, time in zip(names, times, strict=True)}
    return row


def _periods(row: Mapping[str, Any], *where: str) -> list[list[str]]:
    """`where`: the way to the row below the calendar, for what is wrong with it."""
    periods = []
    for first, last in _ENDS:
        begins, ends = row.get(first, "")[:5], row.get(last, "")[:5]
        if bool(begins) != bool(ends):
            missing = last if begins else first
            fault: Any = {missing: ["Give both times, or leave both empty."]}
            for name in reversed(where):
                fault = {name: fault}
            raise ValidationError({"calendar": fault})
        if begins:
            periods.append([begins, "24:00" if ends == "00:00" else ends])
    return periods


def as_it_was(values: dict[str, Any], kept: dict[str, Any]) -> dict[str, Any]:
    """The values with the very calendar that the form was filled with, where nobody changed it there: a form asks for
    less than a calendar can hold."""
    shown = calendar_json(CalendarForm().load(typed_calendar(kept, today())), today())
    return values | {"calendar": kept} if values["calendar"] == shown else values


def now_listed(values: Mapping[str, Any], where: str) -> str:
    """Where another state was named than the one whose holidays had their ticks. `where`: the form that lists them."""
    if whose(values["calendar"]["holidays"]) in ("", request.form.get("calendar.listed", "")):
        return ""
    return (f" All its public holidays are off: under “{where}” they are listed now, to untick those that are "
            "worked.")


def today() -> date:
    return datetime.fromtimestamp(clock.now(), UTC).date()


@contextmanager
def named_as_in_the_form() -> Iterator[None]:
    """The act names country and state by their place among the holidays; the form asks for them by themselves."""
    try:
        yield
    except FieldRefused as refusal:
        field = str(refusal.field)
        renamed = _row_of(field) if field.startswith("calendar.week") else {
            "calendar.holidays.country": "calendar.country", "calendar.holidays.subdivision": "calendar.state",
            "calendar.holidays.except": "calendar.off",
        }.get(field)
        if renamed is None:
            raise
        raise FieldRefused(renamed, str(refusal.details["message"])) from refusal


def _row_of(field: str) -> str:
    """Where a fault of a day is mended: in its own row, or in that of the usual days where it has none."""
    own = f"{field}.begins"
    return own if request.form.get(own) else "calendar.usual.begins"
