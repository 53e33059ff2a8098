"""The schedule: every date that follows from other dates, computed for now."""

from datetime import date
from typing import Any

from marshmallow import Schema, fields, validate

from portal import clock
from portal.api.http.resource import under_project
from portal.api.http.warnings import ConflictSchema
from portal.pages.decision.moving import moved_if_late
from portal.pages.finish.moved import why_words
from portal.pages.outlook import outlook_of
from portal.planning.forecast.forecast import Forecast
from portal.planning.late_answers.curve import LateAnswers, late_answers
from portal.planning.moves.replay import CAUSES, Move
from portal.planning.schedule.answer_dates import AnswerDates
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import PhaseDates, Schedule
from portal.store.facts import Snapshot
from portal.store.reading.clashes import conflicts_in
from portal.store.reading.finish.moves import moved_finish
from portal.store.reading.forecasts import foresee
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot

blueprint = under_project("schedule", "Dates, floats, critical paths, and by when each answer is needed.")


class AsBookedSchema(Schema):
    """What the page says: booked visits kept where they can be, and what follows shifted with them."""

    start = fields.String()
    finish = fields.String()


class PhaseDatesSchema(Schema):
    phase = fields.Integer()
    early_start = fields.String()
    early_finish = fields.String()
    late_start = fields.String()
    late_finish = fields.String()
    total_float_hours = fields.Float()
    free_float_hours = fields.Float()
    critical = fields.Boolean()
    as_booked = fields.Nested(AsBookedSchema)


class FinishSchema(Schema):
    on = fields.Date()
    finish = fields.String()


class MovedSchema(Schema):
    """What an answer on this first day that is too late moves: phases that start later, visits that can't be kept."""

    on = fields.Date()
    phases = fields.List(fields.Integer())
    visits = fields.List(fields.Integer())


class AnswerDatesSchema(Schema):
    decision = fields.Integer()
    needed_by = fields.Date(allow_none=True)
    latest_by = fields.Date(allow_none=True, metadata={"description": (
        "The late start less the lead: an answer by then keeps the finish to the minute. By which day an answer still "
        "keeps its date, as the page says, is in finish_if_answered.")})
    overdue = fields.Boolean()
    finish_if_answered = fields.List(fields.Nested(FinishSchema))
    moves_if_late = fields.Nested(MovedSchema, allow_none=True)


class PhaseForecastSchema(Schema):
    phase = fields.Integer()
    likely_by = fields.String()
    safely_by = fields.String()
    critical_share = fields.Float()


class DecisionShareSchema(Schema):
    decision = fields.Integer()
    critical_share = fields.Float()


class DeliveryShareSchema(Schema):
    delivery = fields.Integer()
    critical_share = fields.Float()


class ForecastSchema(Schema):
    """Of the plan as booked. `chance_of_done`: in which share of the futures all is done by the end of `done_on`;
    `likely_by` holds in half of them, `safely_by` in four of five; `critical_share`: in which share something drives
    the finish."""

    made_at = fields.String()
    futures = fields.Integer()
    likely_by = fields.String()
    safely_by = fields.String()
    likely_on = fields.Date()
    safely_on = fields.Date()
    chance_of_done = fields.Float()
    promised_on = fields.Date(allow_none=True)
    chance_of_promise = fields.Float(allow_none=True)
    phases = fields.List(fields.Nested(PhaseForecastSchema))
    decisions = fields.List(fields.Nested(DecisionShareSchema))
    deliveries = fields.List(fields.Nested(DeliveryShareSchema))


class ScheduleSchema(Schema):
    computed_at = fields.String()
    finish = fields.String()
    finish_as_booked = fields.String()
    done_on = fields.Date(allow_none=True, metadata={"description": (
        "The day of finish_as_booked: what “done” means on every page and in each letter. Null while nothing is "
        "planned.")})
    critical_paths = fields.List(fields.List(fields.Integer()))
    all_paths_shown = fields.Boolean()
    phases = fields.List(fields.Nested(PhaseDatesSchema))
    decisions = fields.List(fields.Nested(AnswerDatesSchema))
    conflicts = fields.List(fields.Nested(ConflictSchema))
    forecast = fields.Nested(ForecastSchema, allow_none=True)


class MoveSchema(Schema):
    """On a `day` the end went from the date `before` to the date `after`: so many calendar `days` later, below zero
    earlier. `cause`: what kind of thing moved it; `did`: what happened, or did not, such as an entry's kind or
    not_answered; `about`: names of phases, items or crews, or numbers of decisions; `reason`: as somebody typed it;
    `words`: the sentence of the page."""

    day = fields.Date()
    before = fields.Date()
    after = fields.Date()
    days = fields.Integer()
    cause = fields.String(validate=validate.OneOf(CAUSES))
    did = fields.String()
    about = fields.List(fields.String())
    reason = fields.String()
    words = fields.String()


class MovesSchema(Schema):
    """`first_done_on`: the end by the plan on the day `since`, the first of which the record tells a plan. The days of
    all moves, oldest first, add up to `days`: those from then to `done_on`."""

    since = fields.Date(allow_none=True)
    first_done_on = fields.Date(allow_none=True)
    done_on = fields.Date(allow_none=True)
    days = fields.Integer()
    moves = fields.List(fields.Nested(MoveSchema))


@blueprint.route("/moves", endpoint="moves", methods=["GET"])
@blueprint.response(200, MovesSchema)
def moves(project_id: int) -> Any:
    snapshot = read_snapshot(project_id)
    schedule = schedule_of(snapshot, clock.now())
    found = moved_finish(snapshot, schedule)
    return {
        "since": found.since, "first_done_on": found.first, "done_on": outlook_of(snapshot, schedule).finish,
        "days": sum(move.days for move in found.moves),
        "moves": [_move(snapshot, move) for move in found.moves],
    }


@blueprint.route("", endpoint="one", methods=["GET"])
@blueprint.response(200, ScheduleSchema)
def one(project_id: int) -> Any:
    snapshot = read_snapshot(project_id)
    schedule = schedule_of(snapshot, clock.now())
    found = foresee(snapshot, schedule).forecast
    view = schedule_view(schedule)
    outlook = outlook_of(snapshot, schedule)
    for one in view["decisions"]:
        one["moves_if_late"] = moved_if_late(outlook, one["decision"])
    return view | {
        "done_on": outlook.finish,
        "conflicts": conflicts_in(schedule, project_id),
        "forecast": None if found is None else _forecast(schedule, found),
    }


def schedule_view(schedule: Schedule) -> dict[str, Any]:
    today = schedule.plan.calendar.day_of(schedule.now)
    curves, booked = late_answers(schedule), as_booked(schedule)
    return {
        "computed_at": _moment(schedule, schedule.now),
        "finish": _moment(schedule, schedule.finish),
        "finish_as_booked": _moment(schedule, booked.finish),
        "critical_paths": [list(path) for path in schedule.critical_paths],
        "all_paths_shown": schedule.all_paths_shown,
        "phases": [_phase(schedule, *dates) for dates in zip(schedule.phases, booked.phases, strict=True)],
        "decisions": [_decision(schedule, dates, today, curves.get(dates.decision)) for dates in schedule.decisions],
    }


def _phase(schedule: Schedule, dates: PhaseDates, booked: PhaseDates) -> dict[str, Any]:
    return {
        "phase": dates.phase,
        "early_start": _moment(schedule, dates.early_start),
        "early_finish": _moment(schedule, dates.early_finish),
        "late_start": _moment(schedule, dates.late_start),
        "late_finish": _moment(schedule, dates.late_finish),
        "total_float_hours": dates.total_float / 60,
        "free_float_hours": dates.free_float / 60,
        "critical": dates.critical,
        "as_booked": {
            "start": _moment(schedule, booked.early_start), "finish": _moment(schedule, booked.early_finish),
        },
    }


def _decision(schedule: Schedule, dates: AnswerDates, today: date, curve: LateAnswers | None) -> dict[str, Any]:
    rows = curve.pairs if curve else []
    return {
        "decision": dates.decision,
        "needed_by": dates.needed_by,
        "latest_by": dates.latest_by,
        "overdue": dates.overdue(today),
        "finish_if_answered": [{"on": on, "finish": _moment(schedule, finish)} for on, finish in rows],
    }


def _forecast(schedule: Schedule, found: Forecast) -> dict[str, Any]:
    return {
        "made_at": _moment(schedule, found.made_at),
        "futures": found.futures,
        "likely_by": _moment(schedule, found.likely_by),
        "safely_by": _moment(schedule, found.safely_by),
        "likely_on": found.likely_on,
        "safely_on": found.safely_on,
        "chance_of_done": found.sure,
        "promised_on": found.promised_on,
        "chance_of_promise": found.chance,
        "phases": [
            {"phase": one.phase, "likely_by": _moment(schedule, one.likely_by),
             "safely_by": _moment(schedule, one.safely_by), "critical_share": one.critical}
            for one in found.phases
        ],
        "decisions": [{"decision": one, "critical_share": share} for one, share in found.decisions.items()],
        "deliveries": [{"delivery": one, "critical_share": share} for one, share in found.deliveries.items()],
    }


def _move(snapshot: Snapshot, move: Move) -> dict[str, Any]:
    cause = move.cause
    return {
        "day": move.day, "before": move.before, "after": move.after, "days": move.days, "cause": cause.kind,
        "did": cause.did, "about": cause.about, "reason": cause.reason, "words": why_words(snapshot, move),
    }


def _moment(schedule: Schedule, instant: int) -> str:
    """RFC 3339 in the offset of the house."""
    return schedule.plan.calendar.moment(instant).isoformat()
