"""Starting, finishing and releasing: when it really was, once each, and on the record."""

from typing import Any

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.plan.planned_questions import drop_question
from portal.acts.plan.starting import finish_phase, release_phase, start_phase
from portal.acts.refusals import (
    AlreadyFinished,
    AlreadyStarted,
    FieldRefused,
    Held,
    NotAsked,
    NotFound,
    NotHeld,
    NotStarted,
    Stale,
)
from portal.store.tables import Phase, PlannedQuestion, Release
from tests.acts.kept import entries, kinds, newest
from tests.held import hold_phase
from tests.house import NOW, House, at

EARLIER = at("2026-12-02T06:10")


def start(house: House, key: str = "top", **changed: Any) -> Phase:
    return start_phase(house.manager, house.project, house.phases[key], **{"now": NOW} | changed)


def finish(house: House, key: str = "cabinets", **changed: Any) -> Phase:
    return finish_phase(house.manager, house.project, house.phases[key], **{"now": NOW} | changed)


def release(house: House, key: str = "drill", reason: str = " They said so by phone ") -> list[Release]:
    return release_phase(house.manager, house.project, house.phases[key], reason=reason, now=NOW)


def row(house: House, key: str) -> Phase:
    found: Phase = Phase.get_by_id(house.phases[key])
    return found


def test_it_starts_now_or_when_it_really_did(house: House) -> None:
    assert (start(house).started_at, row(house, "top").state) == (NOW, "under_way")
    assert start(house, "floor_grout", at=EARLIER).started_at == EARLIER
    assert newest(house.project)["body"] == {
        "phase": house.phases["floor_grout"], "name": row(house, "floor_grout").name, "at": "2026-12-02T12:10:00Z",
        "open": [{"kind": "cure", "id": house.phases["floor"], "name": "Lay the floor tile"}],
    }  # fmt: skip
    assert kinds(house.project) == ["started", "started"]
    assert newest(house.project)["at"] == "2026-12-02T13:30:00Z"


def test_another_clock_may_be_a_minute_ahead_and_no_more(house: House) -> None:
    for does, key in ((start, "top"), (finish, "cabinets")):
        with pytest.raises(FieldRefused, match="lies in the future") as refused:
            does(house, key, at=NOW + 61)
        assert refused.value.field == "at"
    assert entries(house.project) == []
    assert start(house, at=NOW + 60).started_at == NOW + 60


def test_it_starts_once_and_says_when_that_was(house: House) -> None:
    start(house)
    with pytest.raises(AlreadyStarted, match="Set the stone top was started already, on .*Dec 2"):
        start(house, now=NOW + 90)
    assert row(house, "top").started_at == NOW


def test_who_has_seen_an_older_phase_starts_and_finishes_nothing(house: House) -> None:
    with pytest.raises(Stale):
        start(house, seen=99)
    with pytest.raises(Stale):
        finish(house, seen=99)
    assert entries(house.project) == []
    assert start(house, seen=row(house, "top").version).state == "under_way"
    assert finish(house, seen=row(house, "cabinets").version).state == "done"


def test_a_held_phase_names_every_decision_in_the_way(house: House) -> None:
    hold_phase(house.phases["drill"], [house.decisions[n] for n in (4, 1, 3)])
    with pytest.raises(Held, match="until decision 1 is approved and decision 4 is approved") as refused:
        start(house, "drill")
    assert refused.value.details["decision_ids"] == [house.decisions[1], house.decisions[4]]
    assert refused.value.details["decisions"] == [
        {"id": house.decisions[1], "number": 1, "state": "asked", "revision": 1},
        {"id": house.decisions[4], "number": 4, "state": "asked_back", "revision": 1},
    ]
    assert row(house, "drill").started_at is None


def test_what_the_plan_wants_asked_is_asked_or_dropped_first(house: House) -> None:
    question = PlannedQuestion.create(
        project=house.project, question="Which bolts?", options=[], holds=[house.phases["top"]]
    )
    with pytest.raises(NotAsked, match="the plan wants “Which bolts\\?” asked first"):
        start(house)
    drop_question(house.manager, house.project, question.id, NOW, reason="They have bolts")
    assert start(house).state == "under_way"


def test_a_finished_phase_has_no_work_left(house: House) -> None:
    Phase.update(remaining=90).where(Phase.id == house.phases["cabinets"]).execute()
    done = finish(house, at=EARLIER)
    assert (done.state, done.finished_at, done.remaining) == ("done", EARLIER, None)
    assert newest(house.project)["kind"] == "finished"
    assert newest(house.project)["body"]["at"] == "2026-12-02T12:10:00Z"


def test_it_finishes_after_it_started(house: House) -> None:
    began = row(house, "cabinets").started_at
    with pytest.raises(FieldRefused, match="can’t finish before it started, on .*Dec 1") as refused:
        finish(house, at=began - 1)
    assert refused.value.field == "at"
    assert finish(house, at=began).finished_at == began


def test_what_has_not_started_is_not_finished_and_what_is_done_not_again(house: House) -> None:
    with pytest.raises(NotStarted, match="Set the stone top has not been started"):
        finish(house, "top")
    with pytest.raises(AlreadyFinished, match="Lay the floor tile was finished already, on .*Dec 1"):
        finish(house, "floor")
    assert entries(house.project) == []


def test_a_release_is_kept_for_each_decision_in_the_way(house: House) -> None:
    (made,) = release(house)
    assert (made.phase_id, made.decision_id, made.reason, made.staff_id, made.at) == (
        house.phases["drill"], house.decisions[1], "They said so by phone", house.manager.id, NOW
    )  # fmt: skip
    assert newest(house.project)["body"] == {
        "phase": house.phases["drill"], "name": row(house, "drill").name, "reason": "They said so by phone",
        "decisions": [1],
    }  # fmt: skip
    assert start(house, "drill").state == "under_way"


@pytest.mark.parametrize("reason", ["", "  \n"])
def test_a_release_says_why(house: House, reason: str) -> None:
    with pytest.raises(FieldRefused, match="Say why") as refused:
        release(house, reason=reason)
    assert refused.value.field == "reason"
    assert Release.select().count() == 0


def test_what_is_approved_or_released_is_not_released_again(house: House) -> None:
    release(house)
    with pytest.raises(NotHeld):
        release(house)
    with pytest.raises(NotHeld):
        release(house, "vanity")
    approve(house.homeowner, house.project, house.decisions[2], revision=1, option="a", name="Maren Okafor", now=NOW)
    with pytest.raises(NotHeld):
        release(house, "grout")
    assert kinds(house.project).count("released") == 1


def test_the_phase_of_another_house_is_not_found(house: House) -> None:
    for does in (start_phase, finish_phase):
        with pytest.raises(NotFound):
            does(house.manager, house.other_project, house.phases["cabinets"], now=NOW)
    with pytest.raises(NotFound):
        release_phase(house.manager, house.other_project, house.phases["drill"], reason="So", now=NOW)
