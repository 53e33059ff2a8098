"""Who of the managers runs a house, and handing it over to another one."""

from portal.acts.actor import MANAGER, Actor, act
from portal.acts.entries import keep
from portal.store.refusals import FieldRefused
from portal.store.rows import staff_rows
from portal.store.rows.editable import change_row, project_row
from portal.store.rows.letters import staff_notice_rows
from portal.store.tables import Project, Staff

FIELD = "staff"


@act("hand_over_house")
def hand_over_house(actor: Actor, project_id: int, seen: int, staff_id: int | None, *, now: int) -> Project:
    """From now on this manager is told what waits for us there; None: all are. Named again, nothing changes. Whoever
    gets it reads so in a letter, unless it is the one who says it."""
    before = project_row(project_id)
    if before.responsible_id == staff_id:
        return before
    chosen = _manager(staff_id)
    project = change_row(Project, project_id, seen, {"responsible": staff_id})
    body = {
        "staff": staff_id, "name": chosen.name if chosen else "",
        "before": staff_rows.names().get(before.responsible_id, "") if before.responsible_id else "",
    }  # fmt: skip
    keep(actor, project_id, "responsible_changed", body, now)
    if chosen is not None and chosen.id != actor.id:
        staff_notice_rows.add(project_id, chosen.id, "house_handed_over", {"by": actor.name}, now)
    return project


def _manager(staff_id: int | None) -> Staff | None:
    if staff_id is None:
        return None
    found = staff_rows.working(staff_id)
    if found is None:
        raise FieldRefused(FIELD, "They do not work here any more. Choose another manager.")
    if found.role != MANAGER:
        raise FieldRefused(FIELD, f"{found.name} is of the office. A manager runs a house: choose one.")
    return found
