"""What stands around a view stands in an order that works; another one is refused when the route is made."""

import pytest
from marshmallow import Schema

from portal.api.http.around import WrongOrder, around
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import pages
from portal.api.http.resource import makes, under_project
from portal.api.http.versions import needs_version, shows_version, takes_version
from portal.api.http.warnings import warned
from portal.store.tables import Room
from tests.api.conftest import As

ROOMS = under_project("hypothetical", "Rooms of no house.")
DECORATORS = {
    "idempotent": idempotent, "arguments": ROOMS.arguments(Schema), "needs_version": needs_version(Room, "room_id"),
    "takes_version": takes_version(Room, "room_id"), "response": ROOMS.response(200, Schema), "makes": makes,
    "shows_version": shows_version, "pages": pages, "warned": warned,
}  # fmt: skip
WORKS = ("idempotent", "arguments", "needs_version", "response", "shows_version", "warned")


def made_of(*names: str) -> object:
    """A view with these decorators around it, the outermost first."""

    def view(**kwargs: object) -> None: ...

    made: object = view
    for name in reversed(names):
        made = DECORATORS[name](made)  # type: ignore[operator]
    return made


def route(*names: str) -> None:
    ROOMS.route("", endpoint="-".join(names), methods=["POST"])(made_of(*names))


def test_a_view_knows_what_stands_around_it_the_outermost_first() -> None:
    assert around(made_of(*WORKS)) == WORKS  # type: ignore[arg-type]


def test_the_order_that_works_is_taken() -> None:
    route(*WORKS)
    route("arguments", "arguments", "response", "pages")
    route("response")


@pytest.mark.parametrize("at", range(len(WORKS) - 1))
def test_two_that_have_changed_places_are_refused(at: int) -> None:
    changed = [*WORKS[:at], WORKS[at + 1], WORKS[at], *WORKS[at + 2 :]]
    with pytest.raises(WrongOrder, match=f"{WORKS[at + 1]} stands around {WORKS[at]}"):
        route(*changed)


@pytest.mark.parametrize("twice", ["idempotent", "response", "warned", "shows_version", "needs_version"])
def test_only_arguments_come_twice(twice: str) -> None:
    at = WORKS.index(twice)
    with pytest.raises(WrongOrder):
        route(*WORKS[: at + 1], *WORKS[at:])


@pytest.mark.parametrize("both", [("makes", "shows_version"), ("needs_version", "takes_version"), ("pages", "makes")])
def test_of_two_that_do_the_same_there_is_one(both: tuple[str, str]) -> None:
    with pytest.raises(WrongOrder):
        route(*sorted({*both, "response"}, key=list(DECORATORS).index))


def test_a_view_without_an_answer_is_refused() -> None:
    with pytest.raises(WrongOrder, match="without `response`"):
        route("idempotent", "arguments")


def test_a_route_says_its_endpoint() -> None:
    with pytest.raises(TypeError, match="endpoint"):
        ROOMS.route("/windows", methods=["GET"])


def test_every_view_of_the_api_says_what_stands_around_it(sending_as: As) -> None:
    app = sending_as(None).client.application
    views = {name: around(view) for name, view in app.view_functions.items() if view.__module__.startswith(
        "portal.api.resources")}
    assert len(views) > 70
    assert {name for name, names in views.items() if "response" not in names} == set()
    assert views["rooms.add"] == ("idempotent", "arguments", "response", "makes", "warned")
    assert views["updates.post_update"] == ("photos_first", "idempotent", "response", "makes")
