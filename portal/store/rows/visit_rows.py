"""Visits of a project: all of them, and those that no page shows any more, but calendars must be told of."""

from portal.store.engine.named_rows import rows
from portal.store.facts import VisitFact
from portal.store.tables import Visit, VisitAnswer

_CANCELLED = """SELECT id, phase_id, crew, purpose, starts_at, ends_at, version, changed_at FROM visit
    WHERE project_id = ? AND cancelled_at IS NOT NULL ORDER BY starts_at, id"""


def cancelled(project_id: int) -> list[VisitFact]:
    return [VisitFact(**row) for row in rows(_CANCELLED, project_id)]


def of_project(project_id: int) -> list[Visit]:
    """Past and cancelled ones, too, in the order in which they were booked."""
    return list(Visit.select().where(Visit.project == project_id).order_by(Visit.id))


def answers_standing(visit: Visit) -> list[VisitAnswer]:
    """The last one of each person about the visit as it is booked now."""
    same = (VisitAnswer.starts_at == visit.starts_at) & (VisitAnswer.ends_at == visit.ends_at)
    found = VisitAnswer.select().where((VisitAnswer.visit == visit.id) & same).order_by(VisitAnswer.id)
    return list({one.person_id: one for one in found}.values())
