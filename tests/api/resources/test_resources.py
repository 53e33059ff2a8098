"""Each resource: made, read, changed with the version that was seen, refused with the field named, removed."""

from io import BytesIO
from typing import Any

import pytest
from PIL import Image
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart

from portal.store.tables import Room, Update, Visit
from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused

MONDAYS = {"mon": [["08:00", "16:00"]]}
MAKE: dict[str, dict[str, Any]] = {
    "rooms": {"name": "Pantry"},
    "people": {"name": "Grandmother Okafor", "phone": "218-555-0170"},
    "phases": {"name": "Clean up", "work_hours": 3.5},
    "decisions": {"question": "Which lamp?", "options": [{"title": "This one"}, {"title": "That one"}]},
    "visits": {
        "crew": "Painter", "purpose": "Touch up", "starts_at": "2026-12-14T08:00", "ends_at": "2026-12-14T10:00",
    },
    "deliveries": {"item": "Lamp", "expected_on": "2026-12-10"},
    "updates": {"text": "The lamp is *chosen*."},
    "calls": {"caller": "Maren Okafor", "asked": "When does the plumber come?"},
}
CHANGE: dict[str, dict[str, Any]] = {
    "rooms": {"name": "Larder"},
    "people": {"phone": "218-555-0171"},
    "phases": {"work": {"low": 1, "likely": 2, "high": 4}},
    "decisions": {"lead_days": 3},
    "visits": {"ends_at": "2026-12-14T11:00:00-06:00", "reason": "It takes longer"},
    "deliveries": {"expected_on": "2026-12-11", "reason": "The factory was closed"},
    "updates": {"text": "The lamp is hung."},
}


@pytest.mark.parametrize("name", MAKE)
def test_it_is_made_and_read_back(manager: ApiClient, house: House, name: str) -> None:
    made = manager.post(f"projects/{house.project}/{name}", MAKE[name])
    assert made.status_code == 201, made.get_data(as_text=True)
    read = manager.get(made.headers["Location"].removeprefix("/api/v1/"))
    assert read.status_code == 200
    assert read.get_json() == {key: value for key, value in made.get_json().items() if key != "warnings"}
    listed = manager.get(f"projects/{house.project}/{name}?per_page=200").get_json()
    assert made.get_json()["id"] in [one["id"] for one in listed]


@pytest.mark.parametrize("name", CHANGE)
def test_a_change_names_the_version_it_saw(manager: ApiClient, house: House, name: str) -> None:
    made = manager.post(f"projects/{house.project}/{name}", MAKE[name])
    path = made.headers["Location"].removeprefix("/api/v1/")
    before = manager.get(path)
    refused(manager.patch(path, CHANGE[name]), 428)
    changed = manager.patch(path, CHANGE[name], If_Match=before.headers["ETag"])
    assert changed.status_code == 200, changed.get_data(as_text=True)
    assert changed.headers["ETag"] != before.headers["ETag"]
    refused(manager.patch(path, CHANGE[name], If_Match=before.headers["ETag"]), 412)
    again = manager.get(path, If_None_Match=changed.headers["ETag"])
    assert again.status_code == 304


@pytest.mark.parametrize("name", MAKE)
def test_an_unknown_field_is_named(manager: ApiClient, house: House, name: str) -> None:
    refused(manager.post(f"projects/{house.project}/{name}", MAKE[name] | {"colour": "red"}), 422, "colour")


@pytest.mark.parametrize("name", MAKE)
def test_a_wrong_id_and_another_projects_id_are_not_found(manager: ApiClient, house: House, name: str) -> None:
    made = manager.post(f"projects/{house.other_project}/{name}", MAKE[name]).get_json()
    refused(manager.get(f"projects/{house.project}/{name}/{made['id']}"), 404)
    refused(manager.get(f"projects/{house.project}/{name}/99999"), 404)


@pytest.mark.parametrize(
    ("name", "changes", "field"),
    [
        ("rooms", {"name": "x" * 121}, "name"),
        ("rooms", {"name": 7}, "name"),
        ("rooms", {"name": "Kitchen"}, "name"),
        ("phases", {"work_hours": "many"}, "work_hours"),
        ("phases", {"work_hours": -1}, "work_hours"),
        ("phases", {"work": {"low": 1, "likely": 2, "high": 3}}, "work"),
        ("phases", {"room": 999}, "room"),
        ("phases", {"held_by": [999]}, "held_by"),
        ("phases", {"after": [{"phase": 999}]}, "after"),
        ("phases", {"not_before": "2026-02-30"}, "not_before"),
        ("decisions", {"options": []}, "options"),
        ("decisions", {"options": [{"title": "A", "key": "a"}, {"title": "B", "key": "a"}]}, "options"),
        ("decisions", {"options": [{"title": title, "recommended": True} for title in "AB"]}, "options"),
        ("decisions", {"options": [{"title": "A", "cost_cents": 1.5}]}, "options.0.cost_cents"),
        ("decisions", {"holds": [999]}, "holds"),
        ("visits", {"ends_at": "2026-12-14T07:00"}, "ends_at"),
        ("visits", {"starts_at": "2027-03-14T02:30", "ends_at": "2027-03-14T09:00"}, "starts_at"),
        ("visits", {"starts_at": "tomorrow"}, "starts_at"),
        ("deliveries", {"expected_low": "2026-12-12"}, "expected_on"),
        ("updates", {"text": "  "}, "text"),
        ("calls", {"asked": None}, "asked"),
    ],
)
def test_what_can_not_be_used_is_named_and_nothing_is_kept(
    manager: ApiClient, house: House, name: str, changes: dict[str, Any], field: str
) -> None:
    path = f"projects/{house.project}/{name}"
    before = manager.get(f"{path}?per_page=200").get_json()
    refused(manager.post(path, MAKE[name] | changes), 422, field)
    assert manager.get(f"{path}?per_page=200").get_json() == before


def test_phases_that_would_wait_for_each_other_are_refused_by_name(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/phases/{house.phases['top']}"
    etag = manager.get(path).headers["ETag"]
    changed = manager.patch(path, {"after": [{"phase": house.phases["grout"]}]}, If_Match=etag)
    problem = refused(changed, 422, "after.0.phase")
    assert "Set the stone top" in problem["detail"] and "Grout the splash" in problem["detail"]
    assert manager.get(path).headers["ETag"] == etag


def test_a_phase_named_twice_among_those_followed_is_refused(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/phases"
    twice = [{"phase": house.phases["grout"], "wait_hours": hours} for hours in (72, 1)]
    refused(manager.post(path, MAKE["phases"] | {"after": twice}), 422, "after")


@pytest.mark.parametrize("name", ["updates", "calls"])
def test_the_newest_comes_first_also_of_two_in_the_same_second(manager: ApiClient, house: House, name: str) -> None:
    path = f"projects/{house.project}/{name}"
    made = [manager.post(path, MAKE[name]).get_json()["id"] for _ in range(2)]
    assert [one["id"] for one in manager.get(path).get_json()][:2] == made[::-1]


def test_what_is_computed_is_said_to_be_so(manager: ApiClient, house: House) -> None:
    problem = refused(manager.post(f"projects/{house.project}/rooms", {"name": "Pantry", "id": 7}), 422, "id")
    assert "This is computed. Leave it out." in str(problem["errors"])


def test_the_same_key_does_it_once(manager: ApiClient, house: House) -> None:
    path, key = f"projects/{house.project}/rooms", '"8e03978e-40d5-43e8-bc93-6894a57f9324"'
    first = manager.post(path, {"name": "Pantry"}, Idempotency_Key=key)
    again = manager.post(path, {"name": "Pantry"}, Idempotency_Key=key)
    assert (first.status_code, again.status_code) == (201, 201)
    assert again.get_json() == first.get_json()
    assert again.headers["ETag"] == first.headers["ETag"]
    assert Room.select().where(Room.name == "Pantry").count() == 1
    refused(manager.post(path, {"name": "Cellar"}, Idempotency_Key=key), 422, "Idempotency-Key")


def test_the_same_key_does_it_once_with_photos_too(manager: ApiClient, house: House) -> None:
    path, before = f"/api/v1/projects/{house.project}/updates", Update.select().count()
    photo = BytesIO()
    Image.new("RGB", (40, 30), "red").save(photo, "JPEG")
    file = FileStorage(BytesIO(photo.getvalue()), "lamp.jpg")
    boundary, body = encode_multipart({"text": "The lamp hangs.", "photos": file, "caption": "From the door"})
    headers = {
        "Authorization": f"Bearer {manager.bearer}", "Idempotency-Key": "the-lamp",
        "Content-Type": f"multipart/form-data; boundary={boundary}",
    }
    first, again = (manager.client.post(path, data=body, headers=headers) for _ in range(2))
    assert (first.status_code, again.status_code) == (201, 201), again.get_data(as_text=True)
    assert again.get_json() == first.get_json()
    assert [one["caption"] for one in again.get_json()["photos"]] == ["From the door"]
    assert Update.select().count() == before + 1


def test_a_form_that_is_made_anew_is_the_same_request_and_one_with_another_photo_is_not(
    manager: ApiClient, house: House
) -> None:
    """A client that sends it again writes another boundary between the parts."""
    red, blue = BytesIO(), BytesIO()
    Image.new("RGB", (40, 30), "red").save(red, "PNG")
    Image.new("RGB", (40, 30), "blue").save(blue, "PNG")

    def post(photo: BytesIO, text: str = "The lamp hangs.") -> TestResponse:
        return manager.client.post(
            f"/api/v1/projects/{house.project}/updates",
            data={"text": text, "photos": (BytesIO(photo.getvalue()), "lamp.png")},
            headers={"Authorization": f"Bearer {manager.bearer}", "Idempotency-Key": "the-lamp-once-more"},
        )

    first = post(red)
    assert first.status_code == 201 and post(red).get_json() == first.get_json()
    for other in (post(blue), post(red, "The lamp hung.")):
        refused(other, 422, "Idempotency-Key")


def test_an_update_takes_so_many_photos_and_no_more(manager: ApiClient, house: House) -> None:
    many = [(BytesIO(b"no photo"), f"{number}.jpg") for number in range(51)]
    answer = manager.client.post(
        f"/api/v1/projects/{house.project}/updates", data={"text": "All of them.", "photos": many},
        headers={"Authorization": f"Bearer {manager.bearer}"},
    )
    assert "at most 50" in refused(answer, 422, "photos")["detail"]


def test_a_photo_under_another_name_is_refused_and_not_left_out(manager: ApiClient, house: House) -> None:
    before = Update.select().count()
    answer = manager.client.post(
        f"/api/v1/projects/{house.project}/updates", data={"text": "Look.", "photo": (BytesIO(b"a picture"), "a.jpg")},
        headers={"Authorization": f"Bearer {manager.bearer}"},
    )
    assert "photos" in refused(answer, 422, "photo")["errors"][0]["detail"]
    assert Update.select().count() == before


def test_a_key_belongs_to_who_sent_it(sending_as: As, house: House) -> None:
    path = f"projects/{house.project}/calls"
    for who in ("manager", "office"):
        assert sending_as(who).post(path, MAKE["calls"], Idempotency_Key="same").status_code == 201
    assert len(sending_as("office").get(path).get_json()) == 2


def test_a_refused_request_may_come_again_with_its_key(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/phases/{house.phases['drill']}"
    refused(manager.post(f"{path}/start", {"anyway": True}, Idempotency_Key="start-the-drill"), 409)
    manager.post(f"{path}/release", {"reason": "The template is on site"})
    assert manager.post(f"{path}/start", {"anyway": True}, Idempotency_Key="start-the-drill").status_code == 200


def test_pages_are_joined_by_links(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/phases"
    first = manager.get(f"{path}?per_page=6")
    total = int(first.headers["Total-Count"])
    assert 'rel="next"' in first.headers["Link"] and 'rel="prev"' not in first.headers["Link"]
    seen = [one["id"] for page in range(1, 5) for one in manager.get(f"{path}?per_page=6&page={page}").get_json()]
    assert len(seen) == len(set(seen)) == total == len(house.phases)
    refused(manager.get(f"{path}?per_page=0"), 422, "per_page")


def test_a_house_is_handed_over_to_a_manager(manager: ApiClient, office: ApiClient, house: House) -> None:
    path = f"projects/{house.project}"
    assert manager.get(path).json["responsible"] is None
    etag = manager.get(path).headers["ETag"]
    refused(manager.post(f"{path}/responsible", {"staff": house.office.id}, If_Match=etag), 422, "staff")
    refused(office.post(f"{path}/responsible", {"staff": house.manager.id}, If_Match=etag), 403)
    handed = manager.post(f"{path}/responsible", {"staff": house.manager.id}, If_Match=etag)
    assert handed.json["responsible"] == {"id": house.manager.id, "name": house.manager.name}
    refused(manager.post(f"{path}/responsible", {"staff": None}, If_Match=etag), 412)


def test_a_visit_is_cancelled_and_not_forgotten(office: ApiClient, house: House) -> None:
    visit = house.visits["paint"]
    path = f"projects/{house.project}/visits/{visit}"
    etag = office.get(path).headers["ETag"]
    assert office.post(f"{path}/cancel", {"because": "The painter is ill"}, If_Match=etag).status_code == 200
    assert Visit.get_by_id(visit).cancelled_because == "The painter is ill"


def test_a_delivery_came(office: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/deliveries/{house.deliveries['stone']}"
    came = office.post(f"{path}/arrival", {"at": "2026-12-01T10:30"})
    assert came.get_json()["arrived_at"] == "2026-12-01T16:30:00Z"
    refused(office.post(f"{path}/arrival", {"at": "2026-12-09T10:30"}), 422, "arrived_at")


def test_what_is_sent_whole_is_checked_whole_in_a_change_too(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/phases/{house.phases['top']}"
    etag = manager.get(path).headers["ETag"]
    refused(manager.patch(path, {"after": [{"wait_hours": 2}]}, If_Match=etag), 422, "after.0.phase")
    refused(manager.patch(path, {"work": {"low": 1}}, If_Match=etag), 422, "work.likely")


@pytest.mark.parametrize(
    ("body", "kind"), [(b"{", "application/json"), (b"name=x", "text/plain"), (b"[]", "application/json")]
)
def test_a_body_that_is_no_json_object_is_refused(
    manager: ApiClient, house: House, body: bytes, kind: str
) -> None:
    response = manager.client.post(
        f"/api/v1/projects/{house.project}/rooms", data=body, content_type=kind,
        headers={"Authorization": f"Bearer {manager.bearer}"},
    )
    assert response.status_code in (400, 415, 422)
    refused(response, response.status_code)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"timezone": "Mars/Olympus"}, "timezone"),
        ({"calendar": {"week": {"mon": [["10:00", "09:00"]]}}}, "calendar.week.mon"),
        ({"calendar": {"week": {}}}, "calendar.week"),
        ({"calendar": {"week": MONDAYS, "holidays": {"country": "XX"}}}, "calendar.holidays.country"),
        ({"calendar": {"week": MONDAYS, "holidays": {"country": "US", "except": ["Labour Day"]}}},
         "calendar.holidays.except"),
        ({"calendar": {"weeks": {}}}, "calendar.week"),
        ({"starts_on": "2026-02-30"}, "starts_on"),
        ({"contract_cents": 10.5}, "contract_cents"),
    ],
)
def test_a_project_that_can_not_be_is_refused_by_its_field(
    manager: ApiClient, changes: dict[str, Any], field: str
) -> None:
    values = {"name": "House", "address": "1 Lane", "timezone": "America/Chicago", "starts_on": "2026-12-01"}
    refused(manager.post("projects", values | changes), 422, field)
    assert len(manager.get("projects").get_json()) == 2


def test_holidays_that_are_worked_are_named_and_kept(manager: ApiClient) -> None:
    calendar = manager.get("projects/7").get_json()["calendar"]
    assert calendar["holidays"] == {"country": "US", "subdivision": "MN"}, "none are named before"
    worked = calendar | {"holidays": {"country": "US", "subdivision": "MN", "except": ["Veterans Day"]}}
    assert manager.change("projects/7", {"calendar": worked}).status_code == 200
    assert manager.get("projects/7").get_json()["calendar"] == worked


def test_a_timezone_that_is_put_right_leaves_the_visits_at_their_hour(manager: ApiClient, house: House) -> None:
    visit = f"projects/7/visits/{house.visits['top']}"
    before = manager.get(visit)
    assert before.get_json()["starts_at"] == "2026-12-03T15:00:00Z"
    assert manager.change("projects/7", {"timezone": "America/New_York"}).status_code == 200
    assert manager.get(visit).get_json()["starts_at"] == "2026-12-03T14:00:00Z"
    assert manager.patch(visit, {"crew": "Stone"}, If_Match=before.headers["ETag"]).status_code == 412
