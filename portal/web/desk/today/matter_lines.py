"""The matters of all open houses, as lines in the order in which they are done; those that were told stand apart."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from operator import attrgetter
from typing import NamedTuple

from portal.planning.day_list import Place
from portal.store.facts import FirmFact
from portal.store.last_made import LastMade
from portal.store.reading.desk_lines import Listed
from portal.store.reading.today import matters as kinds
from portal.store.reading.today.matters import Matter
from portal.store.rows import person_rows
from portal.store.rows.household import told_marks
from portal.store.rows.household.told_marks import Mark
from portal.store.rows.person_rows import Reach
from portal.web.desk.blueprint import who
from portal.web.desk.today.household_lines import HOUSEHOLD, who_is_told
from portal.web.desk.today.line import Line, Press, Reached, Told
from portal.web.desk.today.who_does import WhoDoes
from portal.web.desk.today.work_lines import WORK
from portal.words.dates import local, when_words
from portal.words.plurals import counted

WORDS = WORK | HOUSEHOLD
_CALLED = (kinds.DECISION,)
"""Where nobody answers, the phone is taken; the others are told in writing, where they can be."""
AFTER_TOLD = {kinds.DECISION: "waits for their answer", kinds.UNKEPT: "still to be moved"}
"""What telling does not settle, and what it waits for."""


class Standing(NamedTuple):
    """A matter that stands in the list of its house's `today`, at its place; with the mark that it was told, where it
    was."""

    house: Listed
    matter: Matter
    today: date
    place: Place
    mark: Mark | None = None
    told: bool = False

    @property
    def waits(self) -> bool:
        """Whether it stays as late as it is, though it was told: told is not answered, and not moved."""
        return not self.told or self.matter.kind in AFTER_TOLD


def standing(houses: Sequence[Listed], now: int) -> list[Standing]:
    """What stands in the list, in its order. Words are made of those that are shown alone."""
    return _standing((houses, _days(houses, now), told_marks.of_open_houses()))


def standing_between_views(houses: Sequence[Listed], now: int) -> list[Standing]:
    """The same, made anew only where the houses, a day or what was told is another one. Nobody changes the list."""
    return _last.of(0, (houses, _days(houses, now), told_marks.of_open_houses()), _standing)


_Given = tuple[Sequence[Listed], Mapping[str, date], Mapping[int, Mapping[str, Mark]]]


def _days(houses: Iterable[Listed], now: int) -> dict[str, date]:
    """The day in each of their zones."""
    return {zone: local(now, zone).date() for zone in {one.timezone for one in houses}}


def _standing(given: _Given) -> list[Standing]:
    houses, days, marks = given
    found: list[Standing] = []
    for house in houses:
        today, mine = days[house.timezone], marks.get(house.id)
        for place, one in house.standing(today):
            mark = mine.get(one.key) if mine else None
            told = mark is not None and mark.state == one.state
            found.append(Standing(house, one, today, place, mark, told))
    return sorted(found, key=_place)


_place = attrgetter("place")
_last = LastMade[_Given, list[Standing]]()
"""Of all houses together."""


def lines_of(shown: Sequence[Standing], firm: FirmFact) -> list[Line]:
    people = person_rows.of_houses({one.house.id for one in shown})
    does = WhoDoes(who().role)
    return [_line(one, firm, people[one.house.id], does) for one in shown]


def _line(one: Standing, firm: FirmFact, people: Mapping[int, Reach], does: WhoDoes) -> Line:
    house, matter = one.house, one.matter
    today = one.today
    of = Told(house.id, house.name, house.timezone, today, people, firm, one.mark.said if one.mark else {})
    heading, reason, press = WORDS[matter.kind](matter, of)
    press = does.press(press, house, f"{heading}. {reason}")
    reached = who_is_told(matter, of)
    days = matter.due.days_late(today)
    late = "Can’t be kept:" if matter.due.unkept else f"{counted(days, 'day')} late:" if days else ""
    return Line(
        house.id, house.name, house.address, late, heading, reason, _first(matter, reached, press), matter.due,
        today, reached, of.below(f"told/{matter.key}") if reached or matter.due.unkept else "",
        {"state": matter.state}, matter.key,
        f"{one.mark.staff}, {when_words(one.mark.at, house.timezone)}" if one.mark else "",
        AFTER_TOLD.get(matter.kind, ""),
    )


def _first(matter: Matter, reached: tuple[Reached, ...], press: Press | None) -> Press | None:
    """Where somebody is to be told, that is what the line does."""
    for one in reached:
        if matter.kind in _CALLED and one.call:
            return replace(one.by_phone, words=one.name.split()[0])
        if one.best.href:
            return one.best
    return press
