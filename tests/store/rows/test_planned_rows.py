"""What a plan wants asked or ordered stays open until it is asked, ordered or dropped."""

import pytest

from portal.store import tables
from portal.store.engine.database import write
from portal.store.refusals import NotFound
from portal.store.rows import planned_rows
from tests.house import NOW, House


def question(house: House, *holds: int, project: int | None = None) -> tables.PlannedQuestion:
    return tables.PlannedQuestion.create(
        project=project or house.project, question="Which shelf?", options=[], holds=list(holds)
    )


def test_open_questions_are_the_projects_that_were_neither_asked_nor_dropped(house: House) -> None:
    first, asked, dropped = (question(house) for _ in range(3))
    elsewhere = question(house, project=house.other_project)
    with write():
        planned_rows.settle(asked, decision=house.decisions[1])
        planned_rows.settle(dropped, dropped_at=NOW)
    assert planned_rows.questions(house.project) == [first]
    assert planned_rows.question(house.project, first.id) == first
    for gone in (asked, dropped, elsewhere):
        with pytest.raises(NotFound, match="no such planned question"):
            planned_rows.question(house.project, gone.id)


def test_open_orders_are_the_projects_that_were_neither_ordered_nor_dropped(house: House) -> None:
    values = {"project": house.project, "phases": []}
    first, ordered = (tables.PlannedOrder.create(item=item, **values) for item in ("Brackets", "Rails"))
    with write():
        planned_rows.settle(ordered, delivery=house.deliveries["tile"])
    assert planned_rows.orders(house.project) == [first] and planned_rows.orders(house.other_project) == []
    assert planned_rows.order(house.project, first.id) == first
    with pytest.raises(NotFound, match="no such planned order"):
        planned_rows.order(house.project, ordered.id)


def test_a_phase_is_held_by_what_it_needs_asked(house: House) -> None:
    paint, shelves = house.phases["paint"], house.phases["shelves"]
    both, one = question(house, paint, shelves), question(house, shelves)
    assert planned_rows.holding(house.project, shelves) == [both, one]
    assert planned_rows.holding(house.project, paint) == [both]
    assert planned_rows.holding(house.project, house.phases["walk"]) == []


def test_what_is_dropped_is_neither_asked_nor_ordered_any_more(house: House) -> None:
    dropped = tables.PlannedOrder.create(project=house.project, item="Rails", phases=[])
    elsewhere = tables.PlannedOrder.create(project=house.other_project, item="Brackets", phases=[])
    with write():
        planned_rows.settle(dropped, dropped_at=NOW)
    assert planned_rows.orders(house.project) == [] and planned_rows.orders(house.other_project) == [elsewhere]
    kept = tables.PlannedOrder.get_by_id(dropped.id)
    assert (kept.dropped_at, kept.delivery_id) == (NOW, None)
    with pytest.raises(NotFound, match="no such planned order"):
        planned_rows.order(house.project, elsewhere.id)


def test_what_the_plan_wants_comes_as_it_was_planned(house: House) -> None:
    made = [question(house, house.phases["paint"]) for _ in range(3)]
    tables.PlannedQuestion.update(kind="paint").where(tables.PlannedQuestion.id == made[0].id).execute()
    assert planned_rows.questions(house.project) == made
    with write():
        planned_rows.settle(made[1], decision=house.decisions[1])
    assert planned_rows.holding(house.project, house.phases["paint"]) == [made[0], made[2]]
