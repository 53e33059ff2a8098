"""The houses of the desk's list: each with its span on one scale, what is late in it, and when it is done."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from portal.drawings.charts.span import Span, draw_span
from portal.store.reading.desk_lines import Listed
from portal.words.dates import dated_words, local


@dataclass(frozen=True, slots=True)
class House:
    """`street`: the first part of its address; `done`: when, and what was promised, in words; `span`: its drawing."""

    id: int
    name: str
    address: str
    street: str
    late: int
    done: str
    span: Markup | None


def houses_of(shown: Sequence[Listed], late: Counter[int], now: int) -> list[House]:
    """In their order; `late`: how many matters are late, by house."""
    until = _until(shown)
    return [_house(one, late[one.id], local(now, one.timezone).date(), until) for one in shown]


def _until(shown: Iterable[Listed]) -> date | None:
    """The last day of the scale that all of them share."""
    return max((day for one in shown for day in (one.finish, one.promised) if day), default=None)


def _house(one: Listed, late: int, today: date, until: date | None) -> House:
    street = one.address.partition(",")[0]
    if one.closed:
        return House(one.id, one.name, one.address, street, late, "Closed", None)
    if one.finish is None:
        return House(one.id, one.name, one.address, street, late, "Nothing is planned yet", None)
    done = f"Done {dated_words(one.finish, today)}"
    promised = f", promised {dated_words(one.promised, today)}" if one.promised else ""
    over = one.finish < today
    drawn = None if over else draw_span(Span(today, one.finish, one.promised, until=until))
    return House(one.id, one.name, one.address, street, late, f"{'All was done' if over else done}{promised}",
                 Markup(drawn.svg) if drawn else None)
