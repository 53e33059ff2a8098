"""How the forms that ask begin: with what the plan wants asked, with the phase that waits for it, and with what was
measured when the like was asked before."""

from dataclasses import dataclass, field
from typing import Any

from portal.layouts.kept_checks import dimensions_in
from portal.store.facts import DecisionFact, Snapshot
from portal.store.refusals import NotFound
from portal.store.rows import decision_rows, planned_rows
from portal.store.tables import PlannedQuestion
from portal.words.drawn.usual_questions import USUAL_QUESTIONS

Texts = dict[str, list[str]]


@dataclass(frozen=True, slots=True)
class Beginning:
    """`planned`: the plan's question that is asked, None for one that nobody planned. `texts`: what stands in the
    inputs of the question; `dimensions`: as they were sent before, None where the like was never asked."""

    planned: PlannedQuestion | None = None
    texts: Texts = field(default_factory=dict)
    dimensions: dict[str, Any] | None = None


def waiting_for(snapshot: Snapshot, phase_id: str) -> dict[str, Any]:
    """What a question begins with that is asked from a phase, whose id the address names: its room, and, unless it has
    begun, that it waits. A phase that there isn't changes nothing: nobody has typed it."""
    start: dict[str, Any] = {"lead_days": 1, "approvers": "any"}
    phase = next((one for one in snapshot.phases if str(one.id) == phase_id), None)
    if phase is None:
        return start
    return start | {"room": phase.room_id, "holds": [] if phase.started_at else [phase.id]}


def asked_already(snapshot: Snapshot, kind: str, room: str) -> list[DecisionFact]:
    """The questions of this kind that stand, open or answered, of the same room; of each where it is not known yet
    which (empty)."""
    return [one for one in snapshot.decisions if one.kind == kind and one.withdrawn is None
            and room in ("", str(one.room_id or ""))]


def beginning_of(snapshot: Snapshot, kind: str, planned_id: str, phase_id: str, *, sent: bool) -> Beginning:
    """`planned_id`, `phase_id`: those of the plan's question and of the phase as the address names them, empty for
    none. `sent`: the form comes back, perhaps twice, so that the question may be settled by now. Raises NotFound."""
    project_id = snapshot.project.id
    if not planned_id:
        start = {"question": USUAL_QUESTIONS.get(kind), **waiting_for(snapshot, phase_id)}
        return Beginning(texts={name: _texts(value) for name, value in start.items()})
    number = int(planned_id) if planned_id.isdecimal() and len(planned_id) < 10 else 0
    row = planned_rows.question_ever(project_id, number) if sent else planned_rows.question(project_id, number)
    if row.kind != kind:
        raise NotFound(what="planned question of this kind")
    texts = {
        "question": [row.question], "room": [] if row.room_id is None else [str(row.room_id)],
        "holds": [str(phase) for phase in row.holds], "lead_days": [str(row.lead_days)], "approvers": ["any"],
    }  # fmt: skip
    details = decision_rows.details_asked(project_id, kind, row.room_id)
    known = (dimensions_in(detail) for detail in details)
    return Beginning(row, texts, next((one for one in known if one), None))


def _texts(value: Any) -> list[str]:
    return [str(one) for one in (value if isinstance(value, list) else [value]) if one is not None]
