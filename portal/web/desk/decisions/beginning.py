"""How the form with drawings begins: with what the plan wants asked, and with what was measured when the like was
asked before."""

from dataclasses import dataclass, field
from typing import Any

from portal.layouts.kept_checks import dimensions_in
from portal.store.refusals import NotFound
from portal.store.rows import decision_rows, planned_rows
from portal.store.tables import PlannedQuestion

Texts = dict[str, list[str]]


@dataclass(frozen=True, slots=True)
class Beginning:
    """`planned`: the plan's question that is asked, None for one that nobody planned. `texts`: what stands in the
    inputs of the question; `dimensions`: as they were sent before, None where the like was never asked."""

    planned: PlannedQuestion | None = None
    texts: Texts = field(default_factory=lambda: {"lead_days": ["1"], "approvers": ["any"]})
    dimensions: dict[str, Any] | None = None


def beginning_of(project_id: int, kind: str, planned_id: str, *, sent: bool) -> Beginning:
    """`planned_id`: the id of the plan's question as the address names it, empty for none. `sent`: the form comes back,
    perhaps twice, so that the question may be settled by now. Raises NotFound."""
    if not planned_id:
        return Beginning()
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
