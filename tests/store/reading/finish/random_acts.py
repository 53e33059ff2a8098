"""Random acts on the invented house, at times that only go on: what people do to a plan, refused or not."""

from collections.abc import Callable
from datetime import date, datetime, timedelta
from random import Random
from typing import Any

from portal.acts.decisions import answers, asking, asking_back, closing
from portal.acts.firm import projects
from portal.acts.plan import interruptions, phases, starting, taking_back
from portal.acts.visiting import deliveries, visits
from portal.store import tables
from portal.store.refusals import NotFound, Refused
from portal.words.dates import local
from tests.house import ZONE, House
from tests.household import CALENDAR

Act = Callable[[House, Random, int], object]


def act(house: House, luck: Random, now: int) -> str:
    """Do one; its name, and whether it was refused."""
    one = luck.choice(ACTS)
    try:
        one(house, luck, now)
    except Refused as refused:
        return f"{one.__name__}: {type(refused).__name__}"
    return one.__name__


def _row(luck: Random, table: type[tables.Table], house: House) -> Any:
    found = list(table.select().where(table.project == house.project))
    if not found:
        raise NotFound(what="row")
    return luck.choice(found)


def _work(house: House, luck: Random, now: int) -> object:
    phase, work = _row(luck, tables.Phase, house), luck.choice([60, 510, 1_530])
    values = {"work_low": work, "work_likely": work, "work_high": work}
    return phases.change_phase(house.manager, house.project, phase.id, phase.version, values, now)


def _follows(house: House, luck: Random, now: int) -> object:
    phase, other = _row(luck, tables.Phase, house), _row(luck, tables.Phase, house)
    values = {"after": [{"phase": other.id, "wait": luck.choice([0, 1_440])}]}
    return phases.change_phase(house.manager, house.project, phase.id, phase.version, values, now)


def _added(house: House, luck: Random, now: int) -> object:
    values = {"name": f"More {luck.random()}", "work_low": 60, "work_likely": 60, "work_high": 60}
    return phases.add_phase(house.manager, house.project, values, now)


def _removed(house: House, luck: Random, now: int) -> object:
    phase = _row(luck, tables.Phase, house)
    return phases.remove_phase(house.manager, house.project, phase.id, phase.version, now)


def _started(house: House, luck: Random, now: int) -> object:
    return starting.start_phase(house.manager, house.project, _row(luck, tables.Phase, house).id, now=now)


def _finished(house: House, luck: Random, now: int) -> object:
    return starting.finish_phase(house.manager, house.project, _row(luck, tables.Phase, house).id, now=now)


def _released(house: House, luck: Random, now: int) -> object:
    phase = _row(luck, tables.Phase, house)
    return starting.release_phase(house.manager, house.project, phase.id, reason="The stone can't wait", now=now)


def _start_back(house: House, luck: Random, now: int) -> object:
    phase = _row(luck, tables.Phase, house)
    return taking_back.take_back_start(house.manager, house.project, phase.id, reason="The wrong row", now=now)


def _finish_back(house: House, luck: Random, now: int) -> object:
    phase = _row(luck, tables.Phase, house)
    return taking_back.take_back_finish(house.manager, house.project, phase.id, reason="The wrong row", now=now)


def _stop_back(house: House, luck: Random, now: int) -> object:
    phase = _row(luck, tables.Phase, house)
    return taking_back.take_back_stop(house.manager, house.project, phase.id, reason="The wrong row", now=now)


def _release_back(house: House, luck: Random, now: int) -> object:
    phase = _row(luck, tables.Phase, house)
    return taking_back.take_back_release(house.manager, house.project, phase.id, reason="The wrong row", now=now)


def _arrival_back(house: House, luck: Random, now: int) -> object:
    one = _row(luck, tables.Delivery, house)
    return deliveries.take_back_arrival(house.office, house.project, one.id, reason="Another crate", now=now)


def _stopped(house: House, luck: Random, now: int) -> object:
    phase, on = _row(luck, tables.Phase, house), luck.choice([None, now + 200_000])
    return interruptions.stop_phase(
        house.manager, house.project, phase.id, reason="Rain came in", now=now, resumes_at=on
    )


def _resumed(house: House, luck: Random, now: int) -> object:
    return interruptions.resume_phase(house.manager, house.project, _row(luck, tables.Phase, house).id, now=now)


def _left(house: House, luck: Random, now: int) -> object:
    phase = _row(luck, tables.Phase, house)
    return interruptions.change_remaining(
        house.manager, house.project, phase.id, remaining=luck.choice([30, 2_000]), seen=phase.version, now=now
    )


def _inspected(house: House, luck: Random, now: int) -> object:
    phase = _row(luck, tables.Phase, house)
    return interruptions.await_inspection(house.manager, house.project, phase.id, now=now, expected_at=now + 90_000)


def _delivery(house: House, luck: Random, now: int) -> object:
    one, day = _row(luck, tables.Delivery, house), _day(now, luck)
    values = {"expected_on": day, "expected_low": day, "expected_high": day, "reason": "The truck broke"}
    return deliveries.change_delivery(house.office, house.project, one.id, one.version, values, now)


def _ordered(house: House, luck: Random, now: int) -> object:
    values = {"item": "Lamps", "expected_on": _day(now, luck), "phases": [_row(luck, tables.Phase, house).id]}
    return deliveries.order_delivery(house.office, house.project, values, now)


def _arrived(house: House, luck: Random, now: int) -> object:
    one = _row(luck, tables.Delivery, house)
    return deliveries.record_arrival(house.office, house.project, one.id, one.version, now=now)


def _not_ordered(house: House, luck: Random, now: int) -> object:
    one = _row(luck, tables.Delivery, house)
    return deliveries.remove_delivery(house.office, house.project, one.id, one.version, now)


def _visit(house: House, luck: Random, now: int) -> object:
    starts = datetime.combine(_day(now, luck), datetime.min.time()).replace(hour=9)
    values = {"crew": "Tile setter", "purpose": "Look", "phase": _row(luck, tables.Phase, house).id,
              "starts_at": starts, "ends_at": starts.replace(hour=11), "were_here": True}  # fmt: skip
    return visits.book_visit(house.office, house.project, values, now)


def _visit_moved(house: House, luck: Random, now: int) -> object:
    one, starts = _row(luck, tables.Visit, house), datetime.combine(_day(now, luck), datetime.min.time())
    values = {"starts_at": starts.replace(hour=8), "ends_at": starts.replace(hour=12), "reason": "The crew is ill",
              "were_here": True}  # fmt: skip
    return visits.change_visit(house.office, house.project, one.id, one.version, values, now)


def _visit_cancelled(house: House, luck: Random, now: int) -> object:
    one = _row(luck, tables.Visit, house)
    return visits.cancel_visit(house.office, house.project, one.id, one.version, because="Ill", now=now)


def _approved(house: House, luck: Random, now: int) -> object:
    one = _row(luck, tables.Decision, house)
    return answers.approve(
        luck.choice([house.homeowner, house.co_owner]), house.project, one.id, revision=one.revision, option="a",
        name=luck.choice(["Maren Okafor", "Jonas Okafor"]), now=now,
    )


def _taken_back(house: House, luck: Random, now: int) -> object:
    one = _row(luck, tables.Decision, house)
    return answers.withdraw(house.homeowner, house.project, one.id, reason="We think again", now=now)


def _asked_back(house: House, luck: Random, now: int) -> object:
    one = _row(luck, tables.Decision, house)
    return asking_back.ask_back(house.homeowner, house.project, one.id, revision=one.revision, text="Why?", now=now)


def _asked(house: House, luck: Random, now: int) -> object:
    values = {"question": "Which lamp?", "options": [{"title": "This"}, {"title": "That"}],
              "holds": [_row(luck, tables.Phase, house).id], "lead_days": luck.randint(0, 3)}  # fmt: skip
    return asking.ask_decision(house.manager, house.project, values, now)


def _question_withdrawn(house: House, luck: Random, now: int) -> object:
    one = _row(luck, tables.Decision, house)
    return closing.withdraw_question(
        house.manager, house.project, one.id, reason="Settled on site", lift_hold=luck.random() < 0.5, now=now
    )


def _project(house: House, luck: Random, now: int) -> object:
    project = tables.Project.get_by_id(house.project)
    values = luck.choice([
        {"calendar": CALENDAR | {"days_off": [str(_day(now, luck))]}}, {"calendar": CALENDAR},
        {"timezone": luck.choice([ZONE, "America/New_York"])}, {"starts_on": _day(now, luck)},
    ])  # fmt: skip
    return projects.change_project(house.office, house.project, project.version, dict(values), now)


def _day(now: int, luck: Random) -> date:
    return local(now, ZONE).date() + timedelta(days=luck.randint(0, 12))


ACTS: list[Act] = [
    _work, _follows, _added, _removed, _started, _started, _finished, _finished, _released, _stopped, _resumed, _left,
    _inspected, _delivery, _delivery, _ordered, _arrived, _not_ordered, _visit, _visit_moved, _visit_cancelled,
    _start_back, _finish_back, _stop_back, _release_back, _arrival_back,
    _approved, _approved, _taken_back, _asked_back, _asked, _question_withdrawn, _project,
]  # fmt: skip
