"""A phase with its links, holds and work as one plain value, for one or for a whole page of them."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from portal.store.tables import Phase, PhaseHold, PhaseLink


@dataclass(frozen=True, slots=True)
class Follows:
    phase: int
    wait: int


@dataclass(frozen=True, slots=True)
class Work:
    low: int
    likely: int
    high: int


@dataclass(frozen=True, slots=True)
class PhaseView:
    id: int
    version: int
    name: str
    room: int | None
    crew: str
    position: int
    work_hours: int
    work: Work
    after: list[Follows]
    not_before: date | None
    held_by: list[int]
    note: str
    takes: list[object]
    remaining: int | None
    state: str
    started_at: int | None
    finished_at: int | None
    inspection_at: int | None
    stopped_at: int | None
    resumes_at: int | None
    stopped_reason: str


def phase_view(phase: Phase) -> PhaseView:
    return phase_views(phase.project_id, [phase])[0]


def phase_views(project_id: int, phases: Sequence[Phase]) -> list[PhaseView]:
    """One query for the links of all, one for the holds of all."""
    ids = [phase.id for phase in phases]
    after: dict[int, list[Follows]] = defaultdict(list)
    for link in PhaseLink.select().where(PhaseLink.phase.in_(ids)).order_by(PhaseLink.id):
        after[link.phase_id].append(Follows(link.after_id, link.wait))
    held_by: dict[int, list[int]] = defaultdict(list)
    for hold in PhaseHold.select().where(PhaseHold.phase.in_(ids)).order_by(PhaseHold.id):
        held_by[hold.phase_id].append(hold.decision_id)
    return [_view(phase, after[phase.id], held_by[phase.id]) for phase in phases]


def _view(phase: Phase, after: list[Follows], held_by: list[int]) -> PhaseView:
    return PhaseView(
        id=phase.id, version=phase.version, name=phase.name, room=phase.room_id, crew=phase.crew,
        position=phase.position, work_hours=phase.work_likely,
        work=Work(phase.work_low, phase.work_likely, phase.work_high), after=after, not_before=phase.not_before,
        held_by=held_by, note=phase.note, takes=phase.takes, remaining=phase.remaining, state=phase.state,
        started_at=phase.started_at, finished_at=phase.finished_at, inspection_at=phase.inspection_at,
        stopped_at=phase.stopped_at, resumes_at=phase.resumes_at, stopped_reason=phase.stopped_reason,
    )
