"""The shapes of what is told: updates with their photos, hand-overs, messages of the household, whether a visit suits.
They are part of a snapshot: import them from `portal.store.facts`."""

from dataclasses import dataclass
from datetime import date
from typing import NamedTuple


class VisitAnswerFact(NamedTuple):
    """Whether a visit, at these times, suits one person. `why`: their words, or nothing."""

    visit_id: int
    person_id: int
    person: str
    suits: bool
    why: str
    at: int
    starts_at: int
    ends_at: int


class PhotoFact(NamedTuple):
    update_id: int
    name: str
    caption: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class UpdateFact:
    id: int
    staff: str
    at: int
    html: str
    photos: tuple[PhotoFact, ...] = ()


class MessageFact(NamedTuple):
    """What somebody of the household told us. `photo`: its name, empty without one. `answer` None: we owe one."""

    id: int
    person_id: int
    person: str
    room_id: int | None
    text: str
    photo: str
    told_at: int
    answer: str | None
    answered_by: str | None
    answered_at: int | None


class ItemFact(NamedTuple):
    """An item of a hand-over's list; open until `done_at`."""

    id: int
    handover_id: int
    room_id: int | None
    item: str
    photo: str
    who: str
    by_on: date | None
    added_by: str
    done_at: int | None


@dataclass(frozen=True, slots=True)
class HandoverFact:
    """A phase, or with `phase_id` None the whole project, handed over with its list."""

    id: int
    phase_id: int | None
    note: str
    offered_at: int
    accepted_at: int | None
    accepted_name: str
    accepted_by: str = ""  # whose link it was
    items_until: date | None = None  # the household's last day to add to the list; None: until it is accepted
    items: tuple[ItemFact, ...] = ()

    @property
    def still_open(self) -> tuple[ItemFact, ...]:
        return tuple(item for item in self.items if item.done_at is None)

    def takes_items(self, today: date) -> bool:
        """Whether the household can add to the list. `today`: by the clock at the house."""
        return self.accepted_at is None if self.items_until is None else today <= self.items_until


class CrewFact(NamedTuple):
    """A crew of the firm. `week`: JSON text of its hours; None: those of the house. `days_off`: JSON text of dates."""

    id: int
    name: str
    trade: str = ""
    size: int | None = None
    phone: str = ""
    email: str = ""
    week: str | None = None
    days_off: str = "[]"
    active: bool = True


class CrewVisit(NamedTuple):
    """A visit of a crew with the house that it is at, also one that was called off."""

    id: int
    crew: str
    purpose: str
    starts_at: int
    ends_at: int
    version: int
    changed_at: int
    cancelled_at: int | None
    house: str
    address: str
    timezone: str
