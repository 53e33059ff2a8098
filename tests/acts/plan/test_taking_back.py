"""Taking back a start, a rest, a finish, a release, an arrival: two entries, and everything as if it had not been."""

from dataclasses import replace
from typing import Any

import pytest

from portal.acts.decisions.answers import approve, withdraw
from portal.acts.household.handovers import offer_handover
from portal.acts.plan import interruptions, starting, taking_back
from portal.acts.refusals import (
    FieldRefused,
    FinishFirst,
    HandedOver,
    Held,
    NeverCame,
    NeverFinished,
    NeverReleased,
    NeverStarted,
    NeverStopped,
    RestFirst,
    StartFirst,
    WorkHasBegun,
)
from portal.acts.visiting.deliveries import record_arrival, take_back_arrival
from portal.notices.reminders import remind
from portal.store.engine.database import execute
from portal.store.facts import Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import notice_rows
from portal.store.tables import Delivery, Notice, Phase
from tests.acts.kept import entries, kinds, newest
from tests.house import NOW, House, at

WHY = " The wrong row "
LATER = NOW + 3_600


def start(house: House, key: str, now: int = NOW, **more: Any) -> Phase:
    return starting.start_phase(house.manager, house.project, house.phases[key], now=now, **more)


def finish(house: House, key: str, now: int = NOW, **more: Any) -> Phase:
    return starting.finish_phase(house.manager, house.project, house.phases[key], now=now, **more)


def back(house: House, did: str, key: str, now: int = LATER, reason: str = WHY) -> Any:
    act = getattr(taking_back, f"take_back_{did}")
    return act(house.manager, house.project, house.phases[key], reason=reason, now=now)


def standing(house: House) -> Snapshot:
    """All that pages and dates follow from; not how often it was changed, nor how long the record is."""
    found = read_snapshot(house.project)
    return replace(found, project=found.project._replace(changed=0, entries=0))


def tell_the_rows(house: House) -> None:
    """The first entry of a house tells all rows as they stand then."""
    item = house.deliveries["tile"]
    record_arrival(house.office, house.project, item, Delivery.get_by_id(item).version, now=NOW - 7_200)
    take_back_arrival(house.office, house.project, item, reason="The wrong row", now=NOW - 7_100)


def test_two_mistaken_taps_are_taken_back_and_all_stands_as_before(house: House) -> None:
    tell_the_rows(house)
    before = standing(house)
    start(house, "walk")
    finish(house, "walk", NOW + 60)
    assert schedule_of(standing(house), LATER).finish != schedule_of(before, LATER).finish
    with pytest.raises(FinishFirst, match="was finished on .*Take that back first"):
        back(house, "start", "walk")
    assert back(house, "finish", "walk").state == "under_way"
    assert back(house, "start", "walk").state == "waiting"
    assert standing(house) == before
    assert kinds(house.project)[-4:] == ["started", "finished", "finish_taken_back", "start_taken_back"]
    assert newest(house.project)["body"] == {
        "phase": house.phases["walk"], "name": "Walk through the work with you", "reason": "The wrong row",
        "at": "2026-12-02T13:30:00Z", "entry": 3, "since": "2026-12-02T13:30:00Z",
    }  # fmt: skip


def test_what_was_left_and_how_it_stood_comes_back_with_a_finish(house: House) -> None:
    tell_the_rows(house)
    one = Phase.get_by_id(house.phases["cabinets"])
    interruptions.change_remaining(house.manager, house.project, one.id, remaining=95, seen=one.version, now=NOW)
    interruptions.stop_phase(house.manager, house.project, one.id, reason="The saw broke", now=NOW)
    resting = standing(house)
    finish(house, "cabinets", NOW + 60)
    assert back(house, "finish", "cabinets").state == "stopped"
    assert standing(house) == resting
    assert resting.phase(one.id).stopped_reason == "The saw broke" and resting.phase(one.id).remaining == 95


def test_a_rest_or_an_inspection_is_taken_back_before_the_start(house: House) -> None:
    tell_the_rows(house)
    ids = (house.manager, house.project, house.phases["cabinets"])
    before = standing(house)
    interruptions.stop_phase(*ids, reason="The saw broke", now=NOW, resumes_at=NOW + 90_000)
    with pytest.raises(RestFirst, match="Set the base cabinets rests. Take that back first"):
        back(house, "start", "cabinets")
    back(house, "stop", "cabinets")
    assert standing(house) == before and newest(house.project)["kind"] == "stop_taken_back"
    interruptions.await_inspection(*ids, now=NOW + 60)
    with pytest.raises(RestFirst, match="waits for its inspection"):
        back(house, "start", "cabinets")
    back(house, "stop", "cabinets")
    assert standing(house) == before and newest(house.project)["kind"] == "inspection_taken_back"
    assert back(house, "start", "cabinets").state == "waiting"


def test_a_rest_that_is_over_goes_with_the_start(house: House) -> None:
    tell_the_rows(house)
    before = standing(house)
    started = start(house, "floor_grout")
    ids = (house.manager, house.project, started.id)
    interruptions.stop_phase(*ids, reason="No grout", now=NOW + 60)
    interruptions.resume_phase(*ids, now=NOW + 50_000, remaining=30)
    assert back(house, "start", "floor_grout", NOW + 50_060).rested == 0
    assert standing(house) == before


def test_before_the_record_told_rows_a_finish_is_taken_back_all_the_same(house: House) -> None:
    assert back(house, "finish", "rough").state == "under_way"
    body = newest(house.project)["body"]
    assert "entry" not in body and body["at"] == "2026-11-20T18:00:00Z"


def test_there_must_be_something_to_take_back_and_a_reason(house: House) -> None:
    nothing: list[tuple[str, str, type[Exception]]] = [
        ("start", "top", NeverStarted), ("finish", "cabinets", NeverFinished), ("stop", "cabinets", NeverStopped),
        ("release", "drill", NeverReleased),
    ]
    for did, key, refusal in nothing:
        with pytest.raises(refusal):
            back(house, did, key)
    with pytest.raises(NeverCame, match="Splash tile has not come"):
        take_back_arrival(house.office, house.project, house.deliveries["tile"], reason="Oh well", now=NOW)
    for did in ("start", "finish", "stop", "release"):
        with pytest.raises(FieldRefused, match="how the mistake came about") as refused:
            back(house, did, "cabinets", reason=" - ")
        assert refused.value.field == "reason"
    assert entries(house.project) == []


def test_what_is_handed_over_stays_finished(house: House) -> None:
    offer_handover(house.manager, house.project, phase=house.phases["out"], note="", items=[], now=NOW)
    with pytest.raises(HandedOver, match="goes on that hand-over’s list"):
        back(house, "finish", "out")
    assert back(house, "finish", "rough").finished_at is None


def test_a_release_by_mistake_holds_again_unless_it_has_started(house: House) -> None:
    tell_the_rows(house)
    before = standing(house)
    starting.release_phase(house.manager, house.project, house.phases["drill"], reason="They phoned", now=NOW)
    start(house, "drill", NOW + 60)
    with pytest.raises(StartFirst, match="was started on .*Take that back first, then its release"):
        back(house, "release", "drill")
    back(house, "start", "drill")
    back(house, "release", "drill")
    with pytest.raises(Held):
        start(house, "drill", LATER)
    with pytest.raises(NeverReleased):
        back(house, "release", "drill")
    assert standing(house) == before
    assert kinds(house.project)[-4:] == ["released", "started", "start_taken_back", "release_taken_back"]
    starting.release_phase(house.manager, house.project, house.phases["drill"], reason="In writing now", now=LATER)
    assert start(house, "drill", LATER).state == "under_way"


def test_an_approval_that_came_meanwhile_stands(house: House) -> None:
    """The release goes; what it lifted is settled by then."""
    ids = (house.manager, house.project, house.phases["drill"])
    starting.release_phase(*ids, reason="They phoned", now=NOW)
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    start(house, "drill", NOW + 60)
    back(house, "start", "drill")
    back(house, "release", "drill")
    withdraw(house.homeowner, house.project, house.decisions[1], reason="We think again", now=LATER)
    with pytest.raises(Held):
        start(house, "drill", LATER)


def test_it_has_not_come_and_phases_wait_for_it_again(house: House) -> None:
    tell_the_rows(house)
    before, item = standing(house), Delivery.get_by_id(house.deliveries["stone"])
    record_arrival(house.office, house.project, item.id, item.version, now=NOW)
    assert schedule_of(standing(house), NOW) != schedule_of(before, NOW)
    take_back_arrival(house.office, house.project, item.id, reason="Another crate", now=LATER)
    assert standing(house) == before
    assert newest(house.project)["body"]["reason"] == "Another crate"


def closed_by_a_start(house: House, told: bool = True) -> tuple[int, dict[str, Any]]:
    """Decision 1 is asked of both, told or not; then a release and a start close it."""
    number = house.decisions[1]
    about = {"decision": number, "number": 1, "revision": 1}
    for person in (house.homeowner, house.co_owner):
        notice_rows.add(house.project, person.id, "asked", about, NOW - 9_000)
    if told:
        execute("UPDATE notice SET state = 'sent', settled_at = ?", NOW - 8_000)
    starting.release_phase(house.manager, house.project, house.phases["drill"], reason="They phoned", now=NOW)
    start(house, "drill")
    return number, about


def notices(house: House, state: str = "waiting") -> list[tuple[str, int]]:
    found = Notice.select().where((Notice.project == house.project) & (Notice.state == state)).order_by(Notice.id)
    return [(one.kind, one.person_id) for one in found]


def test_a_question_that_the_start_had_closed_is_open_again_and_whoever_was_asked_is_told_once(house: House) -> None:
    number, about = closed_by_a_start(house)
    with pytest.raises(WorkHasBegun):
        approve(house.homeowner, house.project, number, revision=1, option="a", name="Maren Okafor", now=NOW + 60)
    back(house, "start", "drill")
    assert read_snapshot(house.project).decision(number).is_open
    assert notices(house) == [("opened_again", house.homeowner.id), ("opened_again", house.co_owner.id)]
    approve(house.homeowner, house.project, number, revision=1, option="a", name="Maren Okafor", now=LATER)


def test_a_slip_that_is_mended_at_once_is_told_nobody(house: House) -> None:
    closed_by_a_start(house)
    back(house, "start", "drill", NOW + 120)
    assert notices(house) == []


def test_letters_that_were_kept_back_because_of_the_start_go_out_after_all(house: House) -> None:
    closed_by_a_start(house, told=False)
    execute("UPDATE notice SET state = 'dropped', settled_at = ?", NOW + 300)  # as the sender does with what is moot
    back(house, "start", "drill")
    assert notices(house) == [("asked", house.homeowner.id), ("asked", house.co_owner.id)]


def test_a_reminder_that_was_kept_back_is_not_lost(house: House) -> None:
    """There is one for each revision, ever: it would never be made again."""
    remind(at("2026-12-02T08:30"))
    assert ("reminder", house.homeowner.id) in notices(house)
    execute("UPDATE notice SET state = 'dropped', settled_at = ?", NOW + 7_200)
    before = {one for one in notices(house, "dropped") if one[0] == "reminder"}
    closed = {house.decisions[1], house.decisions[2]}
    for key in ("drill", "grout"):
        ids = (house.manager, house.project, house.phases[key])
        starting.release_phase(*ids, reason="They phoned", now=NOW)
        start(house, key, NOW + 60)
        back(house, "start", key, NOW + 8_000)
    assert all(read_snapshot(house.project).decision(one).is_open for one in closed)
    assert {one for one in notices(house) if one[0] == "reminder"} == before
