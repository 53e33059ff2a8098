"""Each act on the firm and on what houses are made of, called as it is meant."""

from collections.abc import Callable
from datetime import date
from typing import Any

from portal.acts.actor import Actor
from portal.acts.firm import firm_calendar, projects, responsible, sizes
from portal.acts.visiting import suppliers
from portal.store import tables
from tests.house import NOW
from tests.household import CALENDAR

Call = Callable[[Actor, Any], object]

PROJECT = {
    "name": "Lindqvist porch", "address": "5 Alder Row, Pell Harbor, Minnesota", "timezone": "America/Chicago",
    "calendar": CALENDAR, "starts_on": date(2027, 1, 11),
}  # fmt: skip
TOP = {"what": "top", "name": "Window wall", "values": {"length": "96 in", "thickness": "3 cm"}, "source": "Sam, Nov 3"}


def version(table: Any, row_id: int) -> int:
    found: int = table.get_by_id(row_id).version
    return found


FIRM: dict[str, Call] = {
    "add_project": lambda actor, f: projects.add_project(actor, dict(PROJECT), NOW),
    "change_firm": lambda actor, f: projects.change_firm(actor, 1, {"phone": "218-555-0149"}, NOW),
    "change_firm_calendar": lambda actor, f: firm_calendar.change_firm_calendar(
        actor, 1, {"timezone": "America/Chicago", "calendar": CALENDAR}, NOW
    ),
    "hand_over_house": lambda actor, f: responsible.hand_over_house(
        actor, f.project, version(tables.Project, f.project), f.house.manager.id, now=NOW
    ),
    "change_project": lambda actor, f: projects.change_project(
        actor, f.project, version(tables.Project, f.project), {"office_hours": "Mornings"}, NOW
    ),
    "add_room": lambda actor, f: projects.add_room(actor, f.project, {"name": "Porch"}, now=NOW),
    "change_room": lambda actor, f: projects.change_room(
        actor, f.project, f.house.rooms["bath"], version(tables.Room, f.house.rooms["bath"]), {"name": "Bath"}, now=NOW
    ),
    "remove_room": lambda actor, f: projects.remove_room(
        actor, f.project, f.pantry, version(tables.Room, f.pantry), NOW
    ),
    "add_person": lambda actor, f: projects.add_person(actor, f.project, {"name": "Asta Okafor"}, NOW),
    "change_person": lambda actor, f: projects.change_person(
        actor, f.project, f.designer.id, version(tables.Person, f.designer.id), {"phone": "218-555-0177"}, NOW
    ),
    "remove_person": lambda actor, f: projects.remove_person(
        actor, f.project, f.designer.id, version(tables.Person, f.designer.id), NOW
    ),
}
SUPPLIERS: dict[str, Call] = {
    "add_supplier": lambda actor, f: suppliers.add_supplier(actor, {"name": "Alder Yard", "lead_days": 3}),
    "change_supplier": lambda actor, f: suppliers.change_supplier(
        actor, f.supplier, version(tables.Supplier, f.supplier), {"phone": "218-555-0133"}
    ),
    "drop_supplier": lambda actor, f: suppliers.drop_supplier(
        actor, f.supplier, version(tables.Supplier, f.supplier), NOW
    ),
    "choose_supplier": lambda actor, f: suppliers.choose_supplier(
        actor, f.project, f.planned_order, "Pell Harbor Stone", NOW
    ),
}
SIZES: dict[str, Call] = {
    "keep_size": lambda actor, f: sizes.keep_size(actor, f.project, TOP | {"name": "Island"}, now=NOW),
    "change_size": lambda actor, f: sizes.change_size(
        actor, f.project, f.size, version(tables.KeptSize, f.size), {"name": "Long wall"}, now=NOW
    ),
    "drop_size": lambda actor, f: sizes.drop_size(actor, f.project, f.size, version(tables.KeptSize, f.size), now=NOW),
    "keep_firm_size": lambda actor, f: sizes.keep_firm_size(actor, TOP | {"name": "Island"}),
    "change_firm_size": lambda actor, f: sizes.change_firm_size(
        actor, f.firm_size, version(tables.KeptSize, f.firm_size), {"source": "Sam, Nov 4"}
    ),
    "drop_firm_size": lambda actor, f: sizes.drop_firm_size(
        actor, f.firm_size, version(tables.KeptSize, f.firm_size)
    ),
}
