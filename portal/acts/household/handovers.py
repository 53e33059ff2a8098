"""Completion: a phase or the whole project is handed over with a list of what is still open; the homeowner accepts."""

from datetime import date
from typing import Any

from portal.acts.actor import Actor, act, known_values
from portal.acts.entries import keep
from portal.acts.keeping.photos import Kept
from portal.acts.refusals import AlreadyAccepted, HandoverTakenBack, ItemDone, ListClosed, NotYours
from portal.acts.telling import tell_accepted
from portal.acts.written import needed, reason_given, signature
from portal.store.reading.record_facts import photo_file
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows import handover_rows
from portal.store.rows.editable import add_row, change_row, in_project, project_row
from portal.store.tables import Handover, OpenItem, Phase, Room
from portal.words.dates import day_words, local

_ITEM = ("item", "room", "who", "by_on")


@act("offer_handover")
def offer_handover(
    actor: Actor, project_id: int, *, phase: int | None, note: str, items: list[dict[str, Any]], now: int,
    items_until: date | None = None,
) -> Handover:
    """Hand over a finished phase, or with `phase` None the whole project, whose phases must all be finished.
    `items_until`: the household's last day to add to the list, also once it is accepted."""
    _check_until(project_id, items_until, now)
    _check_finished(project_id, phase)
    if handover_rows.offered(project_id, phase):
        raise FieldRefused("phase", "This is handed over already. Add to its list instead.")
    handover = add_row(Handover, project=project_id, phase=phase, note=note, offered_at=now, offered_by=actor.id,
                       items_until=items_until)
    for values in items:
        _add(actor, project_id, handover, values, now)
    listed = [_told(one) for one in handover_rows.items(handover.id)]
    keep(actor, project_id, "handed_over", {**_body(handover), "note": note, "open": listed, **_until(handover)}, now)
    return handover


@act("take_back_handover")
def take_back_handover(actor: Actor, project_id: int, handover_id: int, *, reason: str, now: int) -> Handover:
    """It was offered by mistake: nobody is asked to accept it any more, and the work can be handed over again. Taken
    back once more, nothing changes. Raises AlreadyAccepted."""
    handover = in_project(Handover, project_id, handover_id)
    if handover.accepted_at is not None:
        raise AlreadyAccepted(name=handover.accepted_name)
    if handover.taken_back_at is not None:
        return handover
    reason = reason_given("reason", reason, "Say why it is taken back; whoever opens it reads that.")
    values = {"taken_back_at": now, "taken_back_reason": reason}
    handover = change_row(Handover, handover_id, handover.version, values)
    keep(actor, project_id, "handover_taken_back", {**_body(handover), "reason": reason}, now)
    return handover


@act("change_items_until")
def change_items_until(actor: Actor, project_id: int, handover_id: int, *, until: date | None, now: int) -> Handover:
    """Until when the household can add to the list; None: until it is accepted."""
    handover = _offered(project_id, handover_id)
    if handover.items_until == until:
        return handover
    _check_until(project_id, until, now, "until")
    handover = change_row(Handover, handover_id, handover.version, {"items_until": until})
    body = {**_body(handover), "items_until": until.isoformat() if until else None}
    keep(actor, project_id, "handover_changed", body, now)
    return handover


@act("add_item")
def add_item(actor: Actor, project_id: int, handover_id: int, values: dict[str, Any], now: int) -> OpenItem:
    """Something is still open. The homeowner may say so until the date that the firm has set, without one until the
    hand-over is accepted; the firm at any time. `values`: item, perhaps room, who, by_on, and a photo that
    portal.acts.keeping.photos has kept before."""
    handover = _offered(project_id, handover_id)
    if not actor.is_staff:
        _check_takes_items(project_id, handover, now)
    item = _add(actor, project_id, handover, values, now)
    keep(actor, project_id, "item_added", {**_body(handover), **_told(item)}, now)
    return item


@act("change_item")
def change_item(actor: Actor, project_id: int, item_id: int, seen: int, values: dict[str, Any], now: int) -> OpenItem:
    """What is open, where, who sees to it and by when, and its photo. The entry tells it as it was, too, so that
    nothing goes from a list unseen. Raises ItemDone."""
    item, handover = _item(project_id, item_id)
    refuse_taken_back(project_id, handover.id)
    if item.done_at is not None:
        raise ItemDone(item=item.item.rstrip("."))
    before = _told(item)
    item = change_row(OpenItem, item_id, seen, _plain(project_id, values, known=item.item))
    told = _told(item)
    if told != before:
        keep(actor, project_id, "item_changed", {**_body(handover), **told, "before": before}, now)
    return item


@act("close_item")
def close_item(actor: Actor, project_id: int, item_id: int, *, now: int) -> OpenItem:
    item, handover = _item(project_id, item_id)
    if item.done_at is not None:
        return item
    item = change_row(OpenItem, item.id, item.version, {"done_at": now})
    keep(actor, project_id, "item_closed", {**_body(handover), "item": item.item}, now)
    return item


@act("accept_handover")
def accept_handover(actor: Actor, project_id: int, handover_id: int, *, name: str, seen: int, now: int) -> Handover:
    """Accept what is handed over, with what is still open; the whole job with what is open of its phases, too. `seen`:
    how many items were listed when it was read, those of the phases included."""
    handover = _offered(project_id, handover_id)
    if not actor.may_approve:
        raise NotYours(who="someone of the household who may approve")
    if handover.accepted_at is not None:
        raise AlreadyAccepted(name=handover.accepted_name)
    name = signature(name, "Type your full name to accept.")
    items = [*handover_rows.items(handover_id), *_open_of_phases(handover)]
    if len(items) != seen:
        raise FieldRefused("seen", "The list has changed since you read it. Please read it again.")
    values = {"accepted_at": now, "accepted_by": actor.id, "accepted_name": name}
    handover = change_row(Handover, handover_id, handover.version, values)
    still_open = [_told(one) for one in items if one.done_at is None]
    entry = keep(actor, project_id, "handover_accepted", {**_body(handover), "name": name, "open": still_open}, now)
    tell_accepted(project_id, actor.id, handover.id, entry, now)
    return handover


def refuse_taken_back(project_id: int, handover_id: int) -> None:
    """Raise HandoverTakenBack, for whoever comes by an old address; nothing for one that stands, or never was."""
    handover = handover_rows.find(project_id, handover_id)
    if handover is not None and handover.taken_back_at is not None:
        raise HandoverTakenBack(reason=handover.taken_back_reason.rstrip("."))


def _offered(project_id: int, handover_id: int) -> Handover:
    """One that stands. Raises HandoverTakenBack."""
    refuse_taken_back(project_id, handover_id)
    return in_project(Handover, project_id, handover_id)


def _item(project_id: int, item_id: int) -> tuple[OpenItem, Handover]:
    found = handover_rows.item_of(project_id, item_id)
    if found is None:
        raise NotFound(what="open item")
    return found


def _open_of_phases(handover: Handover) -> list[OpenItem]:
    """Whoever accepts the whole is shown what is open of its phases, so that it is accepted with that, not without."""
    return [] if handover.phase_id is not None else handover_rows.open_elsewhere(handover)


def _check_until(project_id: int, until: date | None, now: int, field: str = "items_until") -> None:
    if until is not None and until < _today(project_id, now):
        raise FieldRefused(field, "This day is over. Choose today or a day to come, or leave it empty.")


def _today(project_id: int, now: int) -> date:
    return local(now, project_row(project_id).timezone).date()


def _check_takes_items(project_id: int, handover: Handover, now: int) -> None:
    """The same rule as HandoverFact.takes_items, which pages go by."""
    if handover.items_until is None and handover.accepted_at is not None:
        raise AlreadyAccepted(name=handover.accepted_name)
    if handover.items_until is not None and _today(project_id, now) > handover.items_until:
        raise ListClosed(day=day_words(handover.items_until))


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
    plain = _plain(project_id, values, known="")
    return add_row(OpenItem, handover=handover, added_by=actor.name, added_at=now, **plain)


def _plain(project_id: int, values: dict[str, Any], *, known: str) -> dict[str, Any]:
    """As the row holds it. `known`: what stands there, where nothing else was sent."""
    if values.get("room") is not None:
        in_project(Room, project_id, values["room"], field="room")
    plain = known_values(values, *_ITEM)
    plain["item"] = needed("item", plain.get("item", known), "Write what is still open first.")
    photo: Kept | None = values.get("photo")
    if photo:
        plain |= {"photo": photo.name, "photo_sha256": photo.sha256}
    return plain


def _body(handover: Handover) -> dict[str, Any]:
    phase = handover.phase
    return {"handover": handover.id, "phase": phase.name if phase else None, "phase_id": phase.id if phase else None}


def _until(handover: Handover) -> dict[str, Any]:
    """Only where it was set: entries without it read as they always did."""
    return {"items_until": handover.items_until.isoformat()} if handover.items_until else {}


def _told(item: OpenItem) -> dict[str, Any]:
    """All that was listed, so that nobody can later take a room, a name or a date out of the list."""
    return {
        "item": item.item, "room": item.room.name if item.room else None, "room_id": item.room_id,
        "who": item.who or None, "by": item.by_on.isoformat() if item.by_on else None,
        "photo": photo_file(item.photo) if item.photo else None, "photo_sha256": item.photo_sha256 or None,
    }
