"""Updates and call notes over the API: dated, newest first, with photos that are made small before anything is kept."""

from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from portal.store.tables import Call, Photo, Update
from tests.acts.kept import notices
from tests.house import House
from tests.served import ApiClient, refused


def picture(color: str = "red") -> bytes:
    out = BytesIO()
    Image.new("RGB", (60, 40), color).save(out, "JPEG")
    return out.getvalue()


@pytest.fixture
def updates(house: House) -> str:
    return f"projects/{house.project}/updates"


@pytest.fixture
def calls(house: House) -> str:
    return f"projects/{house.project}/calls"


def post_form(office: ApiClient, updates: str, **fields: Any) -> Any:
    return office.client.post(
        f"/api/v1/{updates}", data=fields, headers={"Authorization": f"Bearer {office.bearer}"},
        content_type="multipart/form-data",
    )  # fmt: skip


def test_an_update_is_posted_as_json_and_read_back(office: ApiClient, updates: str, house: House) -> None:
    made = office.post(updates, {"text": "The top is in."})
    assert made.status_code == 201
    body = made.get_json()
    assert (body["text"], body["at"], body["staff"], body["photos"]) == (
        "The top is in.", "2026-12-02T13:30:00Z", house.office.id, []
    )  # fmt: skip
    assert made.headers["Location"] == f"/api/v1/{updates}/{body['id']}"
    assert office.get(f"{updates}/{body['id']}").get_json() == body


def test_a_text_with_a_key_becomes_html_before_the_turn_of_its_request(office: ApiClient, updates: str) -> None:
    """Else tests/conftest.py fails it: a kept answer is written in the turn of the change."""
    made = [office.post(updates, {"text": "It is *in*."}, Idempotency_Key="once") for _ in range(2)]
    assert [one.status_code for one in made] == [201, 201] and made[0].get_json() == made[1].get_json()


def test_a_text_that_is_too_tangled_is_refused_with_what_to_do(office: ApiClient, updates: str) -> None:
    refused = office.post(updates, {"text": "a\n" * 1200})
    assert refused.status_code == 422
    assert [(one["field"], one["detail"]) for one in refused.get_json()["errors"]] == [
        ("text", "This has 1201 lines. Use at most 1000.")
    ]


def test_photos_come_with_a_form_each_with_its_caption(
    office: ApiClient, updates: str, tmp_path: Path, house: House
) -> None:
    made = post_form(
        office, updates, text="Two pictures", caption=[" The door ", ""],
        photos=[(BytesIO(picture("red")), "a.jpg"), (BytesIO(picture("blue")), "b.jpg")],
    )  # fmt: skip
    assert made.status_code == 201, made.get_json()
    photos = made.get_json()["photos"]
    assert [(one["caption"], one["width"], one["height"]) for one in photos] == [("The door", 60, 40), ("", 60, 40)]
    folder = tmp_path / "photos" / str(house.project)
    assert {f"{one['name']}-large.jpg" for one in photos} <= {path.name for path in folder.iterdir()}


def test_more_photos_than_captions_have_none(office: ApiClient, updates: str) -> None:
    made = post_form(
        office, updates, text="Two", caption=["One"],
        photos=[(BytesIO(picture("red")), "a.jpg"), (BytesIO(picture("blue")), "b.jpg")],
    )  # fmt: skip
    assert [one["caption"] for one in made.get_json()["photos"]] == ["One", ""]


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"text": " "}, "text"), ({}, "text"), ({"text": "x", "colour": "red"}, "colour"),
        ({"text": "x", "photos": (BytesIO(b"words"), "a.jpg")}, "photos"),
        ({"text": "x", "picture": (BytesIO(b"words"), "a.jpg")}, "picture"),
        ({"text": "x", "caption": ["x" * 501]}, "caption.0"),
    ],
)  # fmt: skip
def test_a_form_that_can_not_be_used_is_refused_by_its_field(
    office: ApiClient, updates: str, fields: dict[str, Any], field: str
) -> None:
    before = Update.select().count(), Photo.select().count()
    answer = post_form(office, updates, **(fields or {"caption": "x"}))
    refused(answer, 422, field)
    assert (Update.select().count(), Photo.select().count()) == before


def test_an_update_is_changed_and_removed_by_who_has_seen_it(office: ApiClient, updates: str) -> None:
    path = f"{updates}/{office.post(updates, {'text': 'It is in.'}).get_json()['id']}"
    refused(office.patch(path, {"text": "It is out."}), 428)
    assert office.change(path, {"text": "It is *out*."}).get_json()["text"] == "It is *out*."
    assert office.send("DELETE", path, If_Match=office.get(path).headers["ETag"]).status_code == 204
    refused(office.get(path), 404)


def test_a_call_is_noted_and_its_link_sent(office: ApiClient, calls: str, house: House) -> None:
    note = {"caller": "Jonas", "asked": "May we take b?", "told": "Only the link counts."}
    made = office.post(calls, note | {"send_link_to": house.co_owner.id})
    assert made.status_code == 201
    assert made.get_json() == note | {
        "id": made.get_json()["id"], "at": "2026-12-02T13:30:00Z", "staff": house.office.id
    }  # fmt: skip
    assert [(one.person, one.kind) for one in notices(house.project)] == [(house.co_owner.id, "link")]
    assert office.get(f"{calls}/{made.get_json()['id']}").get_json() == made.get_json()


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"caller": ""}, "caller"), ({"asked": ""}, "asked"), ({"send_link_to": 999_999}, "send_link_to")],
)
def test_a_call_that_can_not_be_noted_is_refused_by_its_field(
    office: ApiClient, calls: str, wrong: dict[str, Any], field: str
) -> None:
    before = Call.select().count()
    refused(office.post(calls, {"caller": "Jonas", "asked": "When?"} | wrong), 422, field)
    assert Call.select().count() == before
