"""A plan to start from, written down as the TOML that reads back as the same plan: how a firm keeps one of its own."""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from portal.planning.household.services import service_json, take_json
from portal.planning.starting_plans.plans import StartingDecision, StartingPhase, StartingPlan, StartingTake


def write_plan(plan: StartingPlan) -> str:
    """The text of a plan file. Keys joined with a dot by `combine` are joined with `_`, as keys in files must be."""
    tables: list[tuple[str, dict[str, Any]]] = [
        ("", {"title": plan.title, "about": plan.about, "source": plan.source})
    ]
    tables += [
        ("rooms", {"key": _key(room.key), "name": room.name, "services": [service_json(one) for one in room.services]})
        for room in plan.rooms
    ]
    tables += [("phases", _phase(phase)) for phase in plan.phases]
    for decision in plan.decisions:
        tables.append(("decisions", _decision(decision)))
        tables += [("decisions.options", dict(option)) for option in decision.options]
    tables += [
        ("deliveries", {"item": one.item, "phases": [_key(key) for key in one.phases]}) for one in plan.deliveries
    ]
    return "\n".join("\n".join(_table(name, table)) for name, table in tables)


def _phase(phase: StartingPhase) -> dict[str, Any]:
    written: dict[str, Any] = {
        "key": _key(phase.key), "name": phase.name, "room": _key(phase.room), "crew": phase.crew,
        "hours": [_hours(minutes) for minutes in (phase.low, phase.likely, phase.high)],
        "after": [
            {"phase": _key(key), "wait_hours": _hours(wait)} if wait else _key(key) for key, wait in phase.after
        ],
        "held_by": [_key(key) for key in phase.held_by],
        "takes": [_take(one) for one in phase.takes],
        "note": phase.note,
    }
    return {key: value for key, value in written.items() if value not in ("", [])}


def _take(starting: StartingTake) -> dict[str, Any]:
    places = {"room": _key(starting.room), "back_with": _key(starting.back_with)}
    return take_json(starting.take) | {key: value for key, value in places.items() if value}


def _decision(decision: StartingDecision) -> dict[str, Any]:
    return {
        "key": _key(decision.key), "kind": decision.kind, "question": decision.question,
        "lead_days": decision.lead_days, "room": _key(decision.room),
    }


def _key(key: str) -> str:
    return key.replace(".", "_")


def _hours(minutes: int) -> int | float:
    return minutes // 60 if minutes % 60 == 0 else minutes / 60


def _table(name: str, table: Mapping[str, Any]) -> Iterable[str]:
    if name:
        yield f"\n[[{name}]]" if name != "decisions.options" else f"[[{name}]]"
    for key, value in table.items():
        yield f"{key} = {toml_value(value)}"


def toml_value(value: Any) -> str:
    """Text, numbers, lists and tables in one line."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml_value(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(toml_value(one) for one in value) + "]"
    # A JSON string is a TOML basic string, but for DEL, which JSON leaves as it is.
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007F")
