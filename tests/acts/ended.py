"""The acts by which a house ends, and those on what was handed over, each called as it is meant."""

from typing import Any

from portal.acts.actor import MANAGER, Actor
from portal.acts.firm import ending, projects
from portal.acts.household import handovers
from portal.store import tables
from tests.acts.firm_calls import PROJECT, version
from tests.house import NOW


def _seen(project_id: int) -> int:
    return version(tables.Project, project_id)


def _close(actor: Actor, given: Any) -> object:
    return ending.close_house(actor, given.project, _seen(given.project), reason="They stop here.", now=NOW)


def _open(actor: Actor, given: Any) -> object:
    if actor.role == MANAGER:
        _close(actor, given)
    return ending.open_house(actor, given.project, _seen(given.project), reason="They go on.", now=NOW)


def _remove(actor: Actor, given: Any) -> object:
    there = projects.add_project(actor, dict(PROJECT), NOW).id if actor.role == MANAGER else given.project
    return ending.remove_house(actor, there, _seen(there), reason="Entered twice.", now=NOW)


ENDED: dict[str, Any] = {
    "close_house": _close,
    "open_house": _open,
    "remove_house": _remove,
    "take_back_handover": lambda actor, f: handovers.take_back_handover(
        actor, f.project, f.handover, reason="Too early", now=NOW
    ),
    "change_item": lambda actor, f: handovers.change_item(
        actor, f.project, f.item, version(tables.OpenItem, f.item), {"who": "Tile setter"}, NOW
    ),
}
