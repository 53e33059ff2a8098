"""The plan as one table: every line filled in, checked and saved together, or nothing at all."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.decisions.holds import changing_fault, lift_from_removed, set_holds_of_phase
from portal.acts.entries import keep_rest
from portal.acts.refusals import FieldRefused, Refused
from portal.planning.schedule.network import LoopError, check_loops
from portal.store.refusals import Stale
from portal.store.rows import decision_rows, plan_rows
from portal.store.rows.editable import add_row, change_row, in_project, remove_row
from portal.store.tables import Phase

Work = tuple[int, int, int]
"""Minutes of crew time: low, likely, high."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the table. `phase` and `seen` are None for a new one; `after` names other lines by their numbers.

    `held_by` are numbers of decisions, waits are minutes by the clock.
    """

    number: int
    name: str
    work: Work
    phase: int | None = None
    seen: int | None = None
    room: int | None = None
    crew: str = ""
    after: Sequence[tuple[int, int]] = ()
    held_by: Sequence[int] = ()
    not_before: date | None = None
    remove: bool = False


class PlanRefused(Refused):
    """`faults`: (number of the line, field, message) for each line that can't be saved."""

    status = 422
    sentence = "The plan was not saved. Please look at what is marked below; all that you typed is still there."


@dataclass
class _Table:
    """The lines against what is kept, with the faults found so far."""

    actor: Actor
    now: int
    project: int
    lines: Sequence[Line]
    phases: dict[int, Phase]
    decisions: dict[int, int]  # ids by number
    rooms: set[int]
    faults: list[tuple[int, str, str]] = field(default_factory=list)
    ids: dict[int, int] = field(default_factory=dict)  # phase by number of the line

    def fault(self, line: Line, name: str, message: str) -> None:
        self.faults.append((line.number, name, message))

    @property
    def kept(self) -> list[Line]:
        return [line for line in self.lines if not line.remove]


@act("fill_plan")
def fill_plan(actor: Actor, project_id: int, lines: Sequence[Line], now: int) -> int:
    """Add, change and remove phases as the lines say; only what differs is written. Returns how many lines did.

    Phases that no line names stay as they are. Raises PlanRefused with a fault for each line that is wrong, or that
    was changed by someone else since it was read; then nothing is changed.
    """
    table = _read(actor, project_id, lines, now)
    for check in (_check_names, _check_places, _check_links):
        check(table)
    _refuse(table)
    in_order = sorted(lines, key=lambda line: not line.remove)  # a phase that goes leaves its name to others
    written = {line.number for line in in_order if _write(table, line)}
    _refuse(table)
    linked = {line.number for line in in_order if _link(table, line)}
    _refuse(table)
    _refuse_loops(table)
    keep_rest(actor, project_id, "plan_changed", _told(table, written | linked), now)
    return len(written | linked)


def _told(table: _Table, differing: set[int]) -> dict[str, list[str]]:
    """What became of the lines that differ, by the names of their phases."""
    told: dict[str, list[str]] = {"added": [], "changed": [], "removed": []}
    for line in table.lines:
        if line.number in differing:
            told["removed" if line.remove else "added" if line.phase is None else "changed"].append(line.name)
    return {did: names for did, names in told.items() if names}


def _read(actor: Actor, project_id: int, lines: Sequence[Line], now: int) -> _Table:
    phases = {row.id: row for row in plan_rows.phases(project_id)}
    rooms = {room.id for room in plan_rows.rooms(project_id)}
    table = _Table(actor, now, project_id, lines, phases, decision_rows.ids_by_number(project_id), rooms)
    for line in lines:
        if line.phase is not None:
            table.ids[line.number] = line.phase
            if line.phase not in phases:
                table.fault(line, "name", "This phase is no longer on the plan. Open the plan afresh.")
    return table


def _check_names(table: _Table) -> None:
    """Checked here and not by the store, whose refusal would end the transaction with the first fault."""
    first: set[str] = set()
    gone = {line.phase for line in table.lines if line.remove}
    before = {row.name: row.id for row in table.phases.values() if row.id not in gone}
    for line in table.kept:
        name = line.name.lower()
        if name in first:
            table.fault(line, "name", f"Another phase is called “{line.name}”, too. Give each its own name.")
        elif before.get(line.name, line.phase) != line.phase:
            table.fault(line, "name", "Another phase still has this name. Save its new name first, then this one.")
        first.add(name)


def _check_places(table: _Table) -> None:
    for line in table.kept:
        if line.room is not None and line.room not in table.rooms:
            table.fault(line, "room", "There is no such room in this project. Choose one that is.")
        for number in line.held_by:
            if number not in table.decisions:
                table.fault(line, "held_by", f"There is no decision {number}. Ask it first, or leave it out.")


def _check_links(table: _Table) -> None:
    kept = {line.number for line in table.kept}
    gone = {line.number: line.name for line in table.lines if line.remove}
    for line in table.kept:
        for other, _ in line.after:
            if other == line.number:
                table.fault(line, "after", "A phase can’t come after itself.")
            elif other in gone:
                table.fault(line, "after", f"“{gone[other]}” is taken off the plan. Choose another, or keep it.")
            elif other not in kept:
                table.fault(line, "after", f"There is no phase on line {other}.")
        named = [other for other, _ in line.after if other in kept]
        if len(set(named)) < len(named):
            table.fault(line, "after", "A phase is named twice here. Name it once, with the wait that counts.")


def _write(table: _Table, line: Line) -> bool:
    """The line's own columns; a fault of the store is noted with the line."""
    phase = None if line.phase is None else table.phases[line.phase]
    try:
        if phase is None:
            return False if line.remove else _add(table, line)
        return _remove(table, phase, line) if line.remove else _change(table, phase, line)
    except Stale as refusal:
        table.fault(line, "name", str(refusal))
    except FieldRefused as refusal:
        table.fault(line, "name", str(refusal.details["message"]))
    return False


def _add(table: _Table, line: Line) -> bool:
    phase = add_row(Phase, project=table.project, position=line.number, **_columns(line))
    table.ids[line.number] = phase.id
    return True


def _remove(table: _Table, phase: Phase, line: Line) -> bool:
    if phase.started_at is not None:
        raise FieldRefused("name", f"{phase.name} has been started and stays on the plan.")
    lift_from_removed(table.actor, table.project, phase, table.now)
    remove_row(Phase, phase.id, line.seen or 0)
    return True


def _change(table: _Table, phase: Phase, line: Line) -> bool:
    """Also a change of links or holds alone is one of the line, and must have seen its version."""
    columns = {name: value for name, value in _columns(line).items() if getattr(phase, _column(name)) != value}
    if not columns and not _links_differ(table, line):
        return False
    change_row(Phase, phase.id, line.seen or 0, columns)
    return True


def _columns(line: Line) -> dict[str, Any]:
    low, likely, high = line.work
    return {
        "name": line.name, "room": line.room, "crew": line.crew, "work_low": low, "work_likely": likely,
        "work_high": high, "not_before": line.not_before,
    }


def _column(name: str) -> str:
    return "room_id" if name == "room" else name


def _links_differ(table: _Table, line: Line) -> bool:
    assert line.phase is not None
    before = dict(plan_rows.links_of(line.phase))
    wanted = {table.ids.get(other): wait for other, wait in line.after}
    return before != wanted or set(plan_rows.held_by(line.phase)) != {table.decisions[n] for n in line.held_by}


def _link(table: _Table, line: Line) -> bool:
    """What the line follows and what holds it, once every line has its phase."""
    if line.remove:
        return False
    phase = table.ids[line.number]
    after = [(table.ids[other], wait) for other, wait in line.after]
    held = [table.decisions[number] for number in line.held_by]
    row = table.phases.get(phase) or in_project(Phase, table.project, phase)
    fault = changing_fault(row, held)
    if fault:
        table.fault(line, "held_by", fault)
        return False
    differs = dict(after) != dict(plan_rows.links_of(phase)) or set(held) != set(plan_rows.held_by(phase))
    if differs:
        plan_rows.set_links(phase, after)
        set_holds_of_phase(table.actor, table.project, row, held, "held_by", table.now)
    return differs


def _refuse_loops(table: _Table) -> None:
    names, links = plan_rows.network(table.project)
    try:
        check_loops(names, links)
    except LoopError as error:
        message = f"These phases would wait for each other: {' → '.join(error.names)}."
        for line in table.kept:
            if table.ids[line.number] in error.ids:
                table.fault(line, "after", message)
        _refuse(table)


def _refuse(table: _Table) -> None:
    if table.faults:
        raise PlanRefused(faults=list(_once_each(table.faults)))


def _once_each(faults: Sequence[tuple[int, str, str]]) -> Iterator[tuple[int, str, str]]:
    yield from dict.fromkeys(faults)
