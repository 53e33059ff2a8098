"""What a sheet makes of the plan: each line that is new or that changes, by its phase, and what of it. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from portal.pages.plan_file import cells
from portal.pages.plan_file.lines import Sheet, SheetLine
from portal.pages.plan_file.making import hours_text
from portal.store.facts import PhaseFact, Snapshot
from portal.words.capitals import first_lower
from portal.words.dates import day_words
from portal.words.lists import listed, quoted

_NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Difference:
    """`said`: `hours: 12 → 16`, each thing that changes; of a new phase, what it is."""

    phase: str
    new: bool
    said: list[str]


def differences(sheet: Sheet, snapshot: Snapshot) -> list[Difference]:
    """In the order of the sheet; lines that change nothing are left out."""
    kept = {one.id: one for one in snapshot.phases}
    names = {one.number: kept[one.phase].name if one.phase in kept else one.name for one in sheet.lines}
    names |= {-one.id: one.name for one in snapshot.phases}
    found = []
    for line in sheet.lines:
        after = _line_words(snapshot, line, names)
        phase = kept.get(line.phase or 0)
        if phase is None:
            found.append(Difference(line.name, True, [f"{name}: {said}" for name, said in after[1:] if said]))
        elif changes := list(_changes(_phase_words(snapshot, phase), after)):
            found.append(Difference(phase.name, False, changes))
    return found


Words = list[tuple[str, str]]


def _changes(before: Words, after: Words) -> Iterator[str]:
    for (name, was), (_, becomes) in zip(before, after, strict=True):
        if was != becomes:
            yield f"{name}: {was or _NOTHING} → {becomes or _NOTHING}"


def _line_words(snapshot: Snapshot, line: SheetLine, names: dict[int, str]) -> Words:
    after = [(names[number], wait) for number, wait in line.after]
    questions = {one.number: one.question for one in snapshot.decisions}
    held = [questions[number] for number in line.held_by]
    return _words(line.name, snapshot.room_name(line.room), line.crew, line.work, line.not_before, after, held)


def _phase_words(snapshot: Snapshot, phase: PhaseFact) -> Words:
    work = (phase.work_low, phase.work_likely, phase.work_high)
    after = [(snapshot.phase(one).name, wait) for one, wait in phase.after]
    held = [snapshot.decision(one).question for one in phase.held_by]
    return _words(phase.name, snapshot.room_name(phase.room_id), phase.crew, work, phase.not_before, after, held)


def _words(
    name: str, room: str, crew: str, work: tuple[int, int, int], day: date | None, after: list[tuple[str, int]],
    held: list[str],
) -> Words:
    """In one order whatever that of the sheet: what comes after what, and what holds it, are sets."""
    hours = [hours_text(minutes) for minutes in (work if len(set(work)) > 1 else work[:1])]
    waits = [f"{quoted([one])}{f' and {hours_text(wait)} h' if wait else ''}" for one, wait in sorted(after)]
    return [
        (_head(cells.PHASE), name), (_head(cells.ROOM), room), (_head(cells.CREW), crew),
        (_head(cells.HOURS), " / ".join(hours)), (_head(cells.NOT_BEFORE), day_words(day) if day else ""),
        (_head(cells.AFTER), listed(waits)), (_head(cells.HELD_BY), quoted(sorted(held))),
    ]


def _head(column: str) -> str:
    return "name" if column == cells.PHASE else first_lower(column)
