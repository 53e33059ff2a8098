"""What a form offers to choose from: the rooms, phases and people of a project, the kinds of decisions."""

from collections.abc import Iterable

from portal.content import pieces
from portal.pages.where_and_when import in_room
from portal.store.facts import PhaseFact, Snapshot
from portal.web.forms.inputs import Choices
from portal.words.dates import day_words, local

NEWEST = 12
"""So many photos are offered of those that were sent."""


def rooms(snapshot: Snapshot) -> Choices:
    return [("", "The whole house"), *((str(room.id), room.name) for room in snapshot.rooms)]


def phases(snapshot: Snapshot, which: Iterable[PhaseFact] | None = None) -> Choices:
    every = snapshot.phases if which is None else which
    return [(str(phase.id), f"{phase.name}{in_room(snapshot, phase.id)}") for phase in every]


def phase_or_none(snapshot: Snapshot) -> Choices:
    return [("", "No phase of the plan"), *phases(snapshot)]


def startable(snapshot: Snapshot, besides: Iterable[int] = ()) -> Choices:
    """Phases that have not begun: only they can still be held or wait."""
    kept = set(besides)
    return phases(snapshot, [p for p in snapshot.phases if p.started_at is None or p.id in kept])


def kinds() -> Choices:
    """The kinds of decisions by the titles of their guidance; the general one first."""
    known = sorted(pieces("decisions"), key=lambda piece: (piece.name != "general", piece.title))
    return [(piece.name, piece.title) for piece in known]


def approvers(snapshot: Snapshot) -> Choices:
    people = [(str(p.id), f"Only {p.name}") for p in snapshot.people if p.role == "homeowner" and p.may_approve]
    return [("any", "Any one of the household"), ("all", "All who may approve"), *people]


def photos(snapshot: Snapshot) -> Choices:
    """The newest photos that were sent of a house, and those that its questions show: what an option may show."""
    zone = snapshot.project.timezone
    sent = {
        photo.name: f"{photo.caption or 'A photo'}, {day_words(local(update.at, zone).date())}"
        for update in snapshot.updates for photo in update.photos
    }
    shown = {
        photo["name"]: photo.get("caption") or f"A photo of “{option['title']}”"
        for decision in snapshot.decisions for option in decision.options for photo in option.get("photos") or ()
    }
    return [*list(sent.items())[:NEWEST], *((name, words) for name, words in shown.items() if name not in sent)]
