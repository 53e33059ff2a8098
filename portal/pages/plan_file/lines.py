"""What the rows of a sheet mean on a plan: the lines that can be used, and a sentence for each that can't."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime

from portal.pages.plan_file import cells
from portal.pages.plan_file.cells import Cell
from portal.pages.plan_file.phase_names import number_of, unknown_phase
from portal.pages.plan_file.reading import FileRefused, Rows
from portal.store.facts import Snapshot
from portal.words.lists import quoted
from portal.words.typed import NotText, line

_NUMBER = re.compile(r"\d{1,6}(?:[.,]\d{1,4})?")
_US_DAY = re.compile(r"(\d{1,2})/(\d{1,2})/(\d{4})")
_COLUMN = re.compile(r"(.*?)(?: (\d{1,2}))?")
_MOST_HOURS = 100_000
_REACH = 25  # years before and after today in which a day of a job can lie


@dataclass(frozen=True, slots=True)
class SheetLine:
    """`number`: of the line in the file. `phase`: the one on the plan that has this name, if any; `after`: lines of the
    file by number, or phases of the plan as minus their id, each with its wait in minutes."""

    number: int
    name: str
    work: tuple[int, int, int]
    phase: int | None = None
    room: int | None = None
    crew: str = ""
    not_before: date | None = None
    after: tuple[tuple[int, int], ...] = ()
    held_by: tuple[int, ...] = ()  # numbers of decisions


@dataclass
class Sheet:
    """`faults`: sentences by the number of the line; `names`: of all lines, by their numbers; `notes`: what is left out
    of the sheet as a whole."""

    lines: list[SheetLine] = field(default_factory=list)
    faults: dict[int, list[str]] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    names: Mapping[int, str] = field(default_factory=dict)

    def leave_out(self, found: Mapping[int, list[str]]) -> None:
        """Lines that can't be used after all, and those that come after them. One that comes after a phase of the plan
        comes after it all the same: that phase stays as it is."""
        self.faults |= found
        while True:
            left_out = [one for one in self.lines if one.number in self.faults]
            names = {one.number: one.name for one in left_out if one.phase is None}
            there = {one.number: -one.phase for one in left_out if one.phase is not None}
            self.lines = [
                replace(one, after=tuple((there.get(before, before), wait) for before, wait in one.after))
                for one in self.lines if one.number not in self.faults
            ]
            behind = {}
            for one in self.lines:
                left = quoted(names[before] for before, _ in one.after if before in names)
                if left:
                    behind[one.number] = [f"It comes after {left}, which can’t be used."]
            if not behind:
                return
            self.faults |= behind


def sheet_of(rows: Rows, snapshot: Snapshot, today: date) -> Sheet:
    """Raises FileRefused where the sheet has not the columns of a plan."""
    places = _places(rows[0][1])
    known = {*cells.SINGLE, *cells.REPEATED}
    others = [cell.text for cell in rows[0][1] if cell.text and _column(cell.text)[0] not in known]
    sheet = Sheet(notes=[_left_out(others, {column for column, _ in places})] if others else [])
    names = {number: _text(row, places[cells.PHASE, 1]) for number, row in rows[1:]}
    sheet.names = names
    firsts: dict[str, int] = {}
    for number, row in rows[1:]:
        reader = _Reader(row, places, snapshot, today, names, number)
        found = reader.line()
        twin = firsts.setdefault(names[number].casefold(), number)
        if twin != number:
            reader.faults.append(f"“{names[number]}” stands in line {twin}, too. Give each phase its own name.")
        sheet.lines.append(found)
        if reader.faults:
            sheet.faults[number] = reader.faults
    sheet.leave_out({})
    return sheet


def _column(text: str) -> tuple[str, int]:
    """The column that a head means, whatever its capitals, and the which of its kind."""
    match = _COLUMN.fullmatch(" ".join(text.split()))
    assert match is not None
    known = {name.casefold(): name for name in (*cells.SINGLE, *cells.REPEATED)}
    return known.get(match[1].casefold(), text), int(match[2] or 1)


def _left_out(others: list[str], there: set[str]) -> str:
    """Say which columns mean nothing, and which of those that are not there may be meant: one with a word of theirs."""
    meant = []
    for text in others:
        words = set(text.casefold().split())
        alike = {one: len(words & set(one.casefold().split())) for one in (*cells.SINGLE, *cells.REPEATED)
                 if one not in there}
        near = max(alike, key=lambda one: alike[one], default="")
        meant += [f"For “{text}” write “{near}”, if that is meant."] if near and alike[near] else []
    return " ".join([f"No column of a plan, and left out: {quoted(others)}.", *meant])


def _places(head: list[Cell]) -> dict[tuple[str, int], int]:
    places: dict[tuple[str, int], int] = {}
    for place, cell in enumerate(head):
        places.setdefault(_column(cell.text), place)
    missing = [name for name in (cells.PHASE, cells.HOURS) if (name, 1) not in places]
    if missing:
        raise FileRefused(f"The first line names no column {quoted(missing)}. Take the plan with you as a file: its "
                          "first line names the columns.")
    return places


def _text(row: list[Cell], place: int | None) -> str:
    return "" if place is None or place >= len(row) else row[place].text


class _Reader:
    """One row, with the faults found so far."""

    def __init__(self, row: list[Cell], places: Mapping[tuple[str, int], int], snapshot: Snapshot, today: date,
                 names: Mapping[int, str], number: int) -> None:
        self.row, self.places, self.snapshot, self.today = row, places, snapshot, today
        self.names, self.number = names, number
        self.faults: list[str] = []

    def line(self) -> SheetLine:
        there = number_of(self.names[self.number], {one.id: one.name for one in self.snapshot.phases}, {})
        for column, which in self.places:
            place = self.places[column, which]
            if place < len(self.row) and self.row[place].formula:
                self.faults.append(f"“{cells.numbered(column, which)}” holds a formula or begins like one. Write its "
                                   "value as plain text or a number.")
        if self.faults:
            return SheetLine(self.number, self.names[self.number], (0, 0, 0), there)
        name = self._line(cells.PHASE, 120)
        if not name:
            self.faults.append("It has no name under “Phase”. Give it one, or take the line out.")
        return SheetLine(
            self.number, name, self._work(), there, self._room(), self._line(cells.CREW, 80), self._day(),
            tuple(self._after()), tuple(self._held_by()),
        )

    def _value(self, column: str, which: int = 1) -> str:
        return _text(self.row, self.places.get((column, which)))

    def _line(self, column: str, longest: int) -> str:
        text = self._value(column)
        try:
            text = line(text)
        except NotText as error:
            self.faults.append(f"“{column}”: {error}")
        if len(text) > longest:
            self.faults.append(f"“{column}” has {len(text)} letters. Use at most {longest}.")
        return text

    def _hours(self, column: str, which: int = 1) -> int | None:
        text = self._value(column, which)
        if not text:
            return None
        if not _NUMBER.fullmatch(text) or float(text.replace(",", ".")) > _MOST_HOURS:
            column = cells.numbered(column, which)
            self.faults.append(f"“{text}” under “{column}” is no number of hours. Write one such as 6 or 1.5.")
            return None
        return round(float(text.replace(",", ".")) * 60)

    def _work(self) -> tuple[int, int, int]:
        likely, low, high = (self._hours(column) for column in (cells.HOURS, cells.BEST, cells.WORST))
        if likely is None:
            if not self._value(cells.HOURS):
                self.faults.append("It has no hours. Write the crew hours that it likely takes under “Hours”.")
            return 0, 0, 0
        low, high = likely if low is None else low, likely if high is None else high
        if not low <= likely <= high:
            self.faults.append("Its hours are not in order: at best, likely, at worst.")
        return low, likely, high

    def _room(self) -> int | None:
        text = self._value(cells.ROOM)
        rooms = {room.name: room.id for room in self.snapshot.rooms}
        alike = {name.casefold(): one for name, one in rooms.items()}
        if text and text.casefold() not in {*alike, self.snapshot.room_name(None).casefold()}:
            self.faults.append(f"There is no room “{text}” in this house. Add it under “Rooms”, or correct its name.")
        return rooms.get(text, alike.get(text.casefold()))

    def _day(self) -> date | None:
        text = self._value(cells.NOT_BEFORE)
        if not text:
            return None
        us = _US_DAY.fullmatch(text)
        try:
            day = date(int(us[3]), int(us[1]), int(us[2])) if us else datetime.fromisoformat(text).date()
        except ValueError:
            self.faults.append(f"“{text}” under “Not before” is no date. Write one such as 2026-12-04.")
            return None
        if abs(day.year - self.today.year) > _REACH:
            self.faults.append(f"“{text}” under “Not before” is too far away. Write a day of this job.")
        return day

    def _after(self) -> Iterator[tuple[int, int]]:
        there = {-one.id: one.name for one in self.snapshot.phases}
        seen: set[int] = set()
        for which in sorted(which for column, which in self.places if column == cells.AFTER):
            text, wait = self._value(cells.AFTER, which), self._hours(cells.WAIT, which)
            if not text:
                if wait:
                    self.faults.append(f"A wait of {wait / 60:g} h is for no phase. Name one, or take it out.")
                continue
            found = number_of(text, self.names, there)
            if found is None:
                self.faults.append(unknown_phase(text, {**self.names, **there}))
            elif found == self.number:
                self.faults.append("It can’t come after itself.")
            elif found in seen:
                self.faults.append(f"“{text}” stands twice under “Comes after”. Name it once.")
            else:
                seen.add(found)
                yield found, wait or 0

    def _held_by(self) -> Iterator[int]:
        for which in sorted(which for column, which in self.places if column == cells.HELD_BY):
            text = self._value(cells.HELD_BY, which)
            if text:
                found = [one.number for one in self.snapshot.decisions
                         if text == str(one.number) or one.question.casefold() == text.casefold()]
                if len(found) != 1:
                    which_one = "no question" if not found else "more than one question"
                    self.faults.append(f"“{text}” under “Held by” is {which_one} of this house. Write its number, or "
                                       "take it out.")
                yield from found[:1]
