"""The people of a house with their phones and links, and what they were told: updates, calls, messages."""

from dataclasses import dataclass

from flask import Response

from portal.pages.days.under_way import bare_words
from portal.pages.home.newest import first_sentence
from portal.store.facts import PersonFact, Snapshot, UpdateFact
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import project_row
from portal.store.rows.letters import mail_rows
from portal.store.rows.link_rows import live_links
from portal.web.desk.blueprint import PROJECT, blueprint
from portal.web.desk.people.crew_notes import noted_of
from portal.web.desk.people.mail_words import mail_words
from portal.web.desk.showing import show
from portal.words.dates import local, when_words
from portal.words.prose import words_of


@dataclass(frozen=True, slots=True)
class Posted:
    """An update as a row: its first sentence, when and by whom, the names of its photos."""

    id: int
    said: str
    words: str
    photos: list[str]


@blueprint.get(f"{PROJECT}/people/")
def people(project_id: int) -> Response:
    project_row(project_id)
    snapshot = read_snapshot(project_id)
    return show("people.html", project=snapshot.project, people=_people(snapshot), notes=noted_of(project_id))


@blueprint.get(f"{PROJECT}/updates/")
def updates(project_id: int) -> Response:
    project_row(project_id)
    snapshot = read_snapshot(project_id)
    return show("updates.html", project=snapshot.project, updates=_updates(snapshot))


def _people(snapshot: Snapshot) -> list[tuple[PersonFact, bool, str]]:
    """Each with whether they have a link that opens, and why they get no mail, if so."""
    linked = {person for _, person in live_links(snapshot.project.id)}
    mail, zone = mail_rows.of_project(snapshot.project.id), snapshot.project.timezone
    return [(one, one.id in linked, mail_words(mail[one.id], zone)) for one in snapshot.people]


def _updates(snapshot: Snapshot) -> list[Posted]:
    zone = snapshot.project.timezone
    return [
        Posted(one.id, _said(one, zone), f"{when_words(one.at, zone)}, {one.staff}",
               [photo.name for photo in one.photos])
        for one in snapshot.updates
    ]


def _said(one: UpdateFact, zone: str) -> str:
    """Its first sentence; of a picture without words what it shows, else its day."""
    shows = next((photo.caption for photo in one.photos if photo.caption), "")
    return first_sentence(words_of(one.html)) or shows or bare_words(len(one.photos), local(one.at, zone).date())
