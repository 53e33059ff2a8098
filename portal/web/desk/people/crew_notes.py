"""What is for the crew only, at the desk: on the page of the house, on a sheet for the crew of one day, and erased."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from flask import Response, request

from portal import clock
from portal.acts.actor import allow
from portal.acts.household.crew_notes import TEXTS, erase_crew_note
from portal.api.http.shapes import Strict
from portal.pages.telling.crew_page import crew_note_words
from portal.pages.telling.words import said_of_visit
from portal.pages.where_and_when import hours_words, in_room
from portal.store.facts import Snapshot, VisitFact
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project
from portal.store.rows.household import crew_note_rows
from portal.store.tables import CrewNote
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.forms import Values, project_form
from portal.web.desk.showing import show
from portal.web.forms.inputs import Form
from portal.words.dates import day_words, local


@dataclass(frozen=True, slots=True)
class Noted:
    """What one person has written for the crew: labels and words."""

    id: int
    name: str
    parts: list[tuple[str, str]]


def noted_of(project_id: int) -> list[Noted]:
    return [_noted(one) for one in crew_note_rows.of_project(project_id)]


@blueprint.get(f"{PROJECT}/crew")
def crew_of_the_day(project_id: int) -> Response:
    """`?on=`: the day, today unless named. Who comes, and what they must know to get in."""
    allow(who(), "erase_crew_note", project_id)
    snapshot = read_snapshot(project_id)
    day = _day(request.args.get("on", "")) or local(clock.now(), snapshot.project.timezone).date()
    visits = list(_on(snapshot, day))
    return show("crew_of_the_day.html", project=snapshot.project, day=day_words(day), visits=visits,
                notes=noted_of(project_id))


@form_page(f"{PROJECT}/crew/<int:note_id>/erase", "erase_crew_note")
def erase_noted(project_id: int, note_id: int) -> Response:
    note = in_project(CrewNote, project_id, note_id)

    def do(values: Values) -> str:
        erase_crew_note(who(), project_id, note_id)
        return "It is erased."

    form = Form(f"Erase what {note.person.name} wrote for the crew", [], Strict(), "Erase it",
                intro="It is gone for good: from here, and from the database.")
    return project_form(form, do, project_id)


def _noted(one: CrewNote) -> Noted:
    parts = crew_note_words(one.away_from, one.away_to, {name: getattr(one, name) for name in TEXTS})
    return Noted(one.id, one.person.name, list(parts))


def _on(snapshot: Snapshot, day: date) -> Iterator[tuple[str, str, list[str]]]:
    """Each visit of the day: its hours, who comes to do what, and what was said of it."""
    zone = snapshot.project.timezone
    for visit in snapshot.visits:
        if _covers(visit, day, zone):
            what = f"{visit.crew}: {visit.purpose}{in_room(snapshot, visit.phase_id)}."
            yield hours_words(visit, zone), what, [said_of_visit(one) for one in snapshot.answers_to(visit)]


def _covers(visit: VisitFact, day: date, zone: str) -> bool:
    return local(visit.starts_at, zone).date() <= day <= local(visit.ends_at - 1, zone).date()


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
