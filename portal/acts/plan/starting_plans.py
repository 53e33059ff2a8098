"""Starting from a plan, or from an earlier project: its phases, waits, takes and holds become the project's own.

Its questions and orders do not go out by themselves: they wait until someone asks and orders them. Until then a phase
that such a question holds does not start.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.entries import keep_rest
from portal.acts.visiting.deliveries import order_delivery
from portal.planning.household.services import Service, read_services, service_json, take_json
from portal.planning.starting_plans.plans import (
    WHOLE_HOUSE,
    PartLink,
    PlanPart,
    StartingPhase,
    StartingPlan,
    StartingPlanError,
    StartingRoom,
    combine,
    take_with_ids,
)
from portal.store.reading.plans_to_start_from import earlier_plan
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows import plan_rows, planned_rows
from portal.store.rows.editable import add_row, change_row
from portal.store.tables import Delivery, Phase, PlannedOrder, PlannedQuestion, Room

Ids = Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Chosen:
    """A plan under its name; `names`: what its rooms are called in this house, by their keys."""

    key: str
    plan: StartingPlan
    names: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class LaidOut:
    """Ids of what was added, in the order of the plan. `rooms` also has those that were there already."""

    rooms: list[int]
    phases: list[int]
    questions: list[int]
    orders: list[int]


@act("start_from_plan")
def start_from_plan(
    actor: Actor, project_id: int, chosen: Sequence[Chosen], links: Iterable[PartLink] = (), *, now: int
) -> LaidOut:
    """Add the phases of one or more plans. `links` join phases of one to those of another, as `plan.phase`; a plan that
    is chosen twice is `plan` and `plan_2`."""
    if not chosen:
        raise FieldRefused("plans", "Choose at least one plan to start from.")
    parts = [PlanPart(prefix, one.plan, one.names) for prefix, one in _prefixed(chosen)]
    try:
        plan = combine(parts, links)
    except StartingPlanError as error:
        raise FieldRefused("plans", f"These plans don’t fit together: {error}.") from error
    keys = {prefix: one.key for prefix, one in _prefixed(chosen)}
    return _lay_out(actor, project_id, plan, keys, now)


@act("start_from_project")
def start_from_project(actor: Actor, project_id: int, earlier: int, now: int) -> LaidOut:
    """Add the phases of another project, as they were planned there: not what happened to it."""
    if earlier == project_id or not actor.may_see(earlier):
        raise FieldRefused("project", "Choose an earlier project, another one than this.")
    try:
        plan = earlier_plan(read_snapshot(earlier), planned_rows.questions(earlier), planned_rows.orders(earlier))
    except NotFound as error:
        raise FieldRefused("project", f"There is no project {earlier}. Choose one that is.") from error
    except StartingPlanError as error:
        raise FieldRefused("project", f"The plan of that project can’t be used: {error}. Correct it there.") from error
    if not plan.phases:
        raise FieldRefused("project", f"{plan.title} has no plan. Choose a project that has one.")
    made_from = {f"p{phase}": starter for phase, starter in plan_rows.made_from(earlier).items()}
    return _lay_out(actor, project_id, plan, made_from, now)


@act("order_planned")
def order_planned(actor: Actor, project_id: int, order_id: int, values: dict[str, Any], now: int) -> Delivery:
    order = planned_rows.order(project_id, order_id)
    return order_delivery(actor, project_id, values, now, order)


@act("drop_order")
def drop_order(actor: Actor, project_id: int, order_id: int, now: int) -> None:
    order = planned_rows.order(project_id, order_id)
    planned_rows.settle(order, dropped_at=now)
    keep_rest(actor, project_id, "order_dropped", {"item": order.item}, now)


def _prefixed(chosen: Sequence[Chosen]) -> list[tuple[str, Chosen]]:
    before: dict[str, int] = {}
    found = []
    for one in chosen:
        before[one.key] = times = before.get(one.key, 0) + 1
        found.append((one.key if times == 1 else f"{one.key}_{times}", one))
    return found


def _lay_out(actor: Actor, project_id: int, plan: StartingPlan, keys: Mapping[str, str], now: int) -> LaidOut:
    rooms = _rooms(project_id, plan.rooms)
    phases = _phases(project_id, plan, rooms, keys)
    _link(plan, rooms, phases)
    questions = [
        add_row(
            PlannedQuestion, project=project_id, room=rooms.get(one.room), kind=one.kind, question=one.question,
            options=[dict(option) for option in one.options], lead_days=one.lead_days,
            holds=[phases[phase.key] for phase in plan.phases if one.key in phase.held_by],
        ).id
        for one in plan.decisions
    ]
    orders = [
        add_row(PlannedOrder, project=project_id, item=one.item, phases=[phases[key] for key in one.phases]).id
        for one in plan.deliveries
    ]
    keep_rest(actor, project_id, "plan_changed", {"added": [phase.name for phase in plan.phases]}, now)
    return LaidOut(list(rooms.values()), list(phases.values()), questions, orders)


def _rooms(project_id: int, wanted: Iterable[StartingRoom]) -> dict[str, int]:
    """Rooms by key; one that the house has under this name gets the services that it lacks."""
    there = {room.name.casefold(): room for room in plan_rows.rooms(project_id)}
    found = {}
    for room in wanted:
        known = there.get(room.name.casefold())
        if known is None:
            services = [service_json(service) for service in room.services]
            known = add_row(Room, project=project_id, name=room.name, position=len(there), services=services)
            there[room.name.casefold()] = known
        else:
            _add_services(known, room.services)
        found[room.key] = known.id
    return found


def _add_services(room: Room, wanted: Iterable[Service]) -> None:
    """A service that the room has under a name of its own is the one that is meant."""
    has = {service.service for service in read_services(room.services)}
    missing = [service_json(service) for service in wanted if service.service not in has]
    if missing:
        change_row(Room, room.id, room.version, {"services": [*room.services, *missing]})


def _phases(project_id: int, plan: StartingPlan, rooms: Ids, keys: Mapping[str, str]) -> dict[str, int]:
    names, _ = plan_rows.network(project_id)
    taken = set(names.values())
    titles = {room.key: room.name for room in plan.rooms}
    first = plan_rows.next_position(project_id)
    found = {}
    for at, phase in enumerate(plan.phases, first):
        name = _free(phase, titles.get(phase.room, ""), taken)
        taken.add(name)
        found[phase.key] = add_row(
            Phase, project=project_id, room=rooms.get(phase.room), name=name, crew=phase.crew, position=at,
            work_low=phase.low, work_likely=phase.likely, work_high=phase.high, note=phase.note,
            starter=_starter(phase.key, keys),
        ).id
    return found


def _free(phase: StartingPhase, room: str, taken: set[str]) -> str:
    """Its name, with the room or a number behind it where another phase has that name already."""
    tries = [phase.name, *([f"{phase.name} ({room})"] if room else [])]
    found = next((name for name in tries if name not in taken), None)
    number = 2
    while found is None:
        name = f"{tries[-1]} {number}"
        found = name if name not in taken else None
        number += 1
    return found


def _starter(key: str, keys: Mapping[str, str]) -> str:
    """`bath.tile` of `bath_2.tile`; of a phase of an earlier project what that one was made from, so that hours which
    only a label knows, and which nobody entered there, are asked for here."""
    if key in keys:
        return keys[key]
    prefix, _, phase = key.partition(".")
    return f"{keys[prefix]}.{phase}" if prefix in keys else ""


def _link(plan: StartingPlan, rooms: Ids, phases: Ids) -> None:
    places = {key: room for key, room in rooms.items() if key != WHOLE_HOUSE}
    for phase in plan.phases:
        if phase.after:
            plan_rows.set_links(phases[phase.key], [(phases[key], wait) for key, wait in phase.after])
        if phase.takes:
            takes = [take_json(take_with_ids(one, places, phases)) for one in phase.takes]
            plan_rows.set_takes(phases[phase.key], takes)
