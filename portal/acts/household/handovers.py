"""Completion: a phase or the whole project is handed over with a list of what is still open; the homeowner accepts."""

from typing import Any

from portal.acts.actor import Actor, act, known_values
from portal.acts.entries import keep
from portal.acts.keeping.photos import Kept
from portal.acts.refusals import AlreadyAccepted, NotYours
from portal.acts.written import needed, signature
from portal.store.reading.record_facts import photo_file
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows import handover_rows
from portal.store.rows.editable import add_row, change_row, in_project
from portal.store.tables import Handover, OpenItem, Phase, Room

_ITEM = ("item", "room", "who", "by_on")


@act("offer_handover")
def offer_handover(
    actor: Actor, project_id: int, *, phase: int | None, note: str, items: list[dict[str, Any]], now: int
) -> Handover:
    """Hand over a finished phase, or with `phase` None the whole project, whose phases must all be finished."""
    _check_finished(project_id, phase)
    if handover_rows.offered(project_id, phase):
        raise FieldRefused("phase", "This is handed over already. Add to its list instead.")
    handover = add_row(Handover, project=project_id, phase=phase, note=note, offered_at=now, offered_by=actor.id)
    for values in items:
        _add(actor, project_id, handover, values, now)
    listed = [_told(one) for one in handover_rows.items(handover.id)]
    keep(actor, project_id, "handed_over", {**_body(handover), "note": note, "open": listed}, now)
    return handover


@act("add_item")
def add_item(actor: Actor, project_id: int, handover_id: int, values: dict[str, Any], now: int) -> OpenItem:
    """Something is still open. The homeowner may say so until the hand-over is accepted, the firm at any time.
    `values`: item, perhaps room, who, by_on, and a photo that portal.acts.keeping.photos has kept before."""
    handover = in_project(Handover, project_id, handover_id)
    if handover.accepted_at is not None and not actor.is_staff:
        raise AlreadyAccepted(name=handover.accepted_name)
    item = _add(actor, project_id, handover, values, now)
    keep(actor, project_id, "item_added", {**_body(handover), **_told(item)}, now)
    return item


@act("close_item")
def close_item(actor: Actor, project_id: int, item_id: int, *, now: int) -> OpenItem:
    found = handover_rows.item_of(project_id, item_id)
    if found is None:
        raise NotFound(what="open item")
    item, handover = found
    if item.done_at is not None:
        return item
    item = change_row(OpenItem, item.id, item.version, {"done_at": now})
    keep(actor, project_id, "item_closed", {**_body(handover), "item": item.item}, now)
    return item


@act("accept_handover")
def accept_handover(actor: Actor, project_id: int, handover_id: int, *, name: str, seen: int, now: int) -> Handover:
    """Accept what is handed over, with what is still open. `seen`: how many items the list had when it was read."""
    handover = in_project(Handover, project_id, handover_id)
    if not actor.may_approve:
        raise NotYours(who="someone of the household who may approve")
    if handover.accepted_at is not None:
        raise AlreadyAccepted(name=handover.accepted_name)
    name = signature(name, "Type your full name to accept.")
    items = handover_rows.items(handover_id)
    if len(items) != seen:
        raise FieldRefused("seen", "The list has changed since you read it. Please read it again.")
    values = {"accepted_at": now, "accepted_by": actor.id, "accepted_name": name}
    handover = change_row(Handover, handover_id, handover.version, values)
    still_open = [_told(one) for one in items if one.done_at is None]
    keep(actor, project_id, "handover_accepted", {**_body(handover), "name": name, "open": still_open}, now)
    return handover


def _check_finished(project_id: int, phase_id: int | None) -> None:
    if phase_id is not None:
        phase = in_project(Phase, project_id, phase_id, field="phase")
        if phase.finished_at is None:
            raise FieldRefused("phase", f"{phase.name} is not finished yet. Finish it first.")
        return
    unfinished = handover_rows.unfinished(project_id)
    if unfinished:
        message = f"Not everything is finished: {unfinished[0].name}. Finish it, or hand over phases."
        raise FieldRefused("phase", message)


def _add(actor: Actor, project_id: int, handover: Handover, values: dict[str, Any], now: int) -> OpenItem:
    if values.get("room") is not None:
        in_project(Room, project_id, values["room"], field="room")
    plain = known_values(values, *_ITEM)
    plain["item"] = needed("item", plain["item"], "Write what is still open first.")
    photo: Kept | None = values.get("photo")
    if photo:
        plain |= {"photo": photo.name, "photo_sha256": photo.sha256}
    return add_row(OpenItem, handover=handover, added_by=actor.name, added_at=now, **plain)


def _body(handover: Handover) -> dict[str, Any]:
    phase = handover.phase
    return {"handover": handover.id, "phase": phase.name if phase else None, "phase_id": phase.id if phase else None}


def _told(item: OpenItem) -> dict[str, Any]:
    """All that was listed, so that nobody can later take a room, a name or a date out of the list."""
    return {
        "item": item.item, "room": item.room.name if item.room else None, "room_id": item.room_id,
        "who": item.who or None, "by": item.by_on.isoformat() if item.by_on else None,
        "photo": photo_file(item.photo) if item.photo else None, "photo_sha256": item.photo_sha256 or None,
    }
