"""A form that waited on a phone: what it tells of happened when it was pressed, within bounds alike for all."""

from collections.abc import Callable

import pytest

from portal.store.tables import Call, Delivery, Phase, Update
from tests.acts.kept import newest
from tests.house import NOW, House
from tests.web.desk.plan.test_phases import way
from tests.web.signed_in import Desk

HOUR, DAY = 3600, 24 * 3600

Told = Callable[[House], int]


def phase(key: str, column: str) -> Told:
    return lambda house: int(getattr(Phase.get_by_id(house.phases[key]), column))


def pressed(desk: Desk, house: House, doing: str, at: int, status: int = 200) -> None:
    delivery = Delivery.select().where(Delivery.arrived_at.is_null()).first()
    ways = {
        "update": "/desk/projects/7/updates/new", "call": "/desk/projects/7/calls/new",
        "came": f"/desk/projects/7/deliveries/{delivery.id}/came", "stop": way(house, "cabinets", "stop"),
        "finish": way(house, "cabinets", "finish"), "inspection": way(house, "cabinets", "inspection"),
        "start": way(house, "top", "start"),
    }  # fmt: skip
    typed = {"update": {"text": "Seen"}, "call": {"caller": "Maren", "asked": "When?"}, "stop": {"reason": "Rain"}}
    desk.open(ways[doing]).send(status=status, pressed_at=str(at), **typed.get(doing, {}))


TOLD: dict[str, Told] = {
    "update": lambda house: Update.select().order_by(Update.id.desc()).first().at,
    "call": lambda house: Call.select().order_by(Call.id.desc()).first().at,
    "came": lambda house: max(row.arrived_at or 0 for row in Delivery.select()),
    "stop": phase("cabinets", "stopped_at"),
    "finish": phase("cabinets", "finished_at"),
    "inspection": phase("cabinets", "stopped_at"),
    "start": phase("top", "started_at"),
}


@pytest.mark.parametrize("doing", TOLD)
def test_it_happened_when_it_was_pressed(manager: Desk, house: House, doing: str) -> None:
    """The entry is of now: only what it tells of is earlier."""
    pressed(manager, house, doing, NOW - 2 * HOUR)
    assert TOLD[doing](house) == NOW - 2 * HOUR
    assert newest(house.project)["at"] == "2026-12-02T13:30:00Z"


def test_what_goes_on_went_on_when_it_was_pressed(manager: Desk, house: House) -> None:
    manager.open(way(house, "cabinets", "stop")).send(reason="Rain", pressed_at=str(NOW - DAY + 4 * HOUR))
    manager.open(way(house, "cabinets", "resume")).send(pressed_at=str(NOW - DAY + 6 * HOUR))
    assert phase("cabinets", "rested")(house) == 120


@pytest.mark.parametrize(("at", "told"), [(NOW - 119, NOW), (NOW + 60, NOW), (NOW - 121, NOW - 121)])
def test_a_form_that_came_at_once_is_of_now(manager: Desk, house: House, at: int, told: int) -> None:
    pressed(manager, house, "update", at)
    assert TOLD["update"](house) == told


@pytest.mark.parametrize(("at", "word"), [(NOW + 61, "lies ahead"), (NOW - 7 * DAY - 1, "more than 7 days ago")])
@pytest.mark.parametrize("doing", ["update", "start"])
def test_no_time_to_come_and_none_too_long_ago(manager: Desk, house: House, doing: str, at: int, word: str) -> None:
    updates = Update.select().count()
    pressed(manager, house, doing, at, status=422)
    assert word in manager.says
    assert (Update.select().count(), Phase.get_by_id(house.phases["top"]).started_at) == (updates, None)


def test_what_is_typed_counts_more_than_when_it_was_pressed(manager: Desk, house: House) -> None:
    manager.open(way(house, "top", "start")).send(at="2026-12-01T13:00", pressed_at=str(NOW - HOUR))
    assert phase("top", "started_at")(house) == NOW - 18 * HOUR - 30 * 60


def test_a_time_that_is_none_is_a_form_that_was_changed(manager: Desk, house: House) -> None:
    answer = manager.open("/desk/projects/7/updates/new").typed() | {"text": "Seen", "pressed_at": "soon"}
    assert manager.client.post("/desk/projects/7/updates/new", data=answer).status_code == 400
