"""How a house ends: closed once the work is done, opened again, or taken off all lists if it was set up by mistake."""

from portal.acts.actor import Actor, act
from portal.acts.decisions.closing import withdraw_question
from portal.acts.entries import keep
from portal.acts.firm.firm_calendar import follow_firm
from portal.acts.plan.planned_questions import drop_question
from portal.acts.plan.starting_plans import drop_order
from portal.acts.refusals import NotByMistake, NotClosed
from portal.acts.visiting.deliveries import remove_delivery
from portal.acts.visiting.visits import cancel_visit
from portal.acts.written import reason_given
from portal.store.reading.closing.what_ends import Ending, reason_to_stay, what_ends
from portal.store.rows import handover_rows
from portal.store.rows.editable import change_row, project_row
from portal.store.tables import Project
from portal.words.lists import quoted

BECAUSE = "The house is closed"


@act("close_house")
def close_house(actor: Actor, project_id: int, seen: int, *, reason: str = "", now: int) -> Project:
    """Nobody works on it any more: what still waits for an answer, a delivery or a visit ends with it, each with an
    entry of its own. Where work is not finished, this needs a reason. Closed once more, nothing changes."""
    project = project_row(project_id)
    if project.closed_at is not None:
        return project
    ending = what_ends(project_id, now)
    if ending.unfinished or reason.strip():
        names = quoted([phase.name for phase in ending.unfinished])
        reason = reason_given("reason", reason, f"Not finished: {names}. Say why the house is closed all the same.")
    _end_with_it(actor, project_id, ending, now)
    project = change_row(Project, project_id, seen, {"closed_at": now, "closed_because": reason.strip()})
    left = [{"item": one.item, "who": one.who or None, "by": one.by_on.isoformat() if one.by_on else None}
            for one in handover_rows.open_items(project_id)]
    body = {"reason": reason.strip(), "unfinished": [phase.name for phase in ending.unfinished], "open": left}
    keep(actor, project_id, "house_closed", body, now)
    return project


@act("open_house")
def open_house(actor: Actor, project_id: int, seen: int, *, reason: str, now: int) -> Project:
    """Work goes on. What ended with it stays ended: it is asked, ordered and booked anew. Where it is as the firm's, it
    goes by the calendar that the firm has now. Raises NotClosed."""
    if project_row(project_id).closed_at is None:
        raise NotClosed
    reason = reason_given("reason", reason, "Say why it is opened again; it goes on the record.")
    project = change_row(Project, project_id, seen, {"closed_at": None, "closed_because": ""})
    keep(actor, project_id, "house_opened", {"reason": reason}, now)
    return follow_firm(actor, project, now)


@act("remove_house")
def remove_house(actor: Actor, project_id: int, seen: int, *, reason: str, now: int) -> None:
    """Off all lists, searches and pages, for a house that was set up by mistake: nothing was approved, asked, said or
    accepted there, and no link was made. Its record stays with us. Raises NotByMistake."""
    why = reason_to_stay(project_id)
    if why:
        raise NotByMistake(why=why)
    reason = reason_given("reason", reason, "Say why it is removed; it goes on the record.")
    change_row(Project, project_id, seen, {"closed_at": now, "removed_at": now})
    keep(actor, project_id, "house_removed", {"reason": reason}, now)


def _end_with_it(actor: Actor, project_id: int, ending: Ending, now: int) -> None:
    for decision in ending.questions:
        withdraw_question(actor, project_id, decision.id, reason=BECAUSE, now=now)
    for planned in ending.planned:
        drop_question(actor, project_id, planned.id, now, reason=BECAUSE)
    for order in ending.orders:
        drop_order(actor, project_id, order.id, now)
    for delivery in ending.deliveries:
        remove_delivery(actor, project_id, delivery.id, delivery.version, now)
    for visit in ending.visits:
        cancel_visit(actor, project_id, visit.id, visit.version, because=BECAUSE, now=now)
