"""The plan: phases, what they follow, how long they wait, and what holds them."""

from typing import Any

from portal.acts.actor import Actor, act, known_values
from portal.acts.decisions.holds import lift_from_removed, set_holds_of_phase
from portal.acts.entries import keep_rest
from portal.acts.plan.takes import keeping_takes, refuse_missing
from portal.planning.schedule.network import LoopError, check_loops
from portal.store.refusals import FieldRefused
from portal.store.rows import plan_rows
from portal.store.rows.editable import add_row, change_row, in_project, remove_row
from portal.store.tables import Decision, Phase, Room

_COLUMNS = (
    "name", "room", "crew", "position", "work_low", "work_likely", "work_high", "not_before", "note", "takes",
    "remaining",
)


@act("add_phase")
def add_phase(actor: Actor, project_id: int, values: dict[str, Any], now: int) -> Phase:
    """`values` has the phase's columns, and perhaps `after` ([{phase, wait}]) and `held_by` ([decision id])."""
    _check_room(project_id, values)
    values.setdefault("position", plan_rows.next_position(project_id))
    phase = add_row(Phase, project=project_id, **known_values(values, *_COLUMNS))
    _link(actor, project_id, phase, values, now)
    refuse_missing(project_id, phase)
    keep_rest(actor, project_id, "plan_changed", {"added": [phase.name]}, now)
    return phase


@act("add_phase_after")
def add_phase_after(actor: Actor, project_id: int, before_id: int, values: dict[str, Any], now: int) -> Phase:
    """As `add_phase`, at the place in the plan behind another phase; those behind that one move on by one."""
    before = in_project(Phase, project_id, before_id)
    place = plan_rows.make_place(before)
    return add_phase(actor, project_id, values | {"position": place}, now)


@act("change_phase")
def change_phase(
    actor: Actor, project_id: int, phase_id: int, seen: int, values: dict[str, Any], now: int
) -> Phase:
    in_project(Phase, project_id, phase_id)
    _check_room(project_id, values)
    phase = change_row(Phase, phase_id, seen, known_values(values, *_COLUMNS))
    _link(actor, project_id, phase, values, now)
    if {"takes", "room"} & values.keys():
        refuse_missing(project_id, phase)
    keep_rest(actor, project_id, "plan_changed", {"changed": [phase.name]}, now)
    return phase


@act("remove_phase")
def remove_phase(actor: Actor, project_id: int, phase_id: int, seen: int, now: int) -> None:
    """A phase that was started is history and stays."""
    phase = in_project(Phase, project_id, phase_id)
    if phase.started_at is not None:
        raise FieldRefused("id", f"{phase.name} has been started and stays on the plan.")
    lift_from_removed(actor, project_id, phase, now)
    with keeping_takes(project_id, "id"):
        remove_row(Phase, phase_id, seen)
    keep_rest(actor, project_id, "plan_changed", {"removed": [phase.name]}, now)


def _check_room(project_id: int, values: dict[str, Any]) -> None:
    if values.get("room") is not None:
        in_project(Room, project_id, values["room"], field="room")


def _link(actor: Actor, project_id: int, phase: Phase, values: dict[str, Any], now: int) -> None:
    if "after" in values:
        for link in values["after"]:
            in_project(Phase, project_id, link["phase"], field="after")
        if len({link["phase"] for link in values["after"]}) < len(values["after"]):
            raise FieldRefused("after", "A phase is named twice here. Name it once, with the wait that counts.")
        plan_rows.set_links(phase.id, [(link["phase"], link["wait"]) for link in values["after"]])
        _refuse_loops(project_id, phase, [link["phase"] for link in values["after"]])
    if "held_by" in values:
        for decision in values["held_by"]:
            in_project(Decision, project_id, decision, field="held_by")
        set_holds_of_phase(actor, project_id, phase, values["held_by"], "held_by", now)


def _refuse_loops(project_id: int, phase: Phase, after: list[int]) -> None:
    """Of several that the phase comes after, the one that closes the loop is named."""
    names, links = plan_rows.network(project_id)
    try:
        check_loops(names, links)
    except LoopError as error:
        before = dict(zip(error.names[1:], error.names[:-1], strict=True)).get(phase.name)
        field = next((f"after.{at}.phase" for at, one in enumerate(after) if names[one] == before), "after")
        raise FieldRefused(field, f"These phases would wait for each other: {' → '.join(error.names)}.") from error
