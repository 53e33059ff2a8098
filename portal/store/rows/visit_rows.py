"""Visits that no page shows any more, but calendars must be told of."""

from portal.store.engine.database import execute
from portal.store.facts import VisitFact

_CANCELLED = """SELECT id, phase_id, crew, purpose, starts_at, ends_at, version, changed_at FROM visit
    WHERE project_id = ? AND cancelled_at IS NOT NULL ORDER BY starts_at, id"""


def cancelled(project_id: int) -> list[VisitFact]:
    return [VisitFact(*row) for row in execute(_CANCELLED, project_id).fetchall()]
