"""Plans to start from: typical phases, waits, holds, questions and what the household does without, as plain values.

Everything names its kind by key. Plans are combined room by room, and then made into the phases of a project.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from portal.planning.household.services import FIXTURES, Service, Take, takes_from
from portal.planning.schedule.network import LoopError, check_loops

WHOLE_HOUSE = "house"
"""Where a room's key is expected: the whole house."""


class StartingPlanError(ValueError):
    """A plan to start from that contradicts itself. `path`: where, e.g. ("phases", 2, "after")."""

    def __init__(self, path: tuple[str | int, ...], message: str) -> None:
        super().__init__(f"{path_text(path)}: {message}" if path else message)
        self.path = path
        self.message = message


@dataclass(frozen=True, slots=True)
class StartingRoom:
    """A room, and what the household uses in it."""

    key: str
    name: str
    services: tuple[Service, ...] = ()


@dataclass(frozen=True, slots=True)
class StartingTake:
    """A take whose places are keys. `room`: "" is the phase's own, WHOLE_HOUSE the whole house."""

    take: Take
    room: str = ""
    back_with: str = ""


@dataclass(frozen=True, slots=True)
class StartingPhase:
    """A phase to begin with. `low`, `likely`, `high`: work minutes. `after`: keys with their waits in clock minutes.
    `rests`: those of `after` whose wait is only on a label, with the key of the cure; until it is entered it is 0.
    `room`: key or WHOLE_HOUSE."""

    key: str
    name: str
    low: int
    likely: int
    high: int
    room: str = WHOLE_HOUSE
    crew: str = ""
    after: tuple[tuple[str, int], ...] = ()
    rests: tuple[tuple[str, str], ...] = ()
    held_by: tuple[str, ...] = ()
    takes: tuple[StartingTake, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class StartingDecision:
    """A question to ask. `lead_days`: working days from the answer to the work that it holds. `options` in the form of
    the API. `room`: key or WHOLE_HOUSE."""

    key: str
    kind: str
    question: str
    lead_days: int
    options: tuple[Mapping[str, Any], ...]
    room: str = WHOLE_HOUSE


@dataclass(frozen=True, slots=True)
class StartingDelivery:
    """An item to order, and the phases that wait for it. When it comes is for the project to say."""

    item: str
    phases: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StartingPlan:
    """A whole plan to start from. `source`: where its times come from, e.g. "common practice". Checked when made:
    raises StartingPlanError."""

    title: str
    about: str
    source: str
    rooms: tuple[StartingRoom, ...]
    phases: tuple[StartingPhase, ...]
    decisions: tuple[StartingDecision, ...] = ()
    deliveries: tuple[StartingDelivery, ...] = ()

    def __post_init__(self) -> None:
        _check_keys("rooms", [room.key for room in self.rooms])
        _check_keys("phases", [phase.key for phase in self.phases])
        _check_keys("decisions", [decision.key for decision in self.decisions])
        _check_phases(self)
        rooms = {WHOLE_HOUSE, *(room.key for room in self.rooms)}
        phases = {phase.key for phase in self.phases}
        for at, decision in enumerate(self.decisions):
            _check_one(("decisions", at, "room"), decision.room, rooms, "room")
        for at, delivery in enumerate(self.deliveries):
            for key in delivery.phases:
                _check_one(("deliveries", at, "phases"), key, phases, "phase")
        _check_order(self)


@dataclass(frozen=True, slots=True)
class PlanPart:
    """A plan as one part of a job. `prefix` sets its keys apart; `names`: what its rooms are called in this house."""

    prefix: str
    plan: StartingPlan
    names: Mapping[str, str] | None = None


@dataclass(frozen=True, slots=True)
class PartLink:
    """A phase of one part follows one of another: both as `prefix.key`. `wait`: clock minutes."""

    phase: str
    after: str
    wait: int = 0


def combine(parts: Sequence[PlanPart], links: Iterable[PartLink] = (), title: str = "") -> StartingPlan:
    """Make one plan of several. Keys become `prefix.key`; rooms of the same name are one room, with the services of
    all.

    Raises StartingPlanError: the same prefix twice, an unknown phase in a link, a loop.
    """
    _check_keys("parts", [part.prefix for part in parts])
    rooms, place = _rooms(parts)
    phases = [_placed(part.prefix, phase, place) for part in parts for phase in part.plan.phases]
    by_key = {phase.key: phase for phase in phases}
    for at, link in enumerate(links):
        for key in (link.phase, link.after):
            _check_one(("links", at), key, set(by_key), "phase")
        phase = by_key[link.phase]
        by_key[link.phase] = replace(phase, after=(*phase.after, (link.after, link.wait)))
    return StartingPlan(
        title or ", ".join(part.plan.title for part in parts),
        " ".join(part.plan.about for part in parts),
        "; ".join(dict.fromkeys(part.plan.source for part in parts)),
        rooms, tuple(by_key.values()),
        tuple(
            replace(one, key=f"{part.prefix}.{one.key}", room=place[part.prefix, one.room])
            for part in parts for one in part.plan.decisions
        ),
        tuple(
            replace(one, phases=tuple(f"{part.prefix}.{key}" for key in one.phases))
            for part in parts for one in part.plan.deliveries
        ),
    )


def take_with_ids(starting: StartingTake, rooms: Mapping[str, int], phases: Mapping[str, int]) -> Take:
    """Give the take with the ids that rooms and phases got in a project, both by key. Raises KeyError for a key not
    there."""
    return replace(
        starting.take,
        room=rooms[starting.room] if starting.room not in ("", WHOLE_HOUSE) else None,
        house=starting.room == WHOLE_HOUSE,
        back_with=phases[starting.back_with] if starting.back_with else None,
    )


def path_text(path: Iterable[str | int]) -> str:
    """Write a path as a field is named: `phases[2].after` of ("phases", 2, "after")."""
    text = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in path)
    return text.removeprefix(".")


def _rooms(parts: Sequence[PlanPart]) -> tuple[tuple[StartingRoom, ...], dict[tuple[str, str], str]]:
    """All rooms, and by part and key of a room the key of the room that it became."""
    place: dict[tuple[str, str], str] = {}
    by_name: dict[str, StartingRoom] = {}
    for part in parts:
        place[part.prefix, ""], place[part.prefix, WHOLE_HOUSE] = "", WHOLE_HOUSE
        for room in part.plan.rooms:
            name = (part.names or {}).get(room.key, room.name)
            known = by_name.get(name) or StartingRoom(f"{part.prefix}.{room.key}", name)
            services = dict.fromkeys((*known.services, *room.services))
            by_name[name] = replace(known, services=tuple(services))
            place[part.prefix, room.key] = known.key
    return tuple(by_name.values()), place


def _placed(prefix: str, phase: StartingPhase, place: Mapping[tuple[str, str], str]) -> StartingPhase:
    takes = tuple(
        replace(
            one, room=place[prefix, one.room], back_with=f"{prefix}.{one.back_with}" if one.back_with else ""
        )
        for one in phase.takes
    )
    return replace(
        phase, key=f"{prefix}.{phase.key}", room=place[prefix, phase.room], takes=takes,
        after=tuple((f"{prefix}.{key}", wait) for key, wait in phase.after),
        rests=tuple((f"{prefix}.{key}", cure) for key, cure in phase.rests),
        held_by=tuple(f"{prefix}.{key}" for key in phase.held_by),
    )


def _check_keys(field: str, keys: Sequence[str]) -> None:
    for at, key in enumerate(keys):
        if key in keys[:at]:
            raise StartingPlanError((field, at, "key"), f"{key} is there twice; give each a key of its own")
        if key == WHOLE_HOUSE or not key:
            raise StartingPlanError((field, at, "key"), f"{key!r} can't be a key; use another word")


def _check_phases(plan: StartingPlan) -> None:
    rooms = {WHOLE_HOUSE, *(room.key for room in plan.rooms)}
    phases = {phase.key for phase in plan.phases}
    decisions = {decision.key for decision in plan.decisions}
    for at, phase in enumerate(plan.phases):
        if not 0 <= phase.low <= phase.likely <= phase.high:
            raise StartingPlanError(("phases", at, "hours"), "give low, likely and high in rising order, not below 0")
        _check_one(("phases", at, "room"), phase.room, rooms, "room")
        for n, (key, wait) in enumerate(phase.after):
            _check_one(("phases", at, "after", n), key, phases, "phase")
            if wait < 0:
                raise StartingPlanError(("phases", at, "after", n), "a wait can't be below 0")
        for n, key in enumerate(phase.held_by):
            _check_one(("phases", at, "held_by", n), key, decisions, "decision")
        for n, one in enumerate(phase.takes):
            _check_one(("phases", at, "takes", n, "room"), one.room, {"", *rooms}, "room")
            _check_one(("phases", at, "takes", n, "back_with"), one.back_with, {"", *phases}, "phase")
            _check_fixture(("phases", at, "takes", n, "service"), plan, one.room or phase.room, one.take)


def _check_fixture(path: tuple[str | int, ...], plan: StartingPlan, place: str, take: Take) -> None:
    services = [service for room in plan.rooms if place == room.key for service in room.services]
    if place != WHOLE_HOUSE and take.service in FIXTURES and not any(takes_from(take, service) for service in services):
        which = take.name or take.service
        raise StartingPlanError(path, f"{place} lists no {which}; add it to the services of the room")


def _check_order(plan: StartingPlan) -> None:
    ids = {phase.key: at for at, phase in enumerate(plan.phases)}
    links = [(ids[phase.key], ids[key]) for phase in plan.phases for key, _ in phase.after]
    try:
        check_loops({at: phase.key for at, phase in enumerate(plan.phases)}, links)
    except LoopError as error:
        reason = f"these phases would wait for each other: {' → '.join(error.names)}"
        raise StartingPlanError(("phases", error.ids[0], "after"), reason) from error


def _check_one(path: tuple[str | int, ...], key: str, known: set[str], kind: str) -> None:
    if key not in known:
        choices = ", ".join(sorted(known - {""}))
        raise StartingPlanError(path, f"no {kind} here has the key {key!r}; there are {choices or 'none'}")
