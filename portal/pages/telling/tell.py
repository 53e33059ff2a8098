"""Tell us something: the form on the page and on a page of its own, all that was told, and one message."""

from dataclasses import dataclass
from datetime import date, timedelta

from portal.pages.environment import render
from portal.pages.telling.words import answer_words, told_words
from portal.store.facts import MessageFact, RoomFact, Snapshot
from portal.words.dates import local

SHOWN_DAYS = 14
"""For so many days after it was given, an answer stands on the page; then it is read with all that was told."""


@dataclass(frozen=True, slots=True)
class Tell:
    """The form, and what stands beside it. `visits`: whether there is a visit to say something of; `told`: how much
    was told so far; `answered`: the answers of the last days; `text` and `room`: what was typed."""

    title: str
    rooms: tuple[RoomFact, ...]
    visits: bool = False
    told: int = 0
    answered: tuple[str, ...] = ()
    text: str = ""
    room: str = ""
    lives: bool = True


@dataclass(frozen=True, slots=True)
class Told:
    """One message in words; `answer` is empty while we owe it."""

    words: str
    who: str
    photo: str
    answer: str


def tell_section(snapshot: Snapshot, now: int, today: date) -> Tell:
    since = today - timedelta(days=SHOWN_DAYS)
    zone = snapshot.project.timezone
    answered = tuple(
        f"{told_words(snapshot, one)} {answer_words(snapshot, one)}" for one in snapshot.messages
        if one.answered_at is not None and local(one.answered_at, zone).date() > since
    )  # fmt: skip
    lives = _lives_there(snapshot)
    coming = lives and any(visit.ends_at > now for visit in snapshot.visits)
    return Tell(tell_title(snapshot), snapshot.rooms, coming, len(snapshot.messages), answered, lives=lives)


def _lives_there(snapshot: Snapshot) -> bool:
    """Whether somebody of the household reads this page: that without sums may be read by designers alone, who have no
    say on visits, and no keys to leave."""
    return snapshot.sums or any(one.role == "homeowner" and not one.reads_sums for one in snapshot.people)


def tell_title(snapshot: Snapshot) -> str:
    return "Tell us about a fault" if snapshot.project.closed_at is not None else "Tell us something"


def render_messages(
    snapshot: Snapshot, *, once: str, text: str = "", room: str = "", refusal: str = "", had_photo: bool = False
) -> str:
    """The form by itself, with what was typed and why it was refused; and all that was told, the newest first.
    `had_photo`: whether a photo was chosen, which no page can choose by itself again."""
    return render(
        "telling/messages.html", snapshot.firm, project=snapshot.project, once=once, refusal=refusal,
        had_photo=had_photo,
        tell=Tell(tell_title(snapshot), snapshot.rooms, text=text, room=room),
        told=[_told(snapshot, one) for one in reversed(snapshot.messages)], phone=_phone(snapshot),
    )  # fmt: skip


def render_message(snapshot: Snapshot, message: MessageFact) -> str:
    """What happens with it now; or what we answered."""
    hours = snapshot.project.office_hours or snapshot.firm.office_hours
    steps = [
        "It is on the list of our office, and whoever runs the work is told by mail.",
        "The answer comes by mail to whoever told us, and stands on the page.",
        *([f"The office reads it in its hours: {hours}."] if hours else []),
    ]
    return render(
        "telling/message.html", snapshot.firm, project=snapshot.project, one=_told(snapshot, message), next=steps,
        title="We have it" if message.answer is None else "Our answer", phone=_phone(snapshot),
    )  # fmt: skip


def _told(snapshot: Snapshot, one: MessageFact) -> Told:
    return Told(told_words(snapshot, one), one.person, one.photo, answer_words(snapshot, one))


def _phone(snapshot: Snapshot) -> str:
    return snapshot.project.phone or snapshot.firm.phone
