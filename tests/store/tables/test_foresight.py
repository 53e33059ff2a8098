"""Forecasts, the desk's lines and what a plan still wants: what a new one says, and what outlives what."""

from datetime import date

from portal.store import tables
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database

FORECAST = {"state": "s" * 64, "made_at": NOW, "futures": 400, "likely_by": NOW + 900, "safely_by": NOW + 1800}
LINE = {"changed": 3, "made_at": NOW, "good_until": NOW + 600}


def test_a_forecast_without_a_promise_has_no_chance_of_keeping_it(house: House) -> None:
    made = tables.Forecast.create(project=house.project, **FORECAST)
    found = tables.Forecast.get_by_id(made.id)
    assert (found.promised_on, found.chance) == (None, None)
    assert (found.phases, found.decisions, found.deliveries) == ([], [], [])


def test_a_forecast_keeps_its_shares_as_they_were_computed(house: House) -> None:
    shares = [[house.phases["paint"], NOW + 60, NOW + 120, 0.1 + 0.2]]
    made = tables.Forecast.create(
        project=house.project, promised_on=date(2026, 12, 18), chance=0.1 + 0.2, phases=shares, **FORECAST
    )
    found = tables.Forecast.get_by_id(made.id)
    assert (found.promised_on, found.chance, found.phases) == (date(2026, 12, 18), 0.1 + 0.2, shares)


def test_a_project_has_one_line_on_the_desk_and_many_forecasts(house: House) -> None:
    tables.DeskLine.create(project=house.project, **LINE)
    with refused_by_the_database("(?i)unique"):
        tables.DeskLine.create(project=house.project, **LINE)
    found = tables.DeskLine.get_by_id(house.project)
    assert (found.nearest, found.waiting) == (None, [])
    assert len({tables.Forecast.create(project=house.project, **FORECAST).id for _ in range(2)}) == 2


def test_lines_and_forecasts_go_with_their_project(house: House) -> None:
    for project in (house.project, house.other_project):
        tables.DeskLine.create(project=project, **LINE)
        tables.Forecast.create(project=project, **FORECAST)
    tables.Project.delete().where(tables.Project.id == house.other_project).execute()
    assert [row.project_id for row in tables.DeskLine.select()] == [house.project]
    assert [row.project_id for row in tables.Forecast.select()] == [house.project]


def test_a_planned_question_outlives_its_room_and_its_decision(house: House) -> None:
    room = tables.Room.create(project=house.project, name="Pantry")
    decision = tables.Decision.create(project=house.project, number=6)
    made = tables.PlannedQuestion.create(
        project=house.project, question="Which shelf?", options=[], room=room.id, decision=decision.id
    )
    assert (made.kind, made.lead_days, made.holds, made.dropped_at) == ("general", 1, [], None)
    room.delete_instance()
    decision.delete_instance()
    found = tables.PlannedQuestion.get_by_id(made.id)
    assert (found.question, found.room_id, found.decision_id) == ("Which shelf?", None, None)


def test_a_planned_order_outlives_its_delivery(house: House) -> None:
    made = tables.PlannedOrder.create(project=house.project, item="Tile", delivery=house.deliveries["tile"])
    tables.Delivery.delete().where(tables.Delivery.id == house.deliveries["tile"]).execute()
    found = tables.PlannedOrder.get_by_id(made.id)
    assert (found.item, found.phases, found.delivery_id, found.dropped_at) == ("Tile", [], None, None)
