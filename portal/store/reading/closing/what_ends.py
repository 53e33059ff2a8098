"""What ends with a house that is closed, and why one that was set up can't be removed again."""

from dataclasses import dataclass

from portal.store.engine.named_rows import first_value
from portal.store.rows import decision_rows, handover_rows, plan_rows, planned_rows
from portal.store.tables import Decision, Delivery, Phase, PlannedOrder, PlannedQuestion, Visit


@dataclass(frozen=True, slots=True)
class Ending:
    """`unfinished`: phases that would never be; the rest waits for nothing once the house is closed. What the plan
    wants asked or ordered for unfinished work stays: it holds that, should the house be opened again."""

    unfinished: list[Phase]
    questions: list[Decision]
    planned: list[PlannedQuestion]
    orders: list[PlannedOrder]
    deliveries: list[Delivery]
    visits: list[Visit]


def what_ends(project_id: int, now: int) -> Ending:
    """Questions that nobody can answer any more are closed by the work already, and stay as they are."""
    waiting = [
        one for one in decision_rows.open_decisions(project_id)
        if not plan_rows.begun_with(one.id) and decision_rows.question_withdrawal(one.id) is None
    ]
    on_order = (Delivery.project == project_id) & Delivery.arrived_at.is_null()
    to_come = (Visit.project == project_id) & (Visit.ends_at > now) & Visit.cancelled_at.is_null()
    unfinished = handover_rows.unfinished(project_id)
    left = {phase.id for phase in unfinished}
    return Ending(
        unfinished, waiting, [one for one in planned_rows.questions(project_id) if not left & {*one.holds}],
        [one for one in planned_rows.orders(project_id) if not left & {*one.phases}],
        list(Delivery.select().where(on_order).order_by(Delivery.id)),
        list(Visit.select().where(to_come).order_by(Visit.starts_at)),
    )


_STAYS = (
    ("something was approved there",
     "SELECT COUNT(*) FROM approval a JOIN decision d ON d.id = a.decision_id WHERE d.project_id = ?"),
    ("the household asked something there",
     "SELECT COUNT(*) FROM question_back q JOIN decision d ON d.id = q.decision_id WHERE d.project_id = ?"),
    ("the household told us something there", "SELECT COUNT(*) FROM message WHERE project_id = ?"),
    ("work was handed over there", "SELECT COUNT(*) FROM handover WHERE project_id = ?"),
    ("work has begun there", "SELECT COUNT(*) FROM phase WHERE project_id = ? AND started_at IS NOT NULL"),
    ("somebody of the household got a link",
     "SELECT COUNT(*) FROM link l JOIN person p ON p.id = l.person_id WHERE p.project_id = ?"),
)


def reason_to_stay(project_id: int) -> str:
    """Empty for a house that nobody outside the firm has seen and in which nothing happened."""
    return next((words for words, many in _STAYS if first_value(many, project_id)), "")
