"""Dated notes with photos, and call notes."""

from collections.abc import Sequence
from typing import Any

from portal.acts.actor import Actor, act, known_values
from portal.acts.entries import keep, keep_rest
from portal.acts.keeping.photos import Kept
from portal.acts.telling import tell_link
from portal.acts.times import happened
from portal.store.rows.editable import add_row, change_row, in_project, remove_row
from portal.store.tables import Call, Photo, Update
from portal.words.dates import utc_text
from portal.words.prose import Prose


@act("post_update")
def post_update(
    actor: Actor, project_id: int, *, text: Prose, photos: Sequence[Kept] = (), now: int, at: int | None = None
) -> Update:
    """`text` was turned into HTML by portal.acts.written before, `photos` were kept by portal.acts.keeping.photos: here
    they become an update, of `at` or now."""
    when = happened(at, now)
    update = add_row(Update, project=project_id, staff=actor.id, at=when, text=text.text, html=text.html)
    for photo in photos:
        add_row(Photo, of=update, name=photo.name, caption=photo.caption, width=photo.width, height=photo.height)
    body = {"update": update.id, "photos": [photo.sha256 for photo in photos], **_earlier(when, now)}
    keep(actor, project_id, "update_posted", body, now)
    return update


@act("change_update")
def change_update(actor: Actor, project_id: int, update_id: int, seen: int, *, text: Prose, now: int) -> Update:
    in_project(Update, project_id, update_id)
    update = change_row(Update, update_id, seen, {"text": text.text, "html": text.html})
    keep_rest(actor, project_id, "update_changed", {"update": update_id}, now)
    return update


@act("remove_update")
def remove_update(actor: Actor, project_id: int, update_id: int, seen: int, now: int) -> None:
    in_project(Update, project_id, update_id)
    remove_row(Update, update_id, seen)
    keep(actor, project_id, "update_removed", {"update": update_id}, now)


@act("note_call")
def note_call(actor: Actor, project_id: int, values: dict[str, Any], now: int, at: int | None = None) -> Call:
    """What a caller asked and was told, `at` or now. Never counts as an approval; `send_link_to` sends that person
    their own link, where an answer counts."""
    plain = known_values(values, "caller", "asked", "told")
    call = add_row(Call, project=project_id, staff=actor.id, at=happened(at, now), **plain)
    keep(actor, project_id, "call_noted", {"call": call.id, **_earlier(call.at, now)}, now)
    if values.get("send_link_to") is not None:
        tell_link(project_id, values["send_link_to"], "send_link_to", now, {"call": call.id})
    return call


def _earlier(at: int, now: int) -> dict[str, str]:
    """An entry is of the moment when it was written; of what happened before, it says when."""
    return {"at": utc_text(at)} if at != now else {}
