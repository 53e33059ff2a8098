"""Plans to start from as TOML files: read strictly, refused with file, line and reason.

    title = "A bath"
    about = "One bath, taken out and made new."
    source = "common practice"

    [[rooms]]
    key = "bath"
    name = "Bath"
    services = ["water", "drain", "toilet"]                       # as on a room, see household

    [[phases]]
    key = "tile"
    name = "Set the floor tile"
    room = "bath"                                                 # left out: the first room; "house": the whole house
    crew = "Tile setter"
    hours = [8, 12, 16]                                           # work hours: low, likely, high
    after = ["backer", { phase = "rough", cure = "tile_set" }]    # a wait of the table of cure times, or by the clock:
                                                                  # wait_hours = 24, which wins over the cure
    held_by = ["grout"]
    takes = [{ service = "toilet", until = "done" }]              # as on a phase, with keys instead of ids
    note = "..."

    [[decisions]]
    key = "grout"
    kind = "finish"
    question = "Which grout colour?"
    lead_days = 5
    room = "bath"

    [[decisions.options]]
    key = "a"
    title = "Light gray"
    effects = "..."                                               # and: recommended, cannot_be_undone, cost_cents, days

    [[deliveries]]
    item = "Floor tile"
    phases = ["tile"]
"""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from portal.planning.household.cure_times import CureTable
from portal.planning.household.services import HouseholdError, read_services, read_take
from portal.planning.starting_plans.plans import (
    WHOLE_HOUSE,
    StartingDecision,
    StartingDelivery,
    StartingPhase,
    StartingPlan,
    StartingPlanError,
    StartingRoom,
    StartingTake,
    path_text,
)
from portal.planning.starting_plans.toml_lines import TomlPath, lines_of, nearest_line

_OPTION = {"key": str, "title": str, "effects": str, "recommended": bool, "cannot_be_undone": str, "cost_cents": int,
           "days": int}
_NAME = re.compile(r"[a-z][a-z0-9_]*")
LONGEST_HOURS = 2_000
"""Hours of work of one phase, or of one wait."""


class PlanFileError(ValueError):
    """A plan file that can't be used: which file, which line, why."""

    def __init__(self, filename: str, line: int, reason: str) -> None:
        super().__init__(f"{filename}:{line}: {reason}")
        self.filename = filename
        self.line = line
        self.reason = reason


def read_plan(text: str, filename: str, cures: CureTable) -> StartingPlan:
    """Give the plan in the text of a file; `filename` is only named in errors, `cures` are the waits that it may name.
    Raises PlanFileError."""
    try:
        given = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        at = re.search(r"at line (\d+)", str(error))
        line = int(at[1]) if at else text.count("\n") + 1
        raise PlanFileError(filename, line, f"is not valid TOML: {error}") from error
    try:
        return _plan(given, cures)
    except StartingPlanError as error:
        raise PlanFileError(filename, nearest_line(lines_of(text), error.path), str(error)) from error


def _plan(given: dict[str, Any], cures: CureTable) -> StartingPlan:
    _known((), given, ("title", "about", "source", "rooms", "phases", "decisions", "deliveries"))
    rooms = tuple(_room(("rooms", at), one) for at, one in enumerate(_list(("rooms",), given.get("rooms", []))))
    first = rooms[0].key if rooms else WHOLE_HOUSE
    phases = _list(("phases",), given.get("phases", []))
    if not phases:
        raise StartingPlanError(("phases",), "give at least one phase")
    return StartingPlan(
        _text(("title",), given.get("title")), _text(("about",), given.get("about", ""), empty=True),
        _text(("source",), given.get("source")), rooms,
        tuple(_phase(("phases", at), one, first, cures) for at, one in enumerate(phases)),
        tuple(_decision(("decisions", at), one, first)
              for at, one in enumerate(_list(("decisions",), given.get("decisions", [])))),
        tuple(_delivery(("deliveries", at), one)
              for at, one in enumerate(_list(("deliveries",), given.get("deliveries", [])))),
    )


def _room(path: TomlPath, given: object) -> StartingRoom:
    table = _table(path, given, ("key", "name", "services"))
    try:
        services = read_services(table.get("services", []))
    except HouseholdError as error:
        raise StartingPlanError((*path, *_parts(error.field)), error.message) from error
    return StartingRoom(_key((*path, "key"), table.get("key")), _text((*path, "name"), table.get("name")), services)


def _phase(path: TomlPath, given: object, first_room: str, cures: CureTable) -> StartingPhase:
    table = _table(path, given, ("key", "name", "room", "crew", "hours", "after", "held_by", "takes", "note"))
    hours = _list((*path, "hours"), table.get("hours"))
    if len(hours) != 3:
        raise StartingPlanError((*path, "hours"), "give three work hours: low, likely, high")
    low, likely, high = (_minutes((*path, "hours"), one) for one in hours)
    after = [_after((*path, "after", n), one, cures)
             for n, one in enumerate(_list((*path, "after"), table.get("after", [])))]
    return StartingPhase(
        key=_key((*path, "key"), table.get("key")),
        name=_text((*path, "name"), table.get("name")),
        low=low, likely=likely, high=high,
        room=_key((*path, "room"), table.get("room", first_room)),
        crew=_text((*path, "crew"), table.get("crew", ""), empty=True),
        after=tuple((before, wait) for before, wait, _ in after),
        rests=tuple((before, cure) for before, _, cure in after if cure),
        held_by=tuple(_key((*path, "held_by", n), one)
                      for n, one in enumerate(_list((*path, "held_by"), table.get("held_by", [])))),
        takes=tuple(_take((*path, "takes", n), one, cures)
                    for n, one in enumerate(_list((*path, "takes"), table.get("takes", [])))),
        note=_text((*path, "note"), table.get("note", ""), empty=True),
    )


def _after(path: TomlPath, given: object, cures: CureTable) -> tuple[str, int, str]:
    """The phase before, the wait in minutes, and the cure whose figure only the label has, else empty."""
    if isinstance(given, str):
        return _key(path, given), 0, ""
    table = _table(path, given, ("phase", "cure", "wait_hours"))
    before, cure = _key((*path, "phase"), table.get("phase")), None
    if "cure" in table:
        cure = cures.get(_key((*path, "cure"), table["cure"]))
        if cure is None:
            raise StartingPlanError((*path, "cure"), f"{table['cure']!r} is not known; use one of {', '.join(cures)}")
    if "wait_hours" in table or cure is None:
        return before, _minutes((*path, "wait_hours"), table.get("wait_hours", 0)), ""
    return before, cure.minutes, cure.key if cure.by_label else ""


def _take(path: TomlPath, given: object, cures: CureTable) -> StartingTake:
    """Keys are taken out, the rest is read as the API reads it."""
    if not isinstance(given, dict):
        raise StartingPlanError(path, 'give a table such as { service = "sink", until = "done" }')
    room = _key((*path, "room"), given["room"]) if "room" in given else ""
    back_with = _key((*path, "back_with"), given["back_with"]) if "back_with" in given else ""
    rest = {key: value for key, value in given.items() if key not in ("room", "back_with")}
    if back_with:
        rest["back_with"] = 1  # stands for the key, so that it is refused where an id would be
    try:
        take = read_take(path_text(path), rest, cures)
    except HouseholdError as error:
        raise StartingPlanError(_parts(error.field), error.message) from error
    return StartingTake(replace(take, back_with=None), room, back_with)


def _decision(path: TomlPath, given: object, first_room: str) -> StartingDecision:
    table = _table(path, given, ("key", "kind", "question", "lead_days", "options", "room"))
    lead = table.get("lead_days", 1)
    if isinstance(lead, bool) or not isinstance(lead, int) or not 0 <= lead <= 260:
        raise StartingPlanError((*path, "lead_days"), "give working days from 0 to 260")
    options = _list((*path, "options"), table.get("options"))
    if len(options) < 2:
        raise StartingPlanError((*path, "options"), "give at least two options; otherwise there is nothing to decide")
    read = tuple(_option((*path, "options", n), one) for n, one in enumerate(options))
    keys = [option["key"] for option in read]
    for n, key in enumerate(keys):
        if key in keys[:n]:
            raise StartingPlanError((*path, "options", n, "key"), f"{key} is there twice; give each a key of its own")
    if sum(option.get("recommended", False) for option in read) > 1:
        raise StartingPlanError((*path, "options"), "recommend at most one option")
    return StartingDecision(
        _key((*path, "key"), table.get("key")), _key((*path, "kind"), table.get("kind", "general")),
        _text((*path, "question"), table.get("question")), lead, read,
        _key((*path, "room"), table.get("room", first_room)),
    )


def _option(path: TomlPath, given: object) -> dict[str, Any]:
    table = dict(_table(path, given, tuple(_OPTION)))
    for key, value in table.items():
        kind = _OPTION[key]
        if not isinstance(value, kind) or (kind is int and isinstance(value, bool)):
            names = {str: "text", bool: "true or false", int: "a whole number"}
            raise StartingPlanError((*path, key), f"give {names[kind]}")
    for key in ("key", "title"):
        _text((*path, key), table.get(key))
    return table


def _delivery(path: TomlPath, given: object) -> StartingDelivery:
    table = _table(path, given, ("item", "phases"))
    phases = _list((*path, "phases"), table.get("phases"))
    if not phases:
        raise StartingPlanError((*path, "phases"), "name the phases that wait for it")
    keys = tuple(_key((*path, "phases", n), one) for n, one in enumerate(phases))
    return StartingDelivery(_text((*path, "item"), table.get("item")), keys)


def _parts(field: str) -> TomlPath:
    """("takes", 0, "until") of `takes[0].until`."""
    return tuple(int(part) if part.isdigit() else part for part in re.findall(r"[^.\[\]]+", field))


def _table(path: TomlPath, given: object, keys: tuple[str, ...]) -> Mapping[str, Any]:
    if not isinstance(given, dict):
        raise StartingPlanError(path, f"give a table with {', '.join(keys)}")
    return _known(path, given, keys)


def _known(path: TomlPath, table: dict[str, Any], keys: tuple[str, ...]) -> Mapping[str, Any]:
    for key in table:
        if key not in keys:
            raise StartingPlanError((*path, key), f"is not known here; use {', '.join(keys)}")
    return table


def _list(path: TomlPath, given: object) -> list[Any]:
    if not isinstance(given, list):
        raise StartingPlanError(path, "give a list")
    return given


def _text(path: TomlPath, given: object, empty: bool = False) -> str:
    if not isinstance(given, str) or not (empty or given.strip()):
        raise StartingPlanError(path, "give some text")
    return given.strip()


def _key(path: TomlPath, given: object) -> str:
    if not isinstance(given, str) or not _NAME.fullmatch(given):
        raise StartingPlanError(path, f"{given!r} is no key; use small letters, digits and _")
    return given


def _minutes(path: TomlPath, given: object) -> int:
    if isinstance(given, bool) or not isinstance(given, int | float) or not 0 <= given <= LONGEST_HOURS:
        raise StartingPlanError(path, f"give hours from 0 to {LONGEST_HOURS}")
    return round(given * 60)
