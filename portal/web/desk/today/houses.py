"""The houses of the desk's list: each with its span on one scale, what is late in it, and when it is done."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from markupsafe import Markup

from portal.drawings.charts.span import Span, draw_span
from portal.store.reading.desk_lines import Listed
from portal.words.dates import dated_words, local
from portal.words.names import street

AT_A_TIME = 50


@dataclass(frozen=True, slots=True)
class House:
    """`street`: without its number, which is on the plate; `done`: when, and what was promised; `span`: its drawing."""

    id: int
    name: str
    address: str
    late: int
    done: str
    span: Markup | None

    @property
    def street(self) -> str:
        return street(self.address)


def counted_through(many: int, page: int) -> tuple[int, dict[str, Any]]:
    """How many stand before that page, or the last one; the first and last of it by number, and the pages beside it."""
    last = max(1, -(-many // AT_A_TIME))
    page = min(max(page, 1), last)
    first = (page - 1) * AT_A_TIME
    beside = {"before": page - 1 if page > 1 else None, "after": page + 1 if page < last else None}
    return first, {"first": first + 1, "last": min(many, first + AT_A_TIME), **beside}


def houses_of(shown: Sequence[Listed], late: Counter[int], now: int) -> list[House]:
    """In their order; `late`: how many matters are late, by house."""
    until = _until(shown)
    return [_house(one, late[one.id], local(now, one.timezone).date(), until) for one in shown]


def _until(shown: Iterable[Listed]) -> date | None:
    """The last day of the scale that all of them share."""
    return max((day for one in shown for day in (one.finish, one.promised) if day), default=None)


def _house(one: Listed, late: int, today: date, until: date | None) -> House:
    if one.closed:
        return House(one.id, one.name, one.address, late, "Closed", None)
    if one.finish is None:
        return House(one.id, one.name, one.address, late, "Nothing is planned yet", None)
    done = f"Done {_day(one.finish, today)}"
    promised = f", promised {_day(one.promised, today)}" if one.promised else ""
    over = one.finish < today
    drawn = None if over else draw_span(Span(today, one.finish, one.promised, until=until))
    return House(one.id, one.name, one.address, late, f"{'All was done' if over else done}{promised}",
                 Markup(drawn.svg) if drawn else None)


def _day(day: date, today: date) -> str:
    """Without its weekday, as a row has room for: `Dec 14`, `Jun 3, 2027`."""
    return dated_words(day, today).partition(" ")[2]
