"""A photo is sent first, and named by an option then; a finish is sent with its option. Both are answered as kept."""

from io import BytesIO
from typing import Any

import pytest
from werkzeug.test import TestResponse

from portal.store.tables import Revision
from tests.acts.keeping.pictures.drawn import flat, saved
from tests.house import House
from tests.served import ApiClient, refused

LINEN = {"maker": "Harborstone", "color": "Linen 12", "swatch": "#cdc5b6"}


@pytest.fixture
def at(house: House) -> str:
    return f"projects/{house.project}"


def send(sender: ApiClient, at: str, **files: Any) -> TestResponse:
    files = files or {"photo": (BytesIO(saved(flat(640, 480), "JPEG")), "grout.jpg")}
    return sender.client.post(f"/api/v1/{at}/photos", data=files, headers={"Authorization": f"Bearer {sender.bearer}"})


def question(**option: Any) -> dict[str, Any]:
    return {"question": "Which grout?", "options": [{"title": "Gray"} | option, {"title": "Charcoal"}]}


def test_a_photo_is_sent_and_an_option_shows_it(manager: ApiClient, at: str) -> None:
    sent = send(manager, at)
    assert sent.status_code == 201
    photo = sent.get_json()
    assert photo["name"] == photo["sha256"][:20] and (photo["width"], photo["height"]) == (640, 480)
    named = {"name": photo["name"], "caption": "By the window"}
    made = manager.post(f"{at}/decisions", question(photos=[named], finish=LINEN))
    assert made.status_code == 201
    option = made.get_json()["options"][0]
    assert option["photos"] == [photo | {"caption": "By the window"}] and option["finish"] == LINEN
    assert "photos" not in made.get_json()["options"][1] and "finish" not in made.get_json()["options"][1]
    again = manager.post(f"{at}/decisions/{made.get_json()['id']}/revisions", {
        "options": [option, {"title": "White"}], "reason": "Charcoal is sold out",
    })  # fmt: skip
    assert again.get_json()["options"][0] == option, "sent back as it was read, it stays"


def test_what_is_sent_of_size_and_hash_is_not_believed(manager: ApiClient, at: str) -> None:
    photo = send(manager, at).get_json()
    made = manager.post(f"{at}/decisions", question(photos=[{**photo, "width": 9, "sha256": "0" * 64}]))
    assert made.get_json()["options"][0]["photos"] == [photo | {"caption": ""}]
    assert '"width":9' not in Revision.get(Revision.decision == made.get_json()["id"]).shown


def test_a_photo_that_nobody_sent_is_refused_by_its_place(manager: ApiClient, at: str) -> None:
    refused(manager.post(f"{at}/decisions", question(photos=[{"name": "0" * 20}])), 422, "options.0.photos.0.name")
    refused(manager.post(f"{at}/decisions", question(photos=[{"name": "../secret"}])), 422, "options.0.photos.0.name")


def test_a_swatch_that_is_no_color_is_refused_by_its_field(manager: ApiClient, at: str) -> None:
    wrong = question(finish=LINEN | {"swatch": "beige"})
    refused(manager.post(f"{at}/decisions", wrong), 422, "options.0.finish.swatch")


def test_a_form_without_its_photo_and_what_is_no_picture_are_refused(manager: ApiClient, at: str) -> None:
    refused(send(manager, at, other=(BytesIO(b"x"), "x.jpg")), 422, "other")
    refused(send(manager, at, photo=(BytesIO(b"not a picture"), "x.jpg")), 422)
    refused(manager.post(f"{at}/photos"), 422, "photo")


def test_only_who_asks_sends_photos_for_a_question(homeowner: ApiClient, office: ApiClient, at: str) -> None:
    assert (send(homeowner, at).status_code, send(office, at).status_code) == (403, 403)


def test_an_owner_wants_another_option_and_the_question_says_so(
    homeowner: ApiClient, manager: ApiClient, at: str, house: House
) -> None:
    path = f"{at}/decisions/{house.decisions[1]}"
    said = {"revision": 1, "text": "Three holes", "kind": "another_option"}
    assert homeowner.post(f"{path}/questions", said).get_json()["kind"] == "another_option"
    asked = manager.get(path).get_json()
    assert asked["state"] == "asked_back" and asked["questions_back"][0]["kind"] == "another_option"
    refused(homeowner.post(f"{path}/questions", said | {"kind": "shout"}), 422, "kind")


def test_differing_choices_are_a_state_of_the_question(
    homeowner: ApiClient, co_owner: ApiClient, manager: ApiClient, at: str, house: House
) -> None:
    path = f"{at}/decisions/{house.decisions[1]}"
    manager.change(path, {"approvers": "all"})
    for owner, option, name in ((homeowner, "a", "Maren Okafor"), (co_owner, "b", "Jonas Okafor")):
        assert owner.post(f"{path}/approvals", {"revision": 1, "option": option, "name": name}).status_code == 201
    asked = manager.get(path).get_json()
    assert asked["state"] == "differing" and [one["option"] for one in asked["approvals"]] == ["a", "b"]
