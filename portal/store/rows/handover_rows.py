"""Hand-overs of a project with their items, and the questions that acts and pages ask of them."""

from portal.store.tables import Handover, OpenItem, Phase


def offered(project_id: int, phase_id: int | None) -> bool:
    same = Handover.phase.is_null() if phase_id is None else Handover.phase == phase_id
    return Handover.select().where((Handover.project == project_id) & same).exists()


def unfinished(project_id: int) -> list[Phase]:
    rows = Phase.select().where((Phase.project == project_id) & Phase.finished_at.is_null())
    return list(rows.order_by(Phase.position, Phase.id))


def finished(project_id: int) -> list[Phase]:
    rows = Phase.select().where((Phase.project == project_id) & Phase.finished_at.is_null(False))
    return list(rows.order_by(Phase.position, Phase.id))


def of_project(project_id: int) -> list[Handover]:
    return list(Handover.select().where(Handover.project == project_id).order_by(Handover.id))


def items(handover_id: int) -> list[OpenItem]:
    rows = OpenItem.select().where(OpenItem.handover == handover_id)
    return list(rows.order_by(OpenItem.done_at.is_null(False), OpenItem.id))


def item_of(project_id: int, item_id: int) -> tuple[OpenItem, Handover] | None:
    item = OpenItem.get_or_none(OpenItem.id == item_id)
    if item is None or item.handover.project_id != project_id:
        return None
    return item, item.handover
