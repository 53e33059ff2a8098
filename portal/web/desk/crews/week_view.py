"""The week of the crews as a page shows it: days, crews, who is at which house; once as a picture, once in words."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from portal import clock
from portal.planning.calendar.working_calendar import calendar_of
from portal.planning.conflicts.crew_days import PLANNED, RUNNING, VISIT, Clash, Stretch, doubled
from portal.store.reading.crews.week import CrewsAhead, WeekHouse, crews_ahead, crews_between_views
from portal.store.rows.project_rows import usual_timezone
from portal.web.desk.crews.week_words import clash_words, entry_words, free_words, short_hours, then_words
from portal.words.dates import local

WORK_DAYS = 5
ZONE = "UTC"
"""Of a firm that has no house yet."""
_EPOCH, _A_DAY = date(1970, 1, 1), 24 * 60


@dataclass(frozen=True, slots=True)
class Entry:
    """One crew at one house, on one day. `hours`: in two parts, which may stand below each other; `look`: its classes;
    `word`: what it is besides booked; `words`: all of it as a sentence; `leads`: to where it is booked or moved."""

    house: WeekHouse
    hours: tuple[str, str]
    look: str
    word: str
    words: str
    leads: str


@dataclass(frozen=True, slots=True)
class Row:
    """A crew with its entries, day by day. `crew`: the id of one that is on the list; None for another. `more`: how
    many entries of each day are not among them."""

    name: str
    days: list[list[Entry]]
    crew: int | None
    more: list[int]

    @property
    def words(self) -> list[str]:
        return [one.words for day in self.days for one in day]


class Most(NamedTuple):
    """How much is shown: so many crews, and of each so many entries a day. None: all."""

    crews: int | None = None
    a_day: int | None = None


ALL = Most()


@dataclass(frozen=True, slots=True)
class Twice:
    """A crew that two houses need at once: the sentence, where it can be moved or booked (`does`: in a word, `may`: the
    act by which it is mended), and the house that it would leave."""

    crew: str
    words: str
    house: WeekHouse
    leads: str
    does: str = "Move it"
    may: str = "change_visit"
    key: str = ""  # the same while it is the same crew, houses and day


@dataclass(frozen=True, slots=True)
class CrewWeek:
    """`days` from Monday on: five, or as far as somebody works; `today`: None in another week. `free`: who of the list
    has nothing all week, in a sentence."""

    days: list[date]
    today: date | None
    rows: list[Row]
    twice: list[Twice]
    free: str

    @property
    def monday(self) -> date:
        return self.days[0]


def this_week() -> CrewsAhead:
    """What is read for the week of today and the next one, and for the clashes in them."""
    now, zone = clock.now(), usual_timezone() or ZONE
    monday = _monday(local(now, zone).date())
    return crews_between_views(now, _midnight(monday, zone), _midnight(monday + timedelta(14), zone))


def week_of(
    given: date | None = None, ahead: CrewsAhead | None = None, *, twice: bool = True, most: Most = ALL
) -> CrewWeek:
    """The week in which the given day lies; None: today's, or on a weekend with no work left in it the next one.
    `ahead`: what was read already, from the Monday of that week on; without `twice`, its clashes are not said."""
    now, zone = clock.now(), usual_timezone() or ZONE
    today = local(now, zone).date()
    monday = _monday(given or today)
    ahead = ahead or crews_ahead(now, _midnight(min(monday, _monday(today)), zone))
    if given is None and today.weekday() >= WORK_DAYS and not _between(ahead, today, monday + timedelta(7)):
        monday += timedelta(7)
    found = _week(ahead, monday, today, most)
    return replace(found, twice=[
        twice_of(ahead, one) for one in ahead.clashes if monday <= _day(ahead, one.other) < monday + timedelta(7)
    ]) if twice else found


@lru_cache(maxsize=2)
def _week(ahead: CrewsAhead, monday: date, today: date, most: Most) -> CrewWeek:
    """Without its clashes. The last ones are kept: whoever looks again before anything has changed sees the same."""
    shown = _between(ahead, monday, monday + timedelta(7))
    last = max([WORK_DAYS - 1, *(day.weekday() for day, _ in shown)])
    days = [monday + timedelta(at) for at in range(last + 1)]
    return CrewWeek(
        days, today if today in days else None, _rows(ahead, days, shown, most), [], free_words(_free(ahead, shown)))


def every_clash() -> list[Twice]:
    """Of today and later, over all houses: each crew and pair of houses once."""
    now = clock.now()
    ahead = crews_ahead(now, now)
    return [twice_of(ahead, one) for one in ahead.clashes]


def _rows(ahead: CrewsAhead, days: list[date], shown: list[tuple[date, Stretch]], most: Most) -> list[Row]:
    by_crew: dict[str, dict[date, list[Stretch]]] = {}
    for day, one in shown:
        by_crew.setdefault(one.key, {}).setdefault(day, []).append(one)
    urgent = _urgent(ahead, shown) if most.crews else {}
    keys = sorted(by_crew, key=lambda key: (urgent.get(key, 2), ahead.names[key].casefold(), key))[:most.crews]
    seen = (one for key in keys for its in by_crew[key].values() for one in its)
    twice = {_place(ahead, one) for one in doubled(seen)}
    found = []
    for key in keys:
        each = [_at_houses(sorted(by_crew[key].get(day, []), key=_in_order)) for day in days]
        entries = [[_entry(ahead, one, _place(ahead, one) in twice) for one in its[:most.a_day]] for its in each]
        more = [len(its) - len(its[:most.a_day]) for its in each]
        crew = ahead.crews.get(key)
        found.append(Row(ahead.names[key], entries, crew and crew.id, more))
    return found


def _urgent(ahead: CrewsAhead, shown: list[tuple[date, Stretch]]) -> dict[str, int]:
    """Where not all are shown: 0 for crews of which somebody must do something in what is left of the week, since they
    are needed twice, can't come or are held; 1 for others that are at a house today."""
    today = {one.id: one.day(ahead.now) for one in ahead.houses.values()}
    found = {one.key: 1 for day, one in shown if day == today[one.project]}
    last = max((day for day, _ in shown), default=None)
    twice = {one.other.key for one in ahead.clashes if last and _day(ahead, one.other) <= last}
    needs = {one.key for _, one in shown if (one.held or one.unkept) and one.ends > ahead.now}
    return found | dict.fromkeys(twice | needs, 0)


def _at_houses(today: list[Stretch]) -> list[Stretch]:
    """Of a crew's day each visit; of what is not booked one stretch for all that stands alike in a house: what runs
    ends when it ends, whatever the plan has after it. None where the crew is booked."""
    booked = {one.project for one in today if one.kind == VISIT}
    found: list[Stretch] = []
    stands: dict[object, int] = {}
    for one in (one for one in today if one.kind == VISIT or one.project not in booked):
        same = None if one.kind == VISIT else stands.setdefault(_stands(one), len(found))
        if same is None or same == len(found):
            found.append(one)
        else:
            name, ends = then_words(found[same].name, one.name), max(found[same].ends, one.ends)
            found[same] = replace(found[same], ends=ends, name=name)
    return found


def _stands(one: Stretch) -> tuple[int, str, bool, tuple[int, ...], tuple[str, ...]]:
    return one.project, one.kind, one.held, one.numbers, one.unasked


def _place(ahead: CrewsAhead, one: Stretch) -> tuple[str, int, date]:
    return one.key, one.project, _day(ahead, one)


def _entry(ahead: CrewsAhead, one: Stretch, twice: bool) -> Entry:
    house = ahead.houses[one.project]
    zone = house.timezone
    hours = short_hours(local(one.starts * 60, zone), local(one.ends * 60, zone))
    looks = [name for name, holds in (
        ("held", one.held or one.kind == PLANNED), ("hatched", one.held), ("cl", twice), ("x", one.unkept)) if holds]
    word = "twice" if twice else "held" if one.held else "can’t come" if one.unkept else (
        "plan" if one.kind == PLANNED else "")
    words = entry_words(house, one, twice)
    return Entry(house, hours, " ".join(looks), word, words, _leads(one))


def _leads(one: Stretch) -> str:
    """A visit is moved; planned work is booked; of running work its phase is looked at."""
    here = f"/desk/projects/{one.project}"
    if one.kind == VISIT:
        return f"{here}/visits/{one.row}/change"
    return f"{here}/visits/new?phase={one.row}" if one.kind == PLANNED else f"{here}/"


def twice_of(ahead: CrewsAhead, clash: Clash) -> Twice:
    """Looks for the first time that fits, so it is made of those that are shown alone."""
    house = ahead.houses[clash.other.project]
    words = clash_words(ahead, clash, ahead.first_fit(clash, clock.now()))
    mended = {PLANNED: ("Book it", "book_visit"), RUNNING: ("Open", "change_phase")}
    does, may = mended.get(clash.other.kind, ("Move it", "change_visit"))
    houses = sorted((clash.one.project, clash.other.project))
    key = f"{clash.other.key}:{houses[0]}:{houses[1]}:{_day(ahead, clash.other)}"
    return Twice(ahead.names[clash.other.key], words, house, _leads(clash.other), does, may, key)


def _free(ahead: CrewsAhead, shown: list[tuple[date, Stretch]]) -> list[str]:
    busy = {one.key for _, one in shown}
    return sorted((crew.name for key, crew in ahead.crews.items() if crew.active and key not in busy), key=str.casefold)


def _between(ahead: CrewsAhead, first: date, end: date) -> list[tuple[date, Stretch]]:
    """With its day, by the clock of its house."""
    near = range(_ordinal(first) - _A_DAY, _ordinal(end) + _A_DAY)  # wherever the house is
    found = [(_day(ahead, one), one) for one in ahead.stretches if one.starts in near and one.key.strip()]
    return [(day, one) for day, one in found if first <= day < end]


def _in_order(one: Stretch) -> tuple[int, int, str, int]:
    return one.starts, one.project, one.kind, one.row


def _day(ahead: CrewsAhead, one: Stretch) -> date:
    return ahead.houses[one.project].day(one.starts)


def _ordinal(day: date) -> int:
    """Its first minute at Greenwich."""
    return (day - _EPOCH).days * _A_DAY


def _monday(day: date) -> date:
    return day - timedelta(day.weekday())


def _midnight(day: date, zone: str) -> int:
    """A day earlier than any house's, wherever it is: what lies before it is in no week that is shown."""
    always = calendar_of('{"week": {"mon": [["00:00", "24:00"]]}}', zone)
    return (always.day_start(day) - 24 * 60) * 60
