"""What was said by mistake of a phase or a delivery, taken back at the desk: a row on the page of the phase, and a form
of its own, where the reason is asked for."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from flask import Response, request, url_for

from portal import clock
from portal.acts.plan import taking_back as acts
from portal.acts.visiting.deliveries import take_back_arrival
from portal.api.resources.underway.taking_back import MistakeSchema
from portal.pages.undoing.out_of_turn import effect_words
from portal.pages.undoing.taken_back import TAKEN_BACK, WHY, WHY_HINT, done_words
from portal.planning.calendar.week import CalendarError
from portal.planning.moves.what_if import FinishDays, if_not_come, if_not_finished, if_not_started
from portal.planning.schedule.plan import Plan, PlanError
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.project_plan import minutes, plan_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project
from portal.store.tables import Delivery, Phase
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form
from portal.web.forms.inputs import Field, Form
from portal.words.dates import local
from portal.words.lists import quoted
from portal.words.plurals import plural

ONE = f"{PROJECT}/phases/<int:phase_id>"
_REASON = Field("reason", WHY, "text", required=True, hint=WHY_HINT)
_STANDS = {
    "done": ("finish", "finish_taken_back"), "stopped": ("stop", "stop_taken_back"),
    "inspection": ("stop", "inspection_taken_back"), "under_way": ("start", "start_taken_back"),
}
"""By the state of a phase: below which path what was said last is taken back, and the entry that this makes."""


@dataclass(frozen=True, slots=True)
class MayTakeBack:
    """`way`: where its form is, below the page of the phase. `words`: the row; `effect`: what it does, in sentences."""

    way: str
    doing: str
    words: str
    effect: list[str]


def to_take_back(snapshot: Snapshot, phase: PhaseFact, now: int) -> MayTakeBack | None:
    """What was said last of the phase, and may still be taken back; None where there is nothing."""
    known = _STANDS.get(phase.state)
    if phase.state == "waiting" and phase.releases:
        known = ("release", "release_taken_back")
    if known is None:
        return None
    doing, kind = known
    if kind == "finish_taken_back" and any(one.phase_id in (phase.id, None) for one in snapshot.handovers):
        return None
    effect = list(_effect(snapshot, phase, kind, now))
    return MayTakeBack(f"{doing}/take-back", f"take_back_{doing}", TAKEN_BACK[kind].row, effect)


def arrival_to_take_back(snapshot: Snapshot, delivery_id: int, now: int) -> MayTakeBack:
    """That something came."""
    effect = _finish(snapshot, lambda plan: if_not_come(plan, delivery_id, minutes(now)), now)
    row = TAKEN_BACK["arrival_taken_back"].row
    return MayTakeBack("came/take-back", "take_back_arrival", row, list(effect))


def _effect(snapshot: Snapshot, phase: PhaseFact, kind: str, now: int) -> Iterator[str]:
    """What it does to the finish, and what goes or stays with it."""
    finders: dict[str, Callable[[Plan, int, int], FinishDays]] = {
        "start_taken_back": if_not_started, "finish_taken_back": if_not_finished}
    if kind in finders:
        yield from _finish(snapshot, lambda plan: finders[kind](plan, phase.id, minutes(now)), now)
    if kind == "start_taken_back":
        opens = [one for one in snapshot.decisions if phase.id in one.holds and one.work_has_begun]
        for one in opens:
            if one.state != "approved" and not one.withdrawn:
                yield f"Decision {one.number} is open again."
    if kind in finders:
        yield from _stays(snapshot, phase)
    if kind == "release_taken_back":
        yield "What is not approved holds it again."


def _stays(snapshot: Snapshot, phase: PhaseFact) -> Iterator[str]:
    begun = [one.name for one in snapshot.phases if one.started_at and phase.id in {before for before, _ in one.after}]
    if begun:
        has = plural(len(begun), "has", "have")
        yield f"{quoted(begun)} {has} begun, although what comes before is open then. That stays."


def _finish(snapshot: Snapshot, days: Callable[[Plan], FinishDays], now: int) -> Iterator[str]:
    try:
        words = effect_words(days(plan_of(snapshot)), local(now, snapshot.project.timezone).date(), "Taken back")
    except (CalendarError, PlanError, OverflowError):
        return
    if words:
        yield words


@form_page(f"{ONE}/start/take-back", "take_back_start")
def not_started(project_id: int, phase_id: int) -> Response:
    return _form(project_id, phase_id, "start_taken_back", acts.take_back_start)


@form_page(f"{ONE}/stop/take-back", "take_back_stop")
def not_resting(project_id: int, phase_id: int) -> Response:
    state = in_project(Phase, project_id, phase_id).state
    kind = "inspection_taken_back" if state == "inspection" else "stop_taken_back"
    return _form(project_id, phase_id, kind, acts.take_back_stop)


@form_page(f"{ONE}/finish/take-back", "take_back_finish")
def not_finished(project_id: int, phase_id: int) -> Response:
    return _form(project_id, phase_id, "finish_taken_back", acts.take_back_finish)


@form_page(f"{ONE}/release/take-back", "take_back_release")
def not_released(project_id: int, phase_id: int) -> Response:
    return _form(project_id, phase_id, "release_taken_back", acts.take_back_release)


@form_page(f"{PROJECT}/deliveries/<int:delivery_id>/came/take-back", "take_back_arrival")
def not_come(project_id: int, delivery_id: int) -> Response:
    item, kind = in_project(Delivery, project_id, delivery_id).item, "arrival_taken_back"

    def do(values: Values) -> str:
        take_back_arrival(who(), project_id, delivery_id, **values, now=clock.now())
        return done_words(kind, item)

    found = arrival_to_take_back(read_snapshot(project_id), delivery_id, clock.now())
    form = Form(f"{found.words}: {item}", [_REASON], MistakeSchema(), found.words, intro=" ".join(found.effect))
    return project_form(form, do, project_id)


def _form(project_id: int, phase_id: int, kind: str, act: Callable[..., Any]) -> Response:
    name = in_project(Phase, project_id, phase_id).name

    def do(values: Values) -> str:
        act(who(), project_id, phase_id, **values, now=clock.now())
        return done_words(kind, name)

    snapshot = read_snapshot(project_id)
    intro = " ".join(_effect(snapshot, snapshot.phase(phase_id), kind, clock.now()))
    form = Form(f"{TAKEN_BACK[kind].row}: {name}", [_REASON], MistakeSchema(), TAKEN_BACK[kind].row, intro=intro)
    from_house = request.form.get("back") == "house"
    then = "" if from_house else url_for("desk.phase", project_id=project_id, phase_id=phase_id)
    return project_form(form, do, project_id, then=then)
