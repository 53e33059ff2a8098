"""What the household told us, and which visits do not suit, in words: for pages, the desk and letters."""

from portal.store.facts import MessageFact, Snapshot, VisitAnswerFact
from portal.words.dates import when_words


def about_where(snapshot: Snapshot, message: MessageFact) -> str:
    """` (Kitchen)`, after who told us and when; nothing where it is about the whole house."""
    return "" if message.room_id is None else f" ({snapshot.room_name(message.room_id)})"


def told_words(snapshot: Snapshot, message: MessageFact) -> str:
    """`Jonas Okafor told us on Fri Nov 27, 4:10 pm (Kitchen): “The tap drips.”`"""
    when = when_words(message.told_at, snapshot.project.timezone)
    return f"{message.person} told us on {when}{about_where(snapshot, message)}: “{message.text}”"


def answer_words(snapshot: Snapshot, message: MessageFact) -> str:
    """Who answered, when and what; empty while nobody has."""
    if message.answer is None or message.answered_at is None:
        return ""
    when = when_words(message.answered_at, snapshot.project.timezone)
    return f"{message.answered_by or 'We'} answered on {when}: “{message.answer}”"


def said_of_visit(said: VisitAnswerFact) -> str:
    """`It does not suit Maren Okafor: “We are away.”`"""
    words = f"It {'suits' if said.suits else 'does not suit'} {said.person}"
    return f"{words}: “{said.why}”" if said.why else f"{words}."
