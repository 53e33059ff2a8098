"""Starting from plans: rooms, phases, waits, holds, questions and orders become the project's; nothing goes out yet."""

import pytest

from portal.acts.actor import Actor
from portal.acts.plan.planned_questions import ask_planned, drop_question
from portal.acts.plan.starting import start_phase
from portal.acts.plan.starting_plans import (
    Chosen,
    LaidOut,
    drop_order,
    order_planned,
    start_from_plan,
    start_from_project,
)
from portal.acts.refusals import FieldRefused, NotAsked, NotFound, NotYours
from portal.planning.starting_plans.plans import PartLink
from portal.store.reading.label_waits import missing_waits
from portal.store.reading.plans_to_start_from import OURS, starter
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import plan_rows, planned_rows
from portal.store.tables import Decision, Delivery, Phase, PlannedQuestion
from tests.house import NOW, House

ANSWERS = [{"title": "One"}, {"title": "Two"}]


def chosen(key: str, **names: str) -> Chosen:
    return Chosen(key, starter(OURS, key), names)


def bath(house: House, **names: str) -> LaidOut:
    return start_from_plan(house.manager, house.other_project, [chosen("bath", **names)], now=NOW)


def test_a_plan_becomes_the_projects_own_and_can_be_scheduled(house: House) -> None:
    laid = bath(house)
    plan, snapshot = starter(OURS, "bath"), read_snapshot(house.other_project)
    assert [phase.name for phase in snapshot.phases] == [phase.name for phase in plan.phases]
    assert [room.name for room in snapshot.rooms] == [room.name for room in plan.rooms]
    waits = {name: wait for phase in plan.phases for name, wait in phase.after}
    assert sum(wait for phase in snapshot.phases for _, wait in phase.after) == sum(
        wait for phase in plan.phases for _, wait in phase.after
    ) and max(waits.values()) > 0
    schedule = schedule_of(snapshot, NOW)
    assert schedule.finish > NOW // 60 and len(schedule.phases) == len(laid.phases)
    taken = {take.service for phase in household_of(snapshot, schedule).phases for take in phase.takes}
    assert "toilet" in taken or "bath" in taken


def test_each_phase_remembers_which_one_of_the_plan_it_was(house: House) -> None:
    bath(house)
    keys = {f"bath.{phase.key}" for phase in starter(OURS, "bath").phases}
    assert {row.starter for row in Phase.select().where(Phase.project == house.other_project)} == keys


def test_nothing_is_asked_or_ordered_by_it(house: House) -> None:
    before = Decision.select().count(), Delivery.select().count()
    laid = bath(house)
    assert (Decision.select().count(), Delivery.select().count()) == before
    assert laid.questions and laid.questions == [one.id for one in planned_rows.questions(house.other_project)]


def test_a_phase_whose_question_was_not_asked_does_not_start(house: House) -> None:
    bath(house)
    question = next(one for one in planned_rows.questions(house.other_project) if one.holds)
    with pytest.raises(NotAsked, match="asked first"):
        start_phase(house.manager, house.other_project, question.holds[0], now=NOW)
    for one in planned_rows.holding(house.other_project, question.holds[0]):
        drop_question(house.manager, house.other_project, one.id, NOW, reason="They chose it long ago")
    assert start_phase(house.manager, house.other_project, question.holds[0], now=NOW).state == "under_way"


def test_a_planned_question_is_asked_once_and_then_holds(house: House) -> None:
    bath(house)
    question = next(one for one in planned_rows.questions(house.other_project) if one.holds)
    values = {"question": "Which tile?", "options": ANSWERS, "holds": question.holds}
    decision = ask_planned(house.manager, house.other_project, question.id, values, NOW)
    assert PlannedQuestion.get_by_id(question.id).decision_id == decision.id
    assert question.id not in [one.id for one in planned_rows.questions(house.other_project)]
    with pytest.raises(NotFound):
        ask_planned(house.manager, house.other_project, question.id, values, NOW)


def test_a_planned_order_is_ordered_or_dropped(house: House) -> None:
    first, *_ = bath(house).orders
    values = {"item": "Tile", "expected_on": read_snapshot(house.project).deliveries[0].expected_on, "phases": []}
    delivery = order_planned(house.office, house.other_project, first, values, now=NOW)
    assert Delivery.get_by_id(delivery.id).item == "Tile"
    for one in planned_rows.orders(house.other_project):
        drop_order(house.office, house.other_project, one.id, NOW)
    assert planned_rows.orders(house.other_project) == []


def test_two_of_a_kind_keep_apart_by_their_rooms(house: House) -> None:
    two = [chosen("bath", bath="Upper bath"), chosen("bath", bath="Lower bath")]
    laid = start_from_plan(house.manager, house.other_project, two, now=NOW)
    names = [row.name for row in Phase.select().where(Phase.project == house.other_project)]
    assert len(names) == len(set(names)) == len(laid.phases) == 2 * len(starter(OURS, "bath").phases)
    assert any(name.endswith("(Lower bath)") for name in names)


def test_plans_are_joined_by_links_and_share_rooms(house: House) -> None:
    plans = [chosen("kitchen"), chosen("stone_top")]
    ends = starter(OURS, "kitchen").phases[-1].key, starter(OURS, "stone_top").phases[0].key
    link = PartLink(f"stone_top.{ends[1]}", f"kitchen.{ends[0]}", 60)
    laid = start_from_plan(house.manager, house.other_project, plans, [link], now=NOW)
    snapshot = read_snapshot(house.other_project)
    assert [room.name for room in snapshot.rooms].count("Kitchen") == 1
    last = laid.phases[len(starter(OURS, "kitchen").phases) - 1]
    assert any((last, 60) in phase.after for phase in snapshot.phases)


def test_a_room_is_the_same_in_capitals(house: House) -> None:
    plans = [chosen("kitchen", kitchen="KITCHEN"), chosen("stone_top", kitchen="Kitchen")]
    start_from_plan(house.manager, house.other_project, plans, now=NOW)
    names = [room.name for room in read_snapshot(house.other_project).rooms]
    assert [name for name in names if name.casefold() == "kitchen"] == ["KITCHEN"]


def test_a_room_that_is_there_is_used_and_gets_what_it_lacks(house: House) -> None:
    start_from_plan(house.manager, house.project, [chosen("bath", bath="Hall bath")], now=NOW)
    rooms = {room.name: room for room in read_snapshot(house.project).rooms}
    assert len(rooms) == len(house.rooms) and "heat" not in str(rooms["Kitchen"].services)
    wanted = {service.service for service in starter(OURS, "bath").rooms[0].services}
    assert wanted <= {one["service"] if isinstance(one, dict) else one for one in rooms["Hall bath"].services}


def test_an_earlier_project_is_a_plan_to_start_from(house: House) -> None:
    laid = start_from_project(house.manager, house.other_project, house.project, now=NOW)
    old, new = read_snapshot(house.project), read_snapshot(house.other_project)
    assert [(p.name, p.crew, p.work_low, p.work_high) for p in new.phases] == [
        (p.name, p.crew, p.work_low, p.work_high) for p in old.phases
    ]
    assert {phase.state for phase in new.phases} == {"waiting"}
    assert all(phase.note == "" and phase.not_before is None for phase in new.phases)
    waited_for = [one.question for one in old.decisions if one.holds]
    assert 0 < len(laid.questions) == len(waited_for) < len(old.decisions), "what was asked by the way stays there"
    assert {one.question for one in new.planned} == set(waited_for) and len(laid.orders) == len(old.deliveries)
    # What the first phase takes is given back by the new project's own seventh phase.
    assert new.phases[0].takes[0]["back_with"] == new.phases[6].id


def test_what_an_earlier_project_has_not_asked_or_ordered_yet_comes_along(house: House) -> None:
    """Started from a plan, and another from that before anything was asked: the same questions hold the same work."""
    asked = bath(house)
    laid = start_from_project(house.manager, house.project, house.other_project, now=NOW)
    assert len(laid.questions) == len(asked.questions) > 0 and len(laid.orders) == len(asked.orders) > 0
    old, new = planned_rows.questions(house.other_project), planned_rows.questions(house.project)
    assert [(one.question, one.options, one.lead_days) for one in new] == [
        (one.question, one.options, one.lead_days) for one in old
    ]
    at = dict(zip(asked.phases, laid.phases, strict=True))
    assert [one.holds for one in new] == [[at[phase] for phase in one.holds] for one in old]


@pytest.mark.parametrize("earlier", [2, 99])
def test_no_project_starts_from_itself_or_from_none(house: House, earlier: int) -> None:
    with pytest.raises(FieldRefused) as refused:
        start_from_project(house.manager, house.other_project, earlier, now=NOW)
    assert refused.value.field == "project"


def test_a_link_that_leads_nowhere_is_refused_and_nothing_is_added(house: House) -> None:
    with pytest.raises(FieldRefused, match="don’t fit together"):
        nowhere = [PartLink("bath.tile", "bath.moon")]
        start_from_plan(house.manager, house.other_project, [chosen("bath")], nowhere, now=NOW)
    assert read_snapshot(house.other_project).phases == ()


def test_it_is_for_the_manager(house: House) -> None:
    with pytest.raises(NotYours):
        start_from_plan(house.office, house.other_project, [chosen("bath")], now=NOW)
    with pytest.raises(NotFound):
        start_from_project(Actor("manager", 1, "Dana", project=house.project), house.other_project, house.project, NOW)


def test_what_only_a_label_knows_is_asked_for_in_the_next_house_too(house: House) -> None:
    """An earlier plan brings what its phases were made from, so hours that nobody entered there are missed here."""
    earlier = start_from_plan(house.manager, house.other_project, [chosen("bath")], now=NOW)
    before = plan_rows.made_from(house.other_project)
    start_from_project(house.manager, house.project, house.other_project, now=NOW)
    after = plan_rows.made_from(house.project)
    assert [before[one] for one in earlier.phases] == [after[one] for one in sorted(after)]
    plans, both = {"bath": starter(OURS, "bath")}, ((house.other_project, before), (house.project, after))
    there, here = ([one.cure for one in missing_waits(read_snapshot(project), made, plans)] for project, made in both)
    assert here == there != []
