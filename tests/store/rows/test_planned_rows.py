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
