"""Visits over the API: wall clock or instant in, instants out; moved, cancelled, never lost."""

from typing import Any

import pytest

from portal.store.tables import Visit
from tests.acts.kept import kinds
from tests.house import House
from tests.served import ApiClient, refused


@pytest.fixture
def visits(house: House) -> str:
    return f"projects/{house.project}/visits"


def book(office: ApiClient, visits: str, **changed: Any) -> Any:
    return office.post(visits, {
        "crew": "Glazier", "purpose": "Measure the window", "starts_at": "2026-12-10T09:00:00",
        "ends_at": "2026-12-10T10:00:00",
    } | changed)  # fmt: skip


def test_a_time_without_offset_is_the_clock_at_the_house(office: ApiClient, visits: str) -> None:
    made = book(office, visits).get_json()
    assert (made["starts_at"], made["ends_at"]) == ("2026-12-10T15:00:00Z", "2026-12-10T16:00:00Z")
    with_offset = book(office, visits, starts_at="2026-12-10T10:00:00-05:00").get_json()
    assert with_offset["starts_at"] == made["starts_at"]


def test_what_is_read_can_be_sent_back(office: ApiClient, visits: str) -> None:
    made = book(office, visits).get_json()
    path = f"{visits}/{made['id']}"
    again = {name: made[name] for name in ("crew", "purpose", "phase", "starts_at", "ends_at")}
    assert office.change(path, again).get_json() | {"warnings": []} == made | {"warnings": []}


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"crew": " "}, "crew"), ({"purpose": "x" * 256}, "purpose"), ({"starts_at": "soon"}, "starts_at"),
        ({"ends_at": "2026-12-10T08:00:00"}, "ends_at"), ({"phase": 999_999}, "phase"), ({"phase": "top"}, "phase"),
        ({"cancelled_at": "2026-12-10T08:00:00Z"}, "cancelled_at"), ({"starts_at": "2027-03-14T02:30:00"}, "starts_at"),
    ],
)  # fmt: skip
def test_what_can_not_be_booked_is_refused_by_its_field(
    office: ApiClient, visits: str, wrong: dict[str, Any], field: str
) -> None:
    before = Visit.select().count()
    refused(book(office, visits, **wrong), 422, field)
    assert Visit.select().count() == before


OVER = {"starts_at": "2026-12-02T06:00:00", "ends_at": "2026-12-02T07:30:00"}
"""Until NOW, to the second."""
NOT_YET = OVER | {"ends_at": "2026-12-02T07:30:01"}


@pytest.mark.parametrize("said", [{}, {"were_here": False}])
def test_a_time_that_is_over_needs_a_word_that_they_were_here(
    office: ApiClient, visits: str, said: dict[str, Any]
) -> None:
    problem = refused(book(office, visits, **OVER, **said), 422, "were_here")
    assert [one["detail"] for one in problem["errors"]] == [
        "That time is over. Say that they were here then, or give a time to come."]
    assert book(office, visits, **NOT_YET, **said).status_code == 201
    assert book(office, visits, **OVER, were_here=True).status_code == 201


def test_nor_is_one_moved_there_without_it(office: ApiClient, visits: str) -> None:
    path = f"{visits}/{book(office, visits).get_json()['id']}"
    moved = {"reason": "They came early"}
    refused(office.change(path, OVER | moved), 422, "were_here")
    assert office.change(path, NOT_YET | moved).status_code == 200
    assert office.change(path, OVER | moved | {"were_here": True}).get_json()["ends_at"] == "2026-12-02T13:30:00Z"


def test_they_are_listed_by_when_they_begin(office: ApiClient, visits: str) -> None:
    book(office, visits, starts_at="2026-12-03T07:00:00", ends_at="2026-12-03T07:30:00")
    starts = [one["starts_at"] for one in office.get(visits).get_json()]
    assert starts == sorted(starts) and len(starts) > 2


def test_a_visit_is_cancelled_with_a_reason_or_without(office: ApiClient, visits: str, house: House) -> None:
    for body, because in (({"because": "Ill"}, "Ill"), (None, "")):
        path = f"{visits}/{book(office, visits).get_json()['id']}"
        refused(office.post(f"{path}/cancel", body), 428)
        gone = office.post(f"{path}/cancel", body, If_Match=office.get(path).headers["ETag"])
        assert gone.status_code == 200
        told = gone.get_json()
        assert (told["cancelled_because"], told["cancelled_at"]) == (because, "2026-12-02T13:30:00Z")
        assert office.get(path).get_json()["cancelled_because"] == because
        assert gone.headers["ETag"] == office.get(path).headers["ETag"]
        refused(office.change(path, {"crew": "Mason"}), 422, "id")
    assert kinds(house.project).count("visit_cancelled") == 2


def test_a_visit_that_can_not_be_kept_is_booked_with_a_warning(office: ApiClient, visits: str, house: House) -> None:
    made = book(
        office, visits, crew="Stone crew", phase=house.phases["grout"], starts_at="2026-12-03T08:00:00",
        ends_at="2026-12-03T10:00:00",
    )  # fmt: skip
    assert made.status_code == 201
    (warning, *_) = made.get_json()["warnings"]
    assert warning["visit"] == made.get_json()["id"] and warning["words"] and warning["kind"]
    assert office.get(f"{visits}/{made.get_json()['id']}").get_json().get("warnings") is None
