"""A phase at the desk: how it stands, and what can be done with it now."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from flask import Response, request, url_for

from portal import clock
from portal.acts.plan import interruptions, starting
from portal.acts.plan.phases import change_phase
from portal.acts.refusals import OutOfTurn
from portal.acts.times import existing_local
from portal.api.http.shapes import Hours, Strict, note_field, text_field
from portal.api.resources.phases import ReleaseSchema
from portal.pages.in_the_way import holds_in_the_way, left_by_a_release, release_words
from portal.pages.undoing.taken_back import WHY, WHY_HINT
from portal.request.asking_first import FINISHES, STARTS, AskedFirst, Tap, asked_first
from portal.request.pressed import pressed_at
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project, project_row
from portal.store.tables import Phase
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.forms import Values, project_form, seen
from portal.web.desk.plan.phase_words import closed_by, phase_words
from portal.web.desk.plan.taking_back import to_take_back
from portal.web.desk.showing import show
from portal.web.desk.slips import offer_back
from portal.web.forms.inputs import Field, Form
from portal.web.forms.plain_fields import HouseTime

ONE = f"{PROJECT}/phases/<int:phase_id>"
_SAID = ("Start", "Finish", "Stop", "Await inspection of")
"""What is taken back where it was a slip."""


class WhenForm(Strict):
    at = HouseTime(load_default=None, allow_none=True)


class StopForm(Strict):
    reason = text_field(2000, required=True)
    resumes_at = HouseTime(load_default=None, allow_none=True)


class InspectionForm(Strict):
    expected_at = HouseTime(load_default=None, allow_none=True)


class RemainingForm(Strict):
    remaining = Hours(required=True)


class NoteForm(Strict):
    note = note_field(2000, load_default="")


@blueprint.get(f"{ONE}/")
def phase(project_id: int, phase_id: int) -> Response:
    in_project(Phase, project_id, phase_id)
    snapshot = read_snapshot(project_id)
    return show("phase.html", project=snapshot.project, phase=snapshot.phase(phase_id),
                back=to_take_back(snapshot, snapshot.phase(phase_id), clock.now()), why=(WHY, WHY_HINT),
                **phase_words(snapshot, phase_id, clock.now()))


@form_page(f"{ONE}/start", "start_phase")
def start(project_id: int, phase_id: int) -> Response:
    def do(one: Phase, values: Values) -> str:
        at = _happened(project_id, values["at"])
        with _shown(asked, snapshot, phase_id, STARTS, at):
            starting.start_phase(who(), project_id, phase_id, now=clock.now(), at=at, asks=_not_asked())
        return " ".join([f"{one.name}: started.", *closed_by(read_snapshot(project_id), phase_id)])

    when = Field("at", "When it started", "moment", hint="Empty: just now.")
    snapshot, row = read_snapshot(project_id), in_project(Phase, project_id, phase_id)
    found = snapshot.phase(row.id)
    asked = [asked_first(snapshot, phase_id, STARTS, clock.now())] if found.started_at is None else []
    return _form(project_id, phase_id, "Start", [when], WhenForm(), do, template="phase_form.html", first=asked,
                 obstacles=list(holds_in_the_way(snapshot, found)), releasable=bool(snapshot.holding(found)), left=[])


@form_page(f"{ONE}/finish", "finish_phase")
def finish(project_id: int, phase_id: int) -> Response:
    def do(one: Phase, values: Values) -> str:
        at = _happened(project_id, values["at"])
        with _shown(asked, snapshot, phase_id, FINISHES, at):
            starting.finish_phase(who(), project_id, phase_id, now=clock.now(), at=at, asks=_not_asked())
        return f"{one.name}: finished."

    when = Field("at", "When it was finished", "moment", hint="Empty: just now.")
    snapshot = read_snapshot(project_id)
    begun = any(one.id == phase_id and one.started_at and not one.finished_at for one in snapshot.phases)
    asked = [asked_first(snapshot, phase_id, FINISHES, clock.now())] if begun else []
    return _form(project_id, phase_id, "Finish", [when], WhenForm(), do, template="phase_form.html", first=asked,
                 obstacles=[], left=[])


@form_page(f"{ONE}/release", "release_phase")
def release(project_id: int, phase_id: int) -> Response:
    def do(one: Phase, values: Values) -> str:
        starting.release_phase(who(), project_id, phase_id, reason=values["reason"], now=clock.now())
        after = read_snapshot(project_id)
        still = [one_left.words for one_left in left_by_a_release(after, after.phase(one.id), clock.now())]
        kept = "The reason is on the record and on the page."
        if not still:
            return f"{one.name} may start now. {kept}"
        return " ".join([f"{one.name} is released. {kept} What the release does not lift:", *still])

    snapshot, row = read_snapshot(project_id), in_project(Phase, project_id, phase_id)
    found = snapshot.phase(row.id)
    left = list(left_by_a_release(snapshot, found, clock.now()))
    why = Field("reason", "Why it may start without an approval", "text", required=True,
                hint="It goes on the record and on the page, with your name.")
    return _form(project_id, phase_id, "Release", [why], ReleaseSchema(), do, template="phase_form.html",
                 intro=release_words(snapshot, found), obstacles=[], left=left, first=[])


@form_page(f"{ONE}/stop", "stop_phase")
def stop(project_id: int, phase_id: int) -> Response:
    def do(one: Phase, values: Values) -> str:
        until = _instant(project_id, values["resumes_at"], "resumes_at")
        reason = values["reason"]
        interruptions.stop_phase(who(), project_id, phase_id, reason=reason, now=clock.now(), resumes_at=until,
                                 at=pressed_at())
        return f"{one.name} rests."

    why = Field("reason", "Why the work rests", "text", required=True, hint="The household reads this.")
    until = Field("resumes_at", "When it goes on", "moment", hint="Empty: nobody knows yet.")
    return _form(project_id, phase_id, "Stop", [why, until], StopForm(), do)


@form_page(f"{ONE}/resume", "resume_phase")
def resume(project_id: int, phase_id: int) -> Response:
    def do(one: Phase, values: Values) -> str:
        interruptions.resume_phase(who(), project_id, phase_id, now=clock.now(), at=pressed_at())
        return f"{one.name} goes on."

    return _form(project_id, phase_id, "Go on with", [], Strict(), do)


@form_page(f"{ONE}/inspection", "await_inspection")
def inspection(project_id: int, phase_id: int) -> Response:
    def do(one: Phase, values: Values) -> str:
        expected, at = _instant(project_id, values["expected_at"], "expected_at"), pressed_at()
        interruptions.await_inspection(who(), project_id, phase_id, now=clock.now(), expected_at=expected, at=at)
        return f"{one.name} waits for the inspector. Finish it when it has passed."

    when = Field("expected_at", "When the inspector is expected", "moment", hint="Empty: nobody knows yet.")
    return _form(project_id, phase_id, "Await inspection of", [when], InspectionForm(), do)


@form_page(f"{ONE}/remaining", "change_remaining")
def remaining(project_id: int, phase_id: int) -> Response:
    def do(one: Phase, values: Values) -> str:
        left = values["remaining"]
        interruptions.change_remaining(who(), project_id, phase_id, remaining=left, seen=seen(), now=clock.now())
        return f"{one.name}: what is left is noted, and the dates are computed anew."

    left = Field("remaining", "Hours of crew work left", "number", required=True)
    row = in_project(Phase, project_id, phase_id)
    return _form(project_id, phase_id, "What is left of", [left], RemainingForm(), do, _remaining_of(row),
                 seen=row.version)


@form_page(f"{ONE}/note", "change_phase")
def note(project_id: int, phase_id: int) -> Response:
    def do(one: Phase, values: Values) -> str:
        change_phase(who(), project_id, phase_id, seen(), values, now=clock.now())
        return f"{one.name}: the note is kept."

    row = in_project(Phase, project_id, phase_id)
    text = Field("note", "Note", "text")
    return _form(project_id, phase_id, "Note on", [text], NoteForm(), do, {"note": row.note}, seen=row.version)


def _form(
    project_id: int, phase_id: int, doing: str, asked: list[Field], schema: Strict, do: Callable[[Phase, Values], str],
    start: dict[str, Any] | None = None, *, template: str = "form.html", intro: str = "", **around: Any,
) -> Response:
    """A form about one phase. The word for what is done is its heading and its button."""
    row = in_project(Phase, project_id, phase_id)
    button = {"Go on with": "Go on", "What is left of": "Keep it", "Note on": "Keep the note",
              "Await inspection of": "Await inspection"}.get(doing, doing)
    form = Form(f"{doing}: {row.name}", asked, schema, button, template, intro=intro)
    from_house = request.form.get("back") == "house"  # its buttons stand on the first page of the house, too
    then = "" if from_house else url_for("desk.phase", project_id=project_id, phase_id=phase_id)
    answer = project_form(form, lambda values: do(row, values), project_id, start, then=then, from_house=from_house,
                          told="first" in around and not _not_asked(), **around)
    return _with_way_back(answer, project_id, row) if doing in _SAID else answer


def _with_way_back(answer: Response, project_id: int, row: Phase) -> Response:
    snapshot = read_snapshot(project_id)
    found = to_take_back(snapshot, snapshot.phase(row.id), clock.now())
    if found is None:
        return answer
    place = url_for("desk.phase", project_id=project_id, phase_id=row.id)
    return offer_back(answer, found.words, row.name, f"{place}{found.way}")


def _instant(project_id: int, moment: Any, field: str) -> int | None:
    """The wall clock of the house as an instant; one that does not exist is refused."""
    return None if moment is None else existing_local(moment, project_row(project_id).timezone, field)


def _happened(project_id: int, moment: Any) -> int:
    """As it was typed, else when the form was pressed."""
    return pressed_at() if moment is None else existing_local(moment, project_row(project_id).timezone, "at")


def _not_asked() -> bool:
    """Whether the form has not shown yet what speaks against it."""
    return "anyway" not in request.form


@contextmanager
def _shown(asked: list[AskedFirst], snapshot: Snapshot, phase_id: int, tap: Tap, at: int) -> Iterator[None]:
    """Where the act asks first, the form shows what of, as it was at the time that was typed."""
    try:
        yield
    except OutOfTurn:
        asked[:] = [asked_first(snapshot, phase_id, tap, clock.now(), at)]
        raise


def _remaining_of(row: Phase) -> dict[str, Any]:
    return {} if row.remaining is None else {"remaining": f"{row.remaining / 60:g}"}


