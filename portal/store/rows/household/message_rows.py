"""Messages of a household, and what its people said of visits."""

from portal.store.tables import Message


def one(message_id: int) -> Message:
    found: Message = Message.get_by_id(message_id)
    return found


def answer(message_id: int, text: str, staff_id: int, now: int) -> bool:
    """Whether it waited for an answer until now."""
    waiting = (Message.id == message_id) & Message.answer.is_null()
    changing = Message.update(answer=text, answered_by=staff_id, answered_at=now)
    return bool(changing.where(waiting).execute())
