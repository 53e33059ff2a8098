"""The hold: nothing irreversible starts unapproved, except by a release that is on the record."""

import json
from collections.abc import Callable

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again, change_decision
from portal.acts.plan.phases import change_phase, remove_phase
from portal.acts.plan.starting import finish_phase, release_phase, start_phase
from portal.acts.refusals import AlreadyFinished, AlreadyStarted, FieldRefused, Held, NotHeld, NotStarted, NotYours
from portal.store.rows import decision_rows, plan_rows, record_rows
from portal.store.tables import Decision, Phase
from tests.house import NOW, House


def approve_drill(house: House) -> None:
    option = decision_rows.revision(house.decisions[1], 1).options[0]["key"]
    approve(
        house.homeowner, house.project, house.decisions[1], revision=1, option=option, name="Maren Okafor", now=NOW
    )


def last_entry(house: House) -> dict:
    return json.loads(list(record_rows.every(house.project))[-1][2])


def test_a_held_phase_does_not_start_and_the_decision_is_named(house: House) -> None:
    with pytest.raises(Held, match="decision 1 is approved") as refused:
        start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    assert refused.value.details["decision_ids"] == [house.decisions[1]]
    assert Phase.get_by_id(house.phases["drill"]).started_at is None


def test_after_the_approval_it_starts(house: House) -> None:
    approve_drill(house)
    phase = start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    assert (phase.state, phase.started_at) == ("under_way", NOW)
    assert last_entry(house)["kind"] == "started"


def test_an_approval_of_an_old_revision_does_not_lift_the_hold(house: House) -> None:
    approve_drill(house)
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Three holes after all?"}, NOW)
    with pytest.raises(Held):
        start_phase(house.manager, house.project, house.phases["drill"], now=NOW)


def test_a_release_lifts_the_hold_and_says_why_on_the_record(house: House) -> None:
    release_phase(house.manager, house.project, house.phases["drill"], reason="Template is on site", now=NOW)
    assert last_entry(house)["kind"] == "released"
    assert last_entry(house)["body"]["reason"] == "Template is on site"
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)


def test_a_released_phase_stays_on_the_plan_since_the_record_tells_of_it(house: House) -> None:
    drill = house.phases["drill"]
    release_phase(house.manager, house.project, drill, reason="Template is on site", now=NOW)
    with pytest.raises(FieldRefused, match="was released without an approval"):
        remove_phase(house.manager, house.project, drill, Phase.get_by_id(drill).version, now=NOW)
    assert Phase.get_by_id(drill).releases.count() == 1


def test_a_release_needs_a_reason(house: House) -> None:
    with pytest.raises(FieldRefused) as refused:
        release_phase(house.manager, house.project, house.phases["drill"], reason=" ", now=NOW)
    assert refused.value.field == "reason"
    assert record_rows.count(house.project) == 0


def test_what_is_not_held_needs_no_release(house: House) -> None:
    with pytest.raises(NotHeld):
        release_phase(house.manager, house.project, house.phases["top"], reason="Why not", now=NOW)


@pytest.mark.parametrize("who", ["office", "homeowner"])
def test_only_the_manager_releases_and_starts(house: House, who: str) -> None:
    for act in (start_phase, finish_phase):
        with pytest.raises(NotYours):
            act(getattr(house, who), house.project, house.phases["drill"], now=NOW)
    with pytest.raises(NotYours):
        release_phase(getattr(house, who), house.project, house.phases["drill"], reason="Please", now=NOW)


def test_a_phase_starts_once_and_finishes_once(house: House) -> None:
    top = house.phases["top"]
    with pytest.raises(NotStarted):
        finish_phase(house.manager, house.project, top, now=NOW)
    start_phase(house.manager, house.project, top, now=NOW)
    with pytest.raises(AlreadyStarted):
        start_phase(house.manager, house.project, top, now=NOW + 60)
    finish_phase(house.manager, house.project, top, now=NOW + 3600)
    with pytest.raises(AlreadyFinished):
        finish_phase(house.manager, house.project, top, now=NOW + 7200)


def test_it_does_not_finish_before_it_started_nor_start_tomorrow(house: House) -> None:
    top = house.phases["top"]
    with pytest.raises(FieldRefused, match="future"):
        start_phase(house.manager, house.project, top, now=NOW, at=NOW + 86400)
    start_phase(house.manager, house.project, top, now=NOW)
    with pytest.raises(FieldRefused, match="before it started"):
        finish_phase(house.manager, house.project, top, now=NOW + 60, at=NOW - 60)


def dropping(house: House) -> dict[str, Callable[[], object]]:
    """The ways in which a hold could be lost without a word."""
    drill, decision = Phase.get_by_id(house.phases["drill"]), Decision.get_by_id(house.decisions[1])
    return {
        "phase": lambda: change_phase(house.manager, house.project, drill.id, drill.version, {"held_by": []}, now=NOW),
        "decision": lambda: change_decision(
            house.manager, house.project, decision.id, decision.version, {"holds": []}, NOW
        ),
        "removing": lambda: remove_phase(house.manager, house.project, drill.id, drill.version, now=NOW),
    }


@pytest.mark.parametrize("way", ["phase", "decision", "removing"])
def test_a_hold_is_not_dropped_without_a_release(house: House, way: str) -> None:
    with pytest.raises(FieldRefused, match="Release it instead"):
        dropping(house)[way]()
    assert plan_rows.held_by(house.phases["drill"]) == [house.decisions[1]]
    with pytest.raises(Held):
        start_phase(house.manager, house.project, house.phases["drill"], now=NOW)


@pytest.mark.parametrize("way", ["phase", "decision"])
def test_after_a_release_or_an_approval_a_hold_may_be_taken_off(house: House, way: str) -> None:
    release_phase(house.manager, house.project, house.phases["drill"], reason="Set by mistake", now=NOW)
    dropping(house)[way]()
    assert plan_rows.held_by(house.phases["drill"]) == []


@pytest.mark.parametrize("way", ["phase", "decision"])
def test_what_held_work_that_has_started_stays(house: House, way: str) -> None:
    approve_drill(house)
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    with pytest.raises(FieldRefused, match="what held it stays"):
        dropping(house)[way]()
