"""What a plan to start from wants asked: asked of the household, or dropped. Either way, the work that it holds is not
free unseen: the decision holds it from then on, or the record says who let it go, and why."""

from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.decisions.asking import ask_decision
from portal.acts.entries import keep
from portal.acts.written import reason_given
from portal.store.refusals import FieldRefused
from portal.store.rows import plan_rows, planned_rows
from portal.store.tables import Decision, Phase, PlannedQuestion
from portal.words.lists import quoted


@act("ask_planned")
def ask_planned(actor: Actor, project_id: int, question_id: int, values: dict[str, Any], now: int) -> Decision:
    """Ask the household what the plan wanted asked, as it is or changed. Of `values`, kind, room and holds that are
    left out are the plan's; it is of that kind and room, and holds no less."""
    planned = planned_rows.question(project_id, question_id)
    room = planned.room_id if values.get("room") is None else values["room"]
    values = {"kind": planned.kind, "holds": _on_plan(planned), **values, "room": room}
    _refuse_another(planned, values)
    return ask_decision(actor, project_id, values, now, planned)


@act("drop_question")
def drop_question(actor: Actor, project_id: int, question_id: int, now: int, *, reason: str = "") -> None:
    """It needs no asking in this house, and what it holds may start without it. Where that has not begun, this needs a
    reason."""
    planned = planned_rows.question(project_id, question_id)
    waiting = held_by_planned(planned)
    if waiting or reason.strip():
        reason = reason_given("reason", reason, "Say why nobody is asked; it goes on the record.")
    planned_rows.settle(planned, dropped_at=now)
    body = {"question": planned.question, "reason": reason.strip(), "held": [phase.name for phase in waiting]}
    keep(actor, project_id, "planned_question_dropped", body, now)


def held_by_planned(planned: PlannedQuestion) -> list[Phase]:
    """The phases that can't start while it is neither asked nor dropped."""
    return [phase for phase in plan_rows.phases_with(planned.holds) if phase.started_at is None]


def _on_plan(planned: PlannedQuestion) -> list[int]:
    """Phases that it holds; one that was taken off the plan since is held by nothing."""
    there = {phase.id for phase in plan_rows.phases_with(planned.holds)}
    return [phase for phase in planned.holds if phase in there]


def _refuse_another(planned: PlannedQuestion, values: dict[str, Any]) -> None:
    if values["kind"] != planned.kind:
        raise FieldRefused("kind", "The plan wants another kind of thing asked. Leave the kind as it is.")
    if planned.room_id is not None and values["room"] != planned.room_id:
        raise FieldRefused("room", "The plan wants this asked of another room. Leave the room as it is.")
    missing = [phase.name for phase in held_by_planned(planned) if phase.id not in values["holds"]]
    if missing:
        raise FieldRefused(
            "holds",
            f"The plan holds {quoted(missing)} until this is approved. Let the question hold that, too; if it may "
            "start all the same, release it afterwards, with a reason.",
        )
