"""What the household tells us at any time, also when all is handed over; and our answer to it."""

from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.entries import keep
from portal.acts.keeping.photos import Kept
from portal.acts.limits import take
from portal.acts.refusals import MessageAnswered
from portal.acts.telling import tell_managers, tell_message_answered
from portal.acts.written import needed
from portal.store.reading.record_facts import photo_file
from portal.store.rows.editable import add_row, in_project
from portal.store.rows.household import message_rows
from portal.store.tables import Message, Room

LONGEST = 4000


def count_message(sender: str, now: int) -> None:
    """By the sender's key, before anything of theirs is looked at. Raises TooOften."""
    take("messages", sender, now)


@act("send_message")
def send_message(
    actor: Actor, project_id: int, *, text: str, room: int | None, photo: Kept | None, now: int
) -> Message:
    """Tell the firm something. `room` None: about the whole house; `photo` was kept by portal.acts.keeping.photos."""
    if room is not None:
        in_project(Room, project_id, room, field="room")
    text = needed("text", text, "Write what you want to tell us first.")
    message = add_row(
        Message, project=project_id, person=actor.id, room=room, text=text, told_at=now,
        photo=photo.name if photo else "", photo_sha256=photo.sha256 if photo else "",
    )  # fmt: skip
    keep(actor, project_id, "message_sent", _body(message), now)
    tell_managers(project_id, "message", {"message": message.id}, now)
    return message


@act("answer_message")
def answer_message(actor: Actor, project_id: int, message_id: int, *, answer: str, now: int) -> Message:
    message = in_project(Message, project_id, message_id)
    answer = needed("answer", answer, "Write the answer first.")
    if not message_rows.answer(message_id, answer, actor.id, now):
        before = message_rows.one(message_id)
        raise MessageAnswered(name=before.answered_by.name if before.answered_by else "the office")
    body = {"message": message.id, "text": message.text, "answer": answer}
    keep(actor, project_id, "message_answered", body, now)
    tell_message_answered(project_id, message, now)
    return message_rows.one(message_id)


def _body(message: Message) -> dict[str, Any]:
    return {
        "message": message.id, "text": message.text, "room": message.room.name if message.room else None,
        "room_id": message.room_id, "photo": photo_file(message.photo) if message.photo else None,
        "photo_sha256": message.photo_sha256 or None,
    }
