"""How well our plans fit: the plans to start from, how far their times were off, and how often forecasts held."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from flask import Response

from portal.api.resources.plans import own_plans
from portal.planning.forecast.plan_against_actual import PlanDeviation, deviations
from portal.planning.forecast.track_record import Outcome, TrackRecord, track_record
from portal.store.reading.plan_fit import finished_phases, forecast_outcomes
from portal.store.reading.plans_to_start_from import Starter, starters
from portal.web.desk.blueprint import blueprint
from portal.web.desk.showing import show
from portal.words.plurals import counted, plural, times

_DAY = 24 * 60


@dataclass(frozen=True, slots=True)
class Off:
    """`times`: that would have fitted, in crew hours."""

    name: str
    words: str
    times: str


@blueprint.get("/plans/")
def plans() -> Response:
    found = starters(own_plans())
    phases, projects = forecast_outcomes()
    return show(
        "fitting.html", plans=[(one, _about(one)) for one in found if one.plan],
        refused=[one.refused for one in found if one.refused],
        off=[_off(one) for one in deviations(finished_phases(_titles(found)))],
        forecasts=[*_held("phases", phases), *_held("whole projects", projects)],
    )


def _titles(found: Iterable[Starter]) -> dict[str, str]:
    return {
        f"{one.key}.{phase.key}": f"{one.title}: {phase.name}"
        for one in found if one.plan for phase in one.plan.phases
    }


def _about(one: Starter) -> str:
    assert one.plan is not None
    whose = "The firm’s own." if one.own else "Comes with the portal."
    return f"{one.plan.about} {counted(len(one.plan.phases), 'phase')}. Times: {one.plan.source}. {whose}"


def _off(one: PlanDeviation) -> Off:
    if 0.95 <= one.ratio <= 1.05:
        took = "took as long as planned"
    else:
        took = f"took {one.ratio:.2g} times as long as planned" if one.ratio >= 0.1 else "took next to no time"
    within = f"{one.within} of {one.count} within what was planned at best and at worst"
    corrected = " / ".join(f"{minutes / 60:g}" for minutes in one.corrected)
    return Off(one.name, f"Finished {times(one.count)}; {took}; {within}.", corrected)


def _held(of: str, found: list[Outcome]) -> Iterator[str]:
    record = track_record(found)
    if record is None:
        yield f"Of {of} nothing is finished yet that was foreseen a week ahead."
        return
    yield (
        f"Of {record.count} {plural(record.count, of.removesuffix('s'), of)} foreseen a week ahead, {record.safe} "
        f"{plural(record.safe, 'was', 'were')} finished by the day that holds in 80 of 100 cases, "
        f"{record.likely} by the one that holds in 50. {_distance(record)}"
    )


def _distance(record: TrackRecord) -> str:
    """The middle one of all."""
    days = f"{record.off / _DAY:.1f} days"
    if abs(record.late) < _DAY / 10:
        return f"That day was off by {days}, as often early as late."
    return f"That day was off by {days}, rather too {'early' if record.late > 0 else 'late'}."
