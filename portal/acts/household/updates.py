"""Dated notes with photos, and call notes."""

from collections.abc import Sequence
from typing import Any

from portal.acts.actor import Actor, act, known_values
from portal.acts.keeping.photos import Kept
from portal.acts.telling import tell_link
from portal.store.rows.editable import add_row, change_row, in_project, remove_row
from portal.store.tables import Call, Photo, Update
from portal.words.prose import html_of


@act("post_update")
def post_update(actor: Actor, project_id: int, *, text: str, photos: Sequence[Kept] = (), now: int) -> Update:
    """`photos` were kept by portal.acts.keeping.photos before; here they become part of the update."""
    update = add_row(Update, project=project_id, staff=actor.id, at=now, text=text, html=html_of(text))
    for photo in photos:
        add_row(Photo, of=update, name=photo.name, caption=photo.caption, width=photo.width, height=photo.height)
    return update


@act("change_update")
def change_update(actor: Actor, project_id: int, update_id: int, seen: int, *, text: str) -> Update:
    in_project(Update, project_id, update_id)
    return change_row(Update, update_id, seen, {"text": text, "html": html_of(text)})


@act("remove_update")
def remove_update(actor: Actor, project_id: int, update_id: int, seen: int) -> None:
    in_project(Update, project_id, update_id)
    remove_row(Update, update_id, seen)


@act("note_call")
def note_call(actor: Actor, project_id: int, values: dict[str, Any], now: int) -> Call:
    """What a caller asked and was told. Never counts as an approval; `send_link_to` sends that person their own link,
    where an answer counts."""
    plain = known_values(values, "caller", "asked", "told")
    call = add_row(Call, project=project_id, staff=actor.id, at=now, **plain)
    if values.get("send_link_to") is not None:
        tell_link(project_id, values["send_link_to"], "send_link_to", now, {"call": call.id})
    return call
