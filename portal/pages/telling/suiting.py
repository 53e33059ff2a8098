"""Which visits suit: those to come, each with what was said of it, and the form to say more."""

from dataclasses import dataclass

from portal.pages.environment import render
from portal.pages.telling.words import said_of_visit
from portal.pages.where_and_when import hours_words, in_room
from portal.store.facts import Snapshot, VisitFact
from portal.words.dates import dated_words, local


@dataclass(frozen=True, slots=True)
class ToSay:
    """A visit to come. `why`: what was typed about it and not taken."""

    id: int
    when: str
    what: str
    said: list[str]
    starts_at: int
    why: str


def render_visits(
    snapshot: Snapshot, now: int, *, once: str, refusal: str = "", about: int | None = None, why: str = ""
) -> str:
    """`about`: the id of the visit of which `why` was typed, where that was refused."""
    visits = [
        _to_say(snapshot, visit, now, why if visit.id == about else "") for visit in snapshot.visits
        if visit.ends_at > now
    ]  # fmt: skip
    return render(
        "telling/visits.html", snapshot.firm, project=snapshot.project, visits=visits, once=once, refusal=refusal)


def _to_say(snapshot: Snapshot, visit: VisitFact, now: int, why: str) -> ToSay:
    zone = snapshot.project.timezone
    day = dated_words(local(visit.starts_at, zone).date(), local(now, zone).date())
    return ToSay(
        id=visit.id, when=f"{day}, {hours_words(visit, zone)}",
        what=f"{visit.crew}: {visit.purpose}{in_room(snapshot, visit.phase_id)}.",
        said=[said_of_visit(one) for one in snapshot.answers_to(visit)], starts_at=visit.starts_at, why=why,
    )
