"""Whether a visit suits, over the API: said of the visit as it is booked, and asked anew once it is moved."""

from typing import Any

import pytest

from portal.store.tables import StaffNotice
from tests.acts.kept import kinds
from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused


@pytest.fixture
def paint(house: House) -> str:
    return f"projects/{house.project}/visits/{house.visits['paint']}"


def said(client: ApiClient, visit: str, **answer: Any) -> Any:
    starts = client.get(visit).get_json()["starts_at"]
    return client.post(f"{visit}/answers", {"suits": False, "why": "We are away", "starts_at": starts} | answer)


def test_it_stands_with_the_visit_and_the_last_word_of_each_counts(
    sending_as: As, paint: str, house: House
) -> None:
    maren, jonas, office = (sending_as(who) for who in ("homeowner", "co_owner", "office"))
    made = said(maren, paint)
    assert made.status_code == 201 and made.get_json()["at"] == "2026-12-02T13:30:00Z"
    said(jonas, paint, suits=True, why="")
    answers = office.get(paint).get_json()["answers"]
    assert [(one["person"], one["suits"], one["why"]) for one in answers] == [
        (house.homeowner.id, False, "We are away"), (house.co_owner.id, True, ""),
    ]
    assert [one["answers"] for one in office.get(paint.rpartition("/")[0]).get_json() if one["answers"]] == [answers]
    said(maren, paint, suits=True, why="We came back")
    assert [one["suits"] for one in office.get(paint).get_json()["answers"]] == [True, True]
    assert kinds(house.project) == ["visit_answered"] * 3
    assert [(one.kind, one.staff_id) for one in StaffNotice.select()] == [("visit_does_not_suit", house.manager.id)]


def test_a_moved_visit_is_asked_anew(sending_as: As, paint: str) -> None:
    maren, office = sending_as("homeowner"), sending_as("office")
    said(maren, paint)
    before = office.get(paint).get_json()
    office.change(paint, {"purpose": "Paint the trim"})
    assert len(office.get(paint).get_json()["answers"]) == 1, "it still is at that time"
    moved = {"starts_at": "2026-12-09T09:30:00", "ends_at": "2026-12-09T15:00:00", "reason": "They are away"}
    assert office.change(paint, moved).status_code == 200
    assert office.get(paint).get_json()["answers"] == []
    refused(said(maren, paint, starts_at=before["starts_at"]), 409, "starts_at")
    assert said(maren, paint, suits=True).status_code == 201


def test_nothing_is_said_of_what_is_over_or_cancelled(sending_as: As, paint: str, house: House) -> None:
    maren, office = sending_as("homeowner"), sending_as("office")
    starts = office.get(paint).get_json()["starts_at"]
    office.post(f"{paint}/cancel", {"because": "Ill"}, If_Match=office.get(paint).headers["ETag"])
    refused(maren.post(f"{paint}/answers", {"suits": True, "starts_at": starts}), 409)
    refused(sending_as("other_homeowner").post(f"{paint}/answers", {"suits": True, "starts_at": starts}), 404)
    refused(office.post(f"{paint}/answers", {"suits": True, "starts_at": starts}), 403)


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"suits": "maybe"}, "suits"), ({"why": "x" * 501}, "why"), ({"starts_at": "soon"}, "starts_at"),
     ({"at": "2026-12-02T13:30:00Z"}, "at")],
)  # fmt: skip
def test_what_can_not_be_said_is_refused_by_its_field(
    homeowner: ApiClient, paint: str, wrong: dict[str, Any], field: str
) -> None:
    refused(said(homeowner, paint, **wrong), 422, field)
