"""Messages over the API: the household tells us something, with a photo or without; we answer it once."""

from io import BytesIO
from typing import Any

import pytest
from PIL import Image
from werkzeug.test import TestResponse

from portal.acts.keeping.verifying import verify_project
from portal.record.log.heads import Signer
from portal.store.tables import Message, Notice, Project, StaffNotice
from tests.acts.kept import kinds
from tests.api.conftest import As
from tests.house import NOW, SECRET, House
from tests.served import ApiClient, refused

DRIPS = {"text": "The tap drips.\nSince Monday."}


@pytest.fixture
def messages(house: House) -> str:
    return f"projects/{house.project}/messages"


def picture(size: tuple[int, int] = (640, 480)) -> tuple[BytesIO, str]:
    data = BytesIO()
    Image.new("RGB", size, "#8a7f6c").save(data, "JPEG")
    data.seek(0)
    return data, "tap.jpg"


def with_photo(sender: ApiClient, path: str, **fields: Any) -> TestResponse:
    head = {"Authorization": f"Bearer {sender.bearer}"}
    return sender.client.post(f"/api/v1/{path}", data={**DRIPS, "photo": picture(), **fields}, headers=head)


def test_a_message_is_told_read_and_answered_once(
    homeowner: ApiClient, office: ApiClient, manager: ApiClient, messages: str, house: House
) -> None:
    made = homeowner.post(messages, DRIPS | {"room": house.rooms["bath"]})
    assert made.status_code == 201 and made.headers["Location"].endswith(f"messages/{made.get_json()['id']}")
    told = made.get_json()
    assert told["name"] == "Maren Okafor" and told["text"] == DRIPS["text"] and told["room"] == house.rooms["bath"]
    assert told["told_at"] == "2026-12-02T13:30:00Z" and told["answer"] is None and told["photo"] == ""
    path = f"{messages}/{told['id']}"
    assert office.get(path).get_json() == office.get(messages).get_json()[0] == told
    refused(office.post(f"{path}/answer", {"answer": " "}), 422, "answer")
    answered = office.post(f"{path}/answer", {"answer": "We come on Friday."}).get_json()
    assert answered["answer"] == "We come on Friday." and answered["answered_at"] == "2026-12-02T13:30:00Z"
    again = refused(manager.post(f"{path}/answer", {"answer": "On Monday."}), 409)
    assert again["detail"] == "This message was answered already, by Lou Ferris."
    assert homeowner.get(path).get_json() == answered
    assert kinds(house.project)[-2:] == ["message_sent", "message_answered"]
    assert [one.kind for one in Notice.select()] == ["message_answered"]
    assert [(one.staff_id, one.kind) for one in StaffNotice.select()] == [(house.manager.id, "message")]


def test_a_message_has_a_photo_and_the_record_its_hash(homeowner: ApiClient, messages: str, house: House) -> None:
    made = with_photo(homeowner, messages, room=str(house.rooms["kitchen"]))
    assert made.status_code == 201 and made.get_json()["room"] == house.rooms["kitchen"]
    row = Message.get_by_id(made.get_json()["id"])
    assert row.photo == made.get_json()["photo"] and row.photo_sha256.startswith(row.photo)
    verdict = verify_project(house.project, Signer(bytes(reversed(SECRET))))
    assert "message" not in (verdict.first_fault or "")
    refused(with_photo(homeowner, messages, sketch=picture()), 422, "sketch")
    refused(with_photo(homeowner, messages, room="x"), 422, "room")


def test_it_can_be_told_when_the_house_is_closed(homeowner: ApiClient, messages: str, house: House) -> None:
    Project.update(closed_at=NOW - 90 * 86_400).where(Project.id == house.project).execute()
    assert homeowner.post(messages, DRIPS).status_code == 201


def test_the_same_request_again_is_the_same_message(homeowner: ApiClient, messages: str) -> None:
    one, again = (homeowner.post(messages, DRIPS, Idempotency_Key="tap-1") for _ in range(2))
    assert one.get_json() == again.get_json() and again.headers["Idempotent-Replayed"] == "true"
    assert Message.select().count() == 1


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"text": " "}, "text"), ({"text": "x" * 4001}, "text"), ({"room": 9_999}, "room"), ({"answer": "So"}, "answer"),
     ({"text": "a\0b"}, "text"), ({"to": "Dana"}, "to")],
)  # fmt: skip
def test_what_can_not_be_told_is_refused_by_its_field(
    homeowner: ApiClient, messages: str, wrong: dict[str, Any], field: str
) -> None:
    refused(homeowner.post(messages, DRIPS | wrong), 422, field)
    assert not Message.select().exists()


def test_lists_come_in_pages_and_the_newest_first(homeowner: ApiClient, messages: str) -> None:
    for text in ("One", "Two", "Three"):
        homeowner.post(messages, {"text": text})
    answer = homeowner.get(f"{messages}?per_page=2")
    assert [one["text"] for one in answer.get_json()] == ["Three", "Two"] and answer.headers["Total-Count"] == "3"


def test_staff_tell_nothing_and_the_household_answers_nothing(sending_as: As, messages: str) -> None:
    for who in ("manager", "office"):
        refused(sending_as(who).post(messages, DRIPS), 403)
    told = sending_as("co_owner").post(messages, DRIPS).get_json()["id"]
    refused(sending_as("co_owner").post(f"{messages}/{told}/answer", {"answer": "Hm"}), 403)
    refused(sending_as("other_homeowner").get(f"{messages}/{told}"), 404)
    refused(sending_as(None).get(messages), 401)
