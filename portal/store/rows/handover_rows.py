"""Hand-overs of a project with their items, and the questions that acts and pages ask of them."""

from portal.store.refusals import NotFound
from portal.store.tables import Handover, OpenItem, Phase


def offered(project_id: int, phase_id: int | None) -> bool:
    same = Handover.phase.is_null() if phase_id is None else Handover.phase == phase_id
    return Handover.select().where((Handover.project == project_id) & same & Handover.taken_back_at.is_null()).exists()


def unfinished(project_id: int) -> list[Phase]:
    rows = Phase.select().where((Phase.project == project_id) & Phase.finished_at.is_null())
    return list(rows.order_by(Phase.position, Phase.id))


def finished(project_id: int) -> list[Phase]:
    rows = Phase.select().where((Phase.project == project_id) & Phase.finished_at.is_null(False))
    return list(rows.order_by(Phase.position, Phase.id))


def of_project(project_id: int) -> list[Handover]:
    return list(Handover.select().where(Handover.project == project_id).order_by(Handover.id))


def taken_back(project_id: int) -> list[Handover]:
    """The newest first."""
    rows = Handover.select().where((Handover.project == project_id) & Handover.taken_back_at.is_null(False))
    return list(rows.order_by(Handover.taken_back_at.desc(), Handover.id.desc()))


def items(handover_id: int) -> list[OpenItem]:
    rows = OpenItem.select().where(OpenItem.handover == handover_id)
    return list(rows.order_by(OpenItem.done_at.is_null(False), OpenItem.id))


def open_elsewhere(handover: Handover) -> list[OpenItem]:
    """What is still open of the project's other hand-overs, in the order in which it was listed."""
    others = (Handover.project == handover.project_id) & (Handover.id != handover.id) & Handover.taken_back_at.is_null()
    rows = OpenItem.select().join(Handover).where(others & OpenItem.done_at.is_null())
    return list(rows.order_by(OpenItem.id))


def open_items(project_id: int) -> list[OpenItem]:
    """What is still open of all hand-overs."""
    standing = (Handover.project == project_id) & Handover.taken_back_at.is_null() & OpenItem.done_at.is_null()
    return list(OpenItem.select().join(Handover).where(standing).order_by(OpenItem.id))


def find(project_id: int, handover_id: int) -> Handover | None:
    return Handover.get_or_none((Handover.id == handover_id) & (Handover.project == project_id))


def needed_item(project_id: int, item_id: int) -> OpenItem:
    """Raises NotFound for another project's, as if it were not there."""
    found = item_of(project_id, item_id)
    if found is None:
        raise NotFound(what="open item")
    return found[0]


def item_of(project_id: int, item_id: int) -> tuple[OpenItem, Handover] | None:
    item = OpenItem.get_or_none(OpenItem.id == item_id)
    if item is None or item.handover.project_id != project_id:
        return None
    return item, item.handover
