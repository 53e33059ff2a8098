"""Today over random houses: whatever is late is named exactly once, goes once it is settled, and stays away while it is
told, until it changes. What is late is counted here from the tables."""

import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from random import Random
from typing import Any

import pytest
from freezegun import freeze_time
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from portal.acts.decisions.asking import answer_question
from portal.acts.decisions.closing import withdraw_question
from portal.acts.household.handovers import add_item, close_item, offer_handover
from portal.acts.household.messages import answer_message, send_message
from portal.acts.household.told_matters import mark_told
from portal.acts.plan.interruptions import resume_phase
from portal.acts.plan.planned_questions import drop_question
from portal.acts.plan.starting import finish_phase
from portal.acts.plan.starting_plans import drop_order
from portal.acts.visiting.deliveries import record_arrival
from portal.planning.schedule.booked import as_booked
from portal.store import tables
from portal.store.engine.database import close_database, stop_listening, touch, write
from portal.store.engine.tallies import close_tallies
from portal.store.reading import desk_lines
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import Refused
from portal.web.desk.today import today
from portal.web.desk.today.line import Line
from portal.words.dates import local
from tests.house import NOW, House, make_house
from tests.served import serve_house
from tests.store.reading.finish import random_acts
from tests.web.signed_in import Desk

Key = tuple[int, str]
"""A house and a matter in it."""
Act = Callable[[House, Random, int], object]


def _message(house: House, luck: Random, now: int) -> None:
    send_message(house.homeowner, house.project, text="The tap drips.", room=None, photo=None, now=now)


def _item(house: House, luck: Random, now: int) -> None:
    done = [one for one in _rows(tables.Phase, house) if one.finished_at]
    handover = offer_handover(
        house.manager, house.project, phase=luck.choice(done).id if done else None, note="", items=[], now=now)
    add_item(house.manager, house.project, handover.id, {"item": "A scratch", "by_on": _day(luck, now)}, now)


def _order(house: House, luck: Random, now: int) -> None:
    supplier = tables.Supplier.get_or_create(name="Northshore Stone", defaults={"lead_days": 9})[0]
    _planned(tables.PlannedOrder, house, luck, item="Top", supplier=luck.choice([None, supplier]))


def _to_ask(house: House, luck: Random, now: int) -> None:
    _planned(tables.PlannedQuestion, house, luck, question="Where does the seam go?", options=[], lead_days=2)


def _planned(table: Any, house: House, luck: Random, **values: Any) -> None:
    phases = [luck.choice(_rows(tables.Phase, house)).id]
    with write():
        touch(house.project)
        table.create(project=house.project, **{"phases" if table is tables.PlannedOrder else "holds": phases}, **values)


OWN: list[Act] = [_message, _item, _order, _to_ask]
ACTS: list[Act] = [*random_acts.ACTS, *OWN, *OWN, *OWN]


def _rows(table: Any, house: House) -> list[Any]:
    return list(table.select().where(table.project == house.project).order_by(table.id))


def _day(luck: Random, now: int) -> date:
    return datetime.fromtimestamp(now, UTC).date() + timedelta(days=luck.randint(-2, 6))


def late_by_hand(project: int, now: int) -> Iterator[str]:
    """The matters of a house that have a last day which is over, each by its key."""
    row, house = tables.Project.get_by_id(project), House(project=project)
    found = read_snapshot(project)
    plan = schedule_of(found, now)
    booked, calendar, today_ = as_booked(plan), plan.plan.calendar, local(now, row.timezone).date()

    def after(at: int) -> date:
        return calendar.add_days(local(at, row.timezone).date(), 1)

    def first_start(phases: list[int]) -> date | None:
        waiting = [one.id for one in _rows(tables.Phase, house) if one.id in phases and one.started_at is None]
        return min((calendar.day_of(booked.of(one).early_start) for one in waiting), default=None)

    days: list[tuple[str, date | None]] = []
    for one in _rows(tables.Delivery, house):
        days.append((f"comes:{one.id}", None if one.arrived_at else one.expected_high))
    for one in _rows(tables.Message, house):
        days.append((f"message:{one.id}", None if one.answer else after(one.told_at)))
    for one in tables.OpenItem.select().join(tables.Handover).where(tables.Handover.project == project):
        days.append((f"item:{one.id}", None if one.done_at else one.by_on))
    needed = {one.decision: one.needed_by for one in plan.decisions}
    for fact in found.decisions:
        by = needed.get(fact.id) if fact.is_open else None
        days.append((f"decision:{fact.id}", by if fact.state == "asked" else None))
        days += [(f"question:{one.id}", by or after(one.asked_at)) for one in fact.unanswered]
    for one in _rows(tables.PlannedOrder, house):
        start = first_start(one.phases)
        if start and not one.dropped_at and not one.delivery_id:
            lead = one.supplier and one.supplier.lead_days
            days.append((f"order:{one.id}", calendar.add_days(start, -lead, roll="backward") if lead else start))
    for one in _rows(tables.PlannedQuestion, house):
        start = first_start(one.holds)
        if start and not one.dropped_at and not one.decision_id:
            days.append((f"ask:{one.id}", calendar.add_days(start, -one.lead_days, roll="backward")))
    for one in _rows(tables.Phase, house):
        if one.state == "under_way" and one.remaining is None:
            last = calendar.day_of(calendar.add(one.started_at // 60, max(1, one.work_high + one.rested)) - 1)
            days.append((f"finish:{one.id}", calendar.add_days(last, 1) - timedelta(days=1)))
        elif one.state in ("inspection", "stopped"):
            at = one.inspection_at if one.state == "inspection" else one.resumes_at
            key = "passed" if one.state == "inspection" else "resume"
            days.append((f"{key}:{one.id}", at and calendar.day_of(at // 60)))
    return (key for key, day in days if day is not None and day < today_)


BY_HAND = {"comes", "message", "item", "decision", "question", "order", "ask", "finish", "passed", "resume"}


def settle(house: House, key: str, now: int) -> None:
    """Do what its line asks for."""
    kind, _, about = key.partition(":")
    number, project, office, manager = int(about), house.project, house.office, house.manager
    if kind == "comes":
        record_arrival(office, project, number, tables.Delivery.get_by_id(number).version, now=now)
    elif kind == "message":
        answer_message(office, project, number, answer="Sam comes on Friday.", now=now)
    elif kind == "item":
        close_item(manager, project, number, now=now)
    elif kind == "question":
        decision = tables.QuestionBack.get_by_id(number).decision_id
        answer_question(manager, project, decision, number, answer="Yes, it can.", now=now)
    elif kind == "decision":
        withdraw_question(manager, project, number, reason="Settled on site", lift_hold=True, now=now)
    elif kind == "order":
        drop_order(manager, project, number, now)
    elif kind == "ask":
        drop_question(manager, project, number, now)
    elif kind == "finish":
        finish_phase(manager, project, number, now=now)
    else:
        resume_phase(manager, project, number, now=now)


@dataclass(frozen=True)
class Seen:
    lines: dict[Key, Line]
    told: dict[Key, Line]
    counted: int


def _looked(desk: Desk, caught: list[dict[str, Any]]) -> Seen:
    """All pages of the list as its template gets them, each line once."""
    more: int | None = 1
    lines: list[Line] = []
    if desk.client.get("/desk/").status_code == 303:
        desk.sign_in("dana")  # the session has ended
    while more:
        caught.clear()
        assert desk.client.get(f"/desk/?whose=all&more={more}").status_code == 200
        shown = caught.pop()["list"]
        lines += [*shown.seen, *shown.folded]
        more = shown.next
    keys = Counter((one.house, one.key) for one in [*lines, *shown.told] if one.key)
    assert max(keys.values(), default=1) == 1, keys.most_common(1)
    return Seen({(one.house, one.key): one for one in lines}, {(one.house, one.key): one for one in shown.told},
                shown.late)


def _is_right(seen: Seen, now: int) -> None:
    expected = {(project, key) for project in (7, 8) for key in late_by_hand(project, now)}
    late = {key for key, one in [*seen.lines.items(), *seen.told.items()] if one.due.days_late(one.today)}
    assert {key for key in late if key[1].split(":")[0] in BY_HAND} == expected
    assert all(one.late for key, one in seen.lines.items() if key in expected)
    answered = [key for key in seen.told if key[1].startswith("decision:") or key not in expected]
    assert seen.counted == len([key for key in late if key in seen.lines or key in answered and key in expected])
    marked = {(one.project_id, one.matter): one.state for one in tables.ToldMark.select()}
    stands = {(project, one.key): one.state for project in (7, 8)
              for one in desk_lines.computed(project, now).matters}  # fmt: skip
    assert set(seen.told) == {key for key in {*seen.lines, *seen.told} if key in marked and marked[key] == stands[key]}


def _lived(luck: Random, look: Callable[[int], Seen]) -> None:
    houses = [House(), replace(House(), project=8, homeowner=House().other_homeowner)]
    houses = [replace(one, co_owner=one.co_owner if one.project == 7 else one.homeowner) for one in houses]
    now = NOW
    for _ in range(2):
        for _ in range(12):
            now += luck.choice([600, 7_200, 50_000])
            with suppress(Refused, IndexError):
                luck.choice(ACTS)(luck.choice(houses), luck, now)
        now += luck.choice([60, 90_000])
        for one in houses:
            desk_lines.keep(desk_lines.computed(one.project, now))  # as the tick does once a day
        seen = look(now)
        _is_right(seen, now)
        for project, key in luck.sample(sorted(seen.lines, key=str), min(3, len(seen.lines))):
            state = {one.key: one.state for one in desk_lines.computed(project, now).matters} if project else {}
            if key in state:
                mark_told(houses[0].office, project, matter=key, state=state[key], now=now)
        _is_right(seen := look(now), now)
        late = [key for key in [*seen.lines, *seen.told] if key[1].split(":")[0] in BY_HAND]
        for project, key in luck.sample(late, min(2, len(late))):
            with suppress(Refused):
                settle(houses[project - 7], key, now)
                seen = look(now)
                assert (project, key) not in seen.lines and (project, key) not in seen.told
                _is_right(seen, now)


@settings(max_examples=4, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(seed=st.integers(0, 10**6))
def test_each_late_thing_is_named_once_until_it_is_settled_or_told(seed: int) -> None:
    caught: list[dict[str, Any]] = []
    with tempfile.TemporaryDirectory() as folder, freeze_time(datetime.fromtimestamp(NOW, UTC)) as clock:
        make_house(Path(folder) / "portal.db")
        desk = Desk(serve_house(Path(folder))).sign_in("dana")
        stop_listening()  # nothing is published: lines of the list are kept by hand

        def look(now: int) -> Seen:
            clock.move_to(datetime.fromtimestamp(now, UTC))
            return _looked(desk, caught)

        with pytest.MonkeyPatch.context() as patch:
            really = today.show
            patch.setattr(today, "show", lambda template, **values: caught.append(values) or really(template, **values))
            _lived(Random(seed), look)
        close_database()
        close_tallies()
