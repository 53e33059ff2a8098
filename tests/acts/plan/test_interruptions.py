"""Between start and finish: work rests, goes on, waits for the inspector, takes longer."""

from typing import Any

import pytest

from portal.acts.plan.interruptions import await_inspection, change_remaining, resume_phase, stop_phase
from portal.acts.plan.starting import finish_phase
from portal.acts.refusals import AlreadyFinished, FieldRefused, NotFound, NotStarted, NotStopped, Stale
from portal.store.tables import Phase
from tests.acts.kept import entries, kinds, newest
from tests.house import NOW, House, at


def cabinets(house: House) -> Phase:
    """Under way since yesterday."""
    found: Phase = Phase.get_by_id(house.phases["cabinets"])
    return found


def stop(house: House, key: str = "cabinets", **changed: Any) -> Phase:
    values = {"reason": " The saw broke ", "now": NOW} | changed
    return stop_phase(house.manager, house.project, house.phases[key], **values)


def resume(house: House, key: str = "cabinets", **changed: Any) -> Phase:
    return resume_phase(house.manager, house.project, house.phases[key], **{"now": NOW} | changed)


def inspect(house: House, key: str = "cabinets", **changed: Any) -> Phase:
    return await_inspection(house.manager, house.project, house.phases[key], **{"now": NOW} | changed)


def remain(house: House, key: str = "cabinets", remaining: int = 90, seen: int | None = None) -> Phase:
    version = Phase.get_by_id(house.phases[key]).version if seen is None else seen
    return change_remaining(house.manager, house.project, house.phases[key], remaining=remaining, seen=version, now=NOW)


def test_work_rests_until_it_is_known_when_it_goes_on(house: House) -> None:
    resting = stop(house, resumes_at=at("2026-12-03T08:00"))
    assert (resting.state, resting.stopped_at, resting.resumes_at, resting.stopped_reason) == (
        "stopped", NOW, at("2026-12-03T08:00"), "The saw broke"
    )  # fmt: skip
    assert newest(house.project)["kind"] == "stopped"
    assert newest(house.project)["body"] == {
        "phase": house.phases["cabinets"], "name": resting.name, "reason": "The saw broke"
    }  # fmt: skip


def test_nobody_needs_to_know_when_it_goes_on(house: House) -> None:
    assert stop(house).resumes_at is None


@pytest.mark.parametrize("resumes_at", [NOW, NOW - 1])
def test_it_goes_on_in_the_future(house: House, resumes_at: int) -> None:
    with pytest.raises(FieldRefused, match="Give a time in the future") as refused:
        stop(house, resumes_at=resumes_at)
    assert refused.value.field == "resumes_at"
    assert stop(house, resumes_at=NOW + 1).resumes_at == NOW + 1


@pytest.mark.parametrize("reason", ["", " \t"])
def test_the_household_is_told_why_it_rests(house: House, reason: str) -> None:
    with pytest.raises(FieldRefused, match="Say why the work rests") as refused:
        stop(house, reason=reason)
    assert refused.value.field == "reason"
    assert (cabinets(house).state, entries(house.project)) == ("under_way", [])


def test_what_it_rested_is_counted_in_work_minutes_alone(house: House) -> None:
    """Stopped on Wednesday at 10, resumed on Thursday at 9: the rest of one day and an hour of the other."""
    stop(house, now=at("2026-12-02T10:00"))
    going = resume(house, now=at("2026-12-03T09:00"))
    assert going.rested == 6 * 60 + 30 + 60
    assert (going.state, going.stopped_at, going.resumes_at, going.inspection_at) == ("under_way", None, None, None)
    assert newest(house.project)["kind"] == "resumed"
    assert newest(house.project)["body"] == {"phase": house.phases["cabinets"], "name": going.name}
    stop(house, now=at("2026-12-03T10:00"))
    assert resume(house, now=at("2026-12-03T10:20")).rested == going.rested + 20


def test_a_night_is_no_rest(house: House) -> None:
    stop(house, now=at("2026-12-02T16:30"))
    assert resume(house, now=at("2026-12-03T08:00")).rested == 0


def test_with_the_work_that_is_left_said_it_is_that_much(house: House) -> None:
    remain(house, remaining=300)
    stop(house)
    assert resume(house).remaining == 300
    stop(house)
    assert resume(house, remaining=45).remaining == 45
    stop(house)
    assert resume(house, remaining=0).remaining == 0


def test_what_goes_on_already_is_not_resumed(house: House) -> None:
    with pytest.raises(NotStopped, match="is not resting"):
        resume(house)
    assert entries(house.project) == []


def test_it_waits_for_the_inspector_with_no_work_left(house: House) -> None:
    remain(house)
    waiting = inspect(house, expected_at=at("2026-12-04T09:00"))
    assert (waiting.state, waiting.inspection_at, waiting.stopped_at, waiting.remaining) == (
        "inspection", at("2026-12-04T09:00"), NOW, 0
    )  # fmt: skip
    assert newest(house.project)["kind"] == "inspection_awaited"
    assert newest(house.project)["body"]["expected_at"] == "2026-12-04T15:00:00Z"


def test_nobody_knows_when_the_inspector_comes(house: House) -> None:
    assert inspect(house).inspection_at is None
    assert newest(house.project)["body"]["expected_at"] is None


def test_the_inspector_may_ask_for_more_work_or_pass_it(house: House) -> None:
    inspect(house, expected_at=at("2026-12-04T09:00"))
    going = resume(house, now=at("2026-12-04T09:00"), remaining=60)
    assert (going.state, going.inspection_at, going.remaining) == ("under_way", None, 60)
    inspect(house, now=at("2026-12-04T11:00"))
    done = finish_phase(house.manager, house.project, house.phases["cabinets"], now=at("2026-12-04T13:00"))
    assert done.state == "done"
    assert kinds(house.project) == ["inspection_awaited", "resumed", "inspection_awaited", "finished"]


def test_what_rests_neither_rests_again_nor_is_inspected_nor_measured(house: House) -> None:
    stop(house)
    for does in (stop, inspect, remain):
        with pytest.raises(FieldRefused, match="rests or waits for inspection. Resume it first") as refused:
            does(house)
        assert refused.value.field == "state"
    resume(house)
    inspect(house)
    for does in (stop, inspect, remain):
        with pytest.raises(FieldRefused, match="Resume it first"):
            does(house)


def test_what_is_left_is_said_of_work_under_way_and_on_the_record(house: House) -> None:
    assert remain(house, remaining=150).remaining == 150
    assert newest(house.project)["body"] == {"changed": [cabinets(house).name]}
    with pytest.raises(Stale):
        remain(house, remaining=10, seen=cabinets(house).version - 1)
    assert cabinets(house).remaining == 150


@pytest.mark.parametrize("does", [stop, resume, inspect, remain])
def test_only_what_has_started_and_is_not_over_can_rest(house: House, does: Any) -> None:
    with pytest.raises(NotStarted, match="Set the stone top"):
        does(house, "top")
    with pytest.raises(AlreadyFinished, match="Lay the floor tile was finished already, on .*Dec 1"):
        does(house, "floor")
    assert entries(house.project) == []


def test_the_phase_of_another_house_is_not_found(house: House) -> None:
    for does, values in (
        (stop_phase, {"reason": "So", "now": NOW}), (resume_phase, {"now": NOW}), (await_inspection, {"now": NOW}),
        (change_remaining, {"remaining": 1, "seen": 1, "now": NOW}),
    ):  # fmt: skip
        with pytest.raises(NotFound):
            does(house.manager, house.other_project, house.phases["cabinets"], **values)  # type: ignore[operator]
