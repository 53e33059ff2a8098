"""What a plan to start from still wants asked or ordered."""

from typing import Any, TypeVar

from portal.store.refusals import NotFound
from portal.store.tables import PlannedOrder, PlannedQuestion

Planned = TypeVar("Planned", PlannedQuestion, PlannedOrder)


def questions(project_id: int) -> list[PlannedQuestion]:
    """Those that were neither asked nor dropped."""
    return list(_open(PlannedQuestion, project_id, PlannedQuestion.decision))


def orders(project_id: int) -> list[PlannedOrder]:
    return list(_open(PlannedOrder, project_id, PlannedOrder.delivery))


def question(project_id: int, question_id: int) -> PlannedQuestion:
    return _one(questions(project_id), question_id, "planned question")


def question_ever(project_id: int, question_id: int) -> PlannedQuestion:
    """The question, also where it was asked or dropped meanwhile. Raises NotFound."""
    every = PlannedQuestion.select().where(PlannedQuestion.project == project_id)
    return _one(list(every), question_id, "planned question")


def settled_by(decision_id: int) -> PlannedQuestion | None:
    """The question of a plan that this decision has asked."""
    return PlannedQuestion.get_or_none(PlannedQuestion.decision == decision_id)


def order(project_id: int, order_id: int) -> PlannedOrder:
    return _one(orders(project_id), order_id, "planned order")


def holding(project_id: int, phase_id: int) -> list[PlannedQuestion]:
    """Questions that the phase may not start before."""
    return [one for one in questions(project_id) if phase_id in one.holds]


def settle(row: PlannedQuestion | PlannedOrder, **values: Any) -> None:
    """It was asked, ordered or dropped."""
    table = type(row)
    table.update(values).where(table.id == row.id).execute()


def _open(table: Any, project_id: int, done: Any) -> Any:
    return table.select().where((table.project == project_id) & done.is_null() & table.dropped_at.is_null()).order_by(
        table.id
    )


def _one(rows: list[Planned], row_id: int, what: str) -> Planned:
    found = next((row for row in rows if row.id == row_id), None)
    if found is None:
        raise NotFound(what=what)
    return found
