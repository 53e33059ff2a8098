"""Whom a caller asks for, and when they come: the household with their links, each crew that still has work here."""

from dataclasses import dataclass
from datetime import date

from portal.pages.outlook import Outlook
from portal.planning.crews.names import crew_key
from portal.store.facts import PhaseFact, Snapshot
from portal.store.rows.letters import mail_rows
from portal.store.rows.link_rows import live_links
from portal.web.desk.people.mail import no_mail
from portal.words.dates import dated_words, local
from portal.words.names import called

MOST = 6
"""So many crews stand open; those that come later are a fold."""


@dataclass(frozen=True, slots=True)
class Number:
    """`when`: a crew's next day here. `by_plan`: no visit is booked for it. `phone`: empty where the firm has none."""

    name: str
    when: str
    by_plan: bool
    phone: str


@dataclass(frozen=True, slots=True)
class OfHousehold:
    """`by_mail`: their link can be sent again at once; else a new one is made, to be texted or read out."""

    id: int
    name: str
    called: str
    phone: str
    by_mail: bool


def household_numbers(snapshot: Snapshot) -> list[OfHousehold]:
    """Everybody of the household."""
    names = [one.name for one in snapshot.people]
    reached = set() if no_mail() else _reached(snapshot.project.id)
    return [OfHousehold(one.id, one.name, called(one.name, names), one.phone, bool(one.email) and one.id in reached)
            for one in snapshot.people]


def crew_numbers(snapshot: Snapshot, outlook: Outlook, today: date) -> list[Number]:
    """Each crew with work before it, the next first: at work now, else on the day of its first visit, else on the one
    of the plan."""
    found: dict[str, tuple[date, Number]] = {}
    for phase in snapshot.phases:
        if phase.finished_at is None and phase.crew:
            one, key = _number(snapshot, outlook, phase, today), crew_key(phase.crew)
            found[key] = min(found.get(key, one), one, key=lambda each: (each[0], each[1].name))
    return [one for _, one in sorted(found.values(), key=lambda each: (each[0], each[1].name))]


def _reached(project_id: int) -> set[int]:
    """Who has a link that opens, and gets our mail."""
    mail = mail_rows.of_project(project_id)
    linked = {person for _, person in live_links(project_id)}
    return {one for one in linked if mail[one].stopped_at is None and not mail[one].comes_back}


def _number(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> tuple[date, Number]:
    zone, known = snapshot.project.timezone, snapshot.crews.get(crew_key(phase.crew))
    days = [day for one in snapshot.visits if one.phase_id == phase.id
            and (day := local(one.starts_at, zone).date()) >= today]
    other = known is not None and crew_key(known.name) != crew_key(phase.crew)
    name = f"{phase.crew} ({known.name})" if known and other else phase.crew
    phone = known.phone if known else ""
    if phase.state == "under_way":
        return today, Number(name, "now", False, phone)
    day = min(days, default=outlook.starts[phase.id])
    near = {0: "today", 1: "tomorrow"}.get((day - today).days, dated_words(day, today))
    return day, Number(name, near, not days, phone)
