"""For random histories: once a mistake is taken back, all stands as in a house in which it never was made."""

import tempfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from portal.acts.plan import interruptions, starting, taking_back
from portal.acts.refusals import Held
from portal.acts.visiting.deliveries import record_arrival, take_back_arrival
from portal.notices.evenings.letter import facts_of, told_of
from portal.notices.notice_kinds import KINDS
from portal.notices.reminders import due_reminders, next_morning, remind
from portal.planning.schedule.booked import as_booked
from portal.store import tables
from portal.store.engine.database import close_database, execute
from portal.store.facts import Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import Refused
from portal.store.rows import notice_rows
from portal.words.dates import local
from tests.house import NOW, ZONE, House, make_house
from tests.store.reading.finish import random_acts
from tests.store.reading.finish.random_acts import act

WHY = "The wrong row"
BETWEEN = [
    random_acts._delivery, random_acts._visit, random_acts._visit_moved, random_acts._visit_cancelled,
    random_acts._approved, random_acts._asked_back, random_acts._work, random_acts._added,
]  # fmt: skip
"""What others do meanwhile, to other things than the mistake is about."""
Undo = Callable[[int], object]


def mistaken(house: House, luck: Random, now: int) -> list[Undo]:
    """Make a mistake, of one tap or several; how it is taken back, in this order."""
    phases = list(tables.Phase.select().where(tables.Phase.project == house.project).order_by(tables.Phase.id))
    expected = [one for one in tables.Delivery.select().order_by(tables.Delivery.id) if one.arrived_at is None]
    if expected and luck.random() < 0.25:
        one = luck.choice(expected)
        record_arrival(house.office, house.project, one.id, one.version, now=now)
        return [lambda at: take_back_arrival(house.office, house.project, one.id, reason=WHY, now=at)]
    phase = luck.choice([one for one in phases if one.finished_at is None] or phases)
    ids = (house.manager, house.project, phase.id)
    undo: list[Undo] = []
    if phase.state == "waiting":
        try:
            starting.start_phase(*ids, now=now)
        except Held:
            starting.release_phase(*ids, reason="They phoned", now=now)
            undo.append(lambda at: taking_back.take_back_release(*ids, reason=WHY, now=at))
            starting.start_phase(*ids, now=now)
        undo.append(lambda at: taking_back.take_back_start(*ids, reason=WHY, now=at))
        if luck.random() < 0.3:
            interruptions.stop_phase(*ids, reason="Rain came in", now=now + 10)
            interruptions.resume_phase(*ids, now=now + 20)
    if phase.state in ("waiting", "under_way") and luck.random() < 0.3:
        rest = luck.choice([interruptions.await_inspection, interruptions.stop_phase])
        rest(*ids, now=now + 30, **({"reason": "Rain came in"} if rest is interruptions.stop_phase else {}))
        undo.append(lambda at: taking_back.take_back_stop(*ids, reason=WHY, now=at))
    if phase.finished_at is None and (luck.random() < 0.6 or not undo):
        starting.finish_phase(*ids, now=now + 40)
        undo.append(lambda at: taking_back.take_back_finish(*ids, reason=WHY, now=at))
    return undo[::-1]


def tick(house: House, now: int) -> None:
    """Reminders are made; what is waiting and no longer true is dropped, as the sender does."""
    remind(now)
    for one in notice_rows.due(now):
        snapshot = read_snapshot(one.project_id)
        if not KINDS[one.kind].is_true(snapshot, one.person_id, one.about, now):
            notice_rows.settle(one.id, notice_rows.DROPPED, now)


def standing(house: House, now: int) -> tuple[object, ...]:
    found = read_snapshot(house.project)
    day = local(now + 24 * 3_600, ZONE).date()
    tomorrow = facts_of(told_of(found, day, now))
    due = _due(found, now)
    return _without_counts(found), _dates(found, now), due, tomorrow, _asked(house, due)


def _without_counts(found: Snapshot) -> Snapshot:
    """What counts commits, and the codes of questions, which no two houses share."""
    decisions = tuple(replace(one, check_code="") for one in found.decisions)
    return replace(found, project=found.project._replace(changed=0, entries=0), decisions=decisions)


def _dates(found: Snapshot, now: int) -> tuple[object, ...]:
    """Of the plan, and of the plan as booked, from which forecasts are made."""
    pure = schedule_of(found, now)
    return tuple((one.finish, one.phases, one.decisions, one.critical_paths) for one in (pure, as_booked(pure)))


def _due(found: Snapshot, now: int) -> list[tuple[int, int]]:
    return [(decision.id, person) for decision, person in due_reminders(found, now)]


def _asked(house: House, due: list[tuple[int, int]]) -> list[tuple[object, ...]]:
    """Who is asked, or reminded of what is due, whether that is on its way or was sent. A reminder of what was needed
    earlier for a while is not compared: it was made or not by the dates that were believed then."""
    wanted = (tables.Notice.project == house.project) & tables.Notice.kind.in_(("asked", "reminder"))
    rows = tables.Notice.select().where(wanted & (tables.Notice.state != "dropped"))
    return sorted(
        (one.kind, one.person_id, str(one.about)) for one in rows
        if one.kind == "asked" or (one.about["decision"], one.person_id) in due
    )  # fmt: skip


def lived(seed: int, erring: bool, did: list[bool]) -> tuple[object, ...]:
    """A life with the mistake, which notes in `did` what others could do meanwhile; or without it, as noted there."""
    luck, now = Random(seed), NOW
    with tempfile.TemporaryDirectory() as folder:
        house = make_house(Path(folder) / "house.db")
        for _ in range(luck.randint(1, 12)):
            now += luck.choice([60, 3_600, 40_000])
            act(house, luck, now)
        execute("DELETE FROM notice")
        tick(house, now)
        now += 3_600
        undo = mistaken(house, Random(seed + 1), now) if erring else []
        for at in range(4):
            now += luck.choice([60, 7_200, 50_000])
            tick(house, now)
            luckily, one = Random(seed + 10 + at), Random(seed + 20 + at).choice(BETWEEN)
            if erring:
                did.append(_does(one, house, luckily, now))
            elif did[at]:
                one(house, luckily, now)
        now += 3_600
        for take_back in undo:
            take_back(now)
        tick(house, now + 60)
        morning = next_morning(now + 60, ZONE)  # nobody is reminded at night
        tick(house, morning)
        found = standing(house, morning + 60)
        close_database()
    return found


def _does(one: random_acts.Act, house: House, luck: Random, now: int) -> bool:
    try:
        one(house, luck, now)
    except Refused:
        return False
    return True


@settings(max_examples=4, deadline=None)
@given(seed=st.integers(0, 10**6))
def test_what_is_taken_back_leaves_every_date_as_had_it_not_been(seed: int) -> None:
    did: list[bool] = []
    try:
        after = lived(seed, True, did)
    except Refused:  # nothing could be done by mistake in this house
        return
    assert after == lived(seed, False, did)
