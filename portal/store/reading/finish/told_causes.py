"""Why an entry of the record moved the finish: the kind of cause, whom or what it is about, and the reason as typed."""

from collections.abc import Mapping
from typing import Any

from portal.planning.moves.drivers import NOT_ANSWERED
from portal.planning.moves.replay import ANSWER, DELIVERY, PLAN, RELEASE, STOP, TIME, VISIT, WORK, Cause, Move

_KINDS = {
    **dict.fromkeys(("asked", "revised", "question_withdrawn", "question_changed", "asked_back", "answered",
                     "approvers_changed", "approved", "withdrawn", "hold_lifted"), ANSWER),
    **dict.fromkeys(("visit_booked", "visit_moved", "visit_cancelled", "visit_changed"), VISIT),
    **dict.fromkeys(("delivery_ordered", "delivery_changed", "delivery_removed", "delivery_arrived",
                     "arrival_taken_back"), DELIVERY),
    **dict.fromkeys(("started", "finished", "start_taken_back", "finish_taken_back"), WORK),
    **dict.fromkeys(("stopped", "resumed", "inspection_awaited", "stop_taken_back", "inspection_taken_back"), STOP),
    **dict.fromkeys(("released", "release_taken_back"), RELEASE),
}  # fmt: skip
"""Of all others: a change of the plan."""
UNDOES = {
    "start_taken_back": "started", "finish_taken_back": "finished", "stop_taken_back": "stopped",
    "inspection_taken_back": "inspection_awaited", "release_taken_back": "released",
    "arrival_taken_back": "delivery_arrived",
}
"""What is taken back by which kind of entry."""
REMAINING = "remaining_changed"
"""A `plan_changed` that says nothing but how much work is left of what is under way."""
NOT_ANSWERED_BY_US = "not_answered_by_us"
"""The household has asked back, and we owe them an answer before they owe one."""
NOT_ASKED_AGAIN = "not_asked_again"
"""We have withdrawn a question that work still waits for, and not asked it anew: nobody can answer it."""
DELIVERY_MOVED = "delivery_moved"
"""A `delivery_changed` that changes when it is expected."""
UNTOLD = Cause(TIME, "untold")
"""The rows stand otherwise than the record tells, so nothing says why."""


def cause_of(kind: str, body: Mapping[str, Any], rows: Mapping[str, Mapping[str, Any]]) -> Cause:
    """`rows`: what the entry tells of the plan (`told_plan.of_the_plan`)."""
    reason = str(body.get("reason") or body.get("because") or "")
    if kind == "plan_changed" and rows.keys() == {"phase"} and all(
        said is not None and said.keys() == {"remaining"} for said in rows["phase"].values()
    ):
        return Cause(WORK, REMAINING, _about(body), reason)
    if kind == "delivery_changed" and any("expected_on" in (said or ()) for said in rows.get("delivery", {}).values()):
        return Cause(DELIVERY, DELIVERY_MOVED, _about(body), reason)
    return Cause(_KINDS.get(kind, PLAN), kind, _about(body), reason)


def is_undone(move: Move, by: Move) -> bool:
    """Whether the one move takes the other back, which was the last before it, on the same day."""
    same = UNDOES.get(by.cause.did) == move.cause.did and by.cause.about == move.cause.about
    return same and (move.day, move.before, move.after) == (by.day, by.after, by.before)


def whose_delay(cause: Cause, told: Mapping[str, Mapping[str, Any]]) -> Cause:
    """While we owe the household an answer, or the question itself, what waits for theirs waits for ours. `told`: the
    rows of that time."""
    if cause.did != NOT_ANSWERED:
        return cause
    asked, gone = told.get("decision", {}), told.get("question_withdrawal", {}).values()
    withdrawn = {(f"{row['decision_id']}", row["revision"]) for row in gone}
    ours = {
        NOT_ASKED_AGAIN: {f"{row['number']}" for key, row in asked.items() if (key, row["revision"]) in withdrawn},
        NOT_ANSWERED_BY_US: {f"{row['number']}" for row in asked.values() if row["state"] == "asked_back"},
    }
    why = next((did for did, numbers in ours.items() if numbers.issuperset(cause.about)), None)
    return Cause(ANSWER, why, cause.about) if why else cause


def _about(body: Mapping[str, Any]) -> tuple[str, ...]:
    """By the names of the record: the number of a decision, an item, a crew, phases."""
    if "decision" in body:
        return (f"{body['decision']}",)
    for name in ("item", "crew", "name"):
        if body.get(name):
            return (f"{body[name]}",)
    listed = (body.get(name) for name in ("added", "changed", "removed", "held"))
    return tuple(f"{one}" for names in listed if isinstance(names, list) for one in names)
