"""Working calendars as they come in: whether they can be counted, and whether they are the firm's."""

import json
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import Any

from portal.planning.calendar.public_holidays import next_holidays
from portal.planning.calendar.week import CalendarError
from portal.planning.calendar.working_calendar import calendar_of
from portal.store.refusals import FieldRefused
from portal.store.rows.editable import first_firm
from portal.store.tables import Firm, Project


def check_calendar(spec: dict[str, Any], timezone: str) -> None:
    try:
        calendar_of(json.dumps(spec), timezone)
    except CalendarError as error:
        field = error.field if error.field == "timezone" else f"calendar.{error.field}"
        raise FieldRefused(field, error.message) from error


def check_worked_holidays(spec: dict[str, Any], now: int) -> None:
    """A misspelt name would leave the day off that is meant to be worked."""
    whose = spec.get("holidays") or {}
    if not whose.get("except"):
        return
    today = datetime.fromtimestamp(now, UTC).date()
    known = [one.name for one in next_holidays(whose["country"], whose.get("subdivision"), today)]
    unknown = [name for name in whose["except"] if name not in known]
    if unknown:
        message = f"“{unknown[0]}” is no holiday there. Use one of: {', '.join(known)}."
        raise FieldRefused("calendar.holidays.except", message)


def whose_calendar(values: Mapping[str, Any], before: Project | None = None) -> dict[str, Any]:
    """The values with zone and calendar as they are meant. Of a house that is to be as the firm's, they are the firm's;
    what else was sent may only be what stands there, as where a client sends back all that it read. A house that gets
    a zone or a calendar of its own is as the firm's no longer."""
    if values.get("as_firm"):
        firm = first_firm()
        if firm.calendar is None:
            raise FieldRefused("as_firm", "The firm has no working days yet. Its manager writes them down at the desk.")
        if not _stands_in(values, [firm, *([before] if before else [])]):
            raise FieldRefused(
                "as_firm", "Days, hours or a zone of its own are given as well. Take this off to keep them."
            )
        return {**values, "timezone": firm.timezone, "calendar": firm.calendar}
    if before is not None and "as_firm" not in values and not _stands_in(values, [before]):
        return {**values, "as_firm": False}
    return dict(values)


def is_as(house: Project, firm: Firm) -> bool:
    return _stands_in({"timezone": firm.timezone, "calendar": firm.calendar}, [house])


def _stands_in(values: Mapping[str, Any], known: Iterable[Firm | Project]) -> bool:
    """Whether zone and calendar, as far as they are among the values, are together those of one that is known."""
    return any(
        values.get("timezone", one.timezone) == one.timezone
        and _plain(values.get("calendar", one.calendar)) == _plain(one.calendar)
        for one in known
    )


def _plain(spec: Any) -> Any:
    """A calendar without what it leaves empty: no days off are none, however that is written."""
    if isinstance(spec, Mapping):
        return {key: plain for key, one in spec.items() if (plain := _plain(one))}
    return spec
