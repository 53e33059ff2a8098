"""The firm's own working calendar and zone, and the houses that go by it."""

from typing import Any

from portal.acts.actor import Actor, firm_act
from portal.acts.firm.calendars import check_calendar, check_worked_holidays, is_as
from portal.acts.firm.projects import change_project
from portal.store.refusals import FieldRefused
from portal.store.rows import project_rows
from portal.store.rows.editable import change_row, first_firm
from portal.store.tables import Firm, Project


@firm_act("change_firm_calendar")
def change_firm_calendar(actor: Actor, seen: int, values: dict[str, Any], now: int) -> Firm:
    """`values`: `timezone`, `calendar`, and in `houses` the ids of those that go by it from now on, too. Each open
    house that is as the firm's changes with it, with an entry of its own; all others, and closed ones, stay."""
    check_calendar(values["calendar"], values["timezone"])
    check_worked_holidays(values["calendar"], now)
    before = first_firm()
    if not before.version:
        raise FieldRefused("", "The firm is not written down yet. Give its name and phone first.")
    firm = change_row(Firm, before.id, seen, {name: values[name] for name in ("timezone", "calendar")})
    for house in project_rows.open_ones():
        if house.as_firm:
            follow_firm(actor, house, now)
        elif house.id in values.get("houses", ()):
            change_project(actor, house.id, house.version, {"as_firm": True}, now)
    return firm


def follow_firm(actor: Actor, house: Project, now: int) -> Project:
    """Give a house that is as the firm's what the firm's is now, where that is something else."""
    if not house.as_firm or is_as(house, first_firm()):
        return house
    return change_project(actor, house.id, house.version, {"as_firm": True}, now)
