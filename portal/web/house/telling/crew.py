"""What is for the crew only, under the link of whoever writes it: read, written and erased here, and nowhere kept."""

from datetime import date

from flask import Response, abort, redirect

from portal import clock
from portal.acts.actor import MAY
from portal.acts.household.crew_notes import DAYS, TEXTS, count_crew_note, write_crew_note
from portal.pages.telling.crew_page import render_crew_note
from portal.store.refusals import FieldRefused, Refused
from portal.store.rows.household import crew_note_rows
from portal.store.tables import CrewNote
from portal.web.answer import asked_to_wait, page
from portal.web.house.blueprint import blueprint, project_id, reader, snapshot, typed
from portal.words.dates import when_words
from portal.words.typed import legible


@blueprint.get("/crew/")
def crew_note() -> Response:
    note = _own()
    return _show({name: str(getattr(note, name) or "") if note else "" for name in (*DAYS, *TEXTS)})


@blueprint.post("/crew/")
def write_for_the_crew() -> Response:
    """Sent twice, it is the same: no mark is kept of it, from which a short code could be guessed."""
    _own()
    values = dict.fromkeys((*DAYS, *TEXTS), "") if typed("step") == "erase" else (
        {name: typed(name) for name in (*DAYS, *TEXTS)})
    try:
        count_crew_note(reader().key, clock.now())
        days = {name: _day(name, values[name]) for name in DAYS}
        write_crew_note(reader(), project_id(), {**values, **days}, clock.now())
    except Refused as refusal:
        said = str(refusal.details.get("message", refusal))
        kept = {name: legible(text) for name, text in values.items()}
        return asked_to_wait(_show(kept, said, refusal.status), refusal)
    return redirect("./", 303)  # type: ignore[return-value]


def _own() -> CrewNote | None:
    """What the reader has written. A designer has no key of the house to hand over."""
    if reader().role not in MAY["write_crew_note"]:
        abort(404)
    return crew_note_rows.of_person(reader().id)


def _show(values: dict[str, str], refusal: str = "", status: int = 200) -> Response:
    shown, note = snapshot(), crew_note_rows.of_person(reader().id)
    kept = when_words(note.changed_at, shown.project.timezone) if note else ""
    return page(render_crew_note(shown.firm, shown.project, values, kept, refusal), status)


def _day(name: str, text: str) -> date | None:
    try:
        return date.fromisoformat(text.strip()) if text.strip() else None
    except ValueError as error:
        raise FieldRefused(name, "Give the day as a date, such as 2026-12-04.") from error
