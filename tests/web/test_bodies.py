"""How much of a body is read: what is no file stays small, whoever sends it, since in memory it grows a hundredfold."""

from io import BytesIO
from typing import Any

import pytest
from flask import Flask, request
from werkzeug.test import TestResponse

from portal.request.sent.bodies import LARGEST_REQUEST, LARGEST_TEXT, PART_BYTES, PARTS
from tests.house import House
from tests.served import bearer_for, refused
from tests.web.signed_in import Desk

PLAIN = "application/x-www-form-urlencoded"


def photo() -> dict[str, Any]:
    return {"photo": (BytesIO(b"x"), "x.jpg")}


def sent(app: Flask, way: str, body: bytes, kind: str, bearer: str = "") -> TestResponse:
    headers = {"Authorization": f"Bearer {bearer}"} if bearer else {}
    return app.test_client().post(way, data=body, content_type=kind, headers=headers)


def test_a_form_of_millions_of_names_is_refused_before_it_is_read(app: Flask, house: House) -> None:
    """40 MB of `a&` took 1.7 GB and a minute, from anybody."""
    long = b"a&" * (LARGEST_TEXT // 2 + 1)
    for way in ("/desk/sign-in", f"/p/{house.links['homeowner']}/messages/", "/desk/projects/new"):
        answer = sent(app, way, long, PLAIN)
        assert answer.status_code == 413 and "or a shorter text" in answer.get_data(as_text=True), way
    assert sent(app, "/desk/sign-in", long[:LARGEST_TEXT - 2], PLAIN).status_code == 422


@pytest.mark.parametrize("way", ["rooms", "messages", "updates"])
def test_json_as_long_is_refused_and_nested_json_is_said_to_be_none(app: Flask, house: House, way: str) -> None:
    """Messages and updates come as a form as well, and so by a reader of their own."""
    bearer = bearer_for(house, "homeowner" if way == "messages" else "manager") or ""
    path = f"/api/v1/projects/{house.project}/{way}"
    refused(sent(app, path, b"[" + b"[]," * (LARGEST_TEXT // 3) + b"[]]", "application/json", bearer), 413)
    refused(sent(app, path, b"[" * 100_000, "application/json", bearer), 400)
    refused(sent(app, path, b'{"text": "\\ud800"}', "application/json", bearer), 422)
    refused(sent(app, path, b"text", "text/plain", bearer), 415)


def test_a_form_with_files_has_as_much_text_as_its_sender_needs(app: Flask, house: House, manager: Desk) -> None:
    many, long = dict.fromkeys(map(str, range(PARTS)), "x"), {"text": "x" * (PART_BYTES + 1)}
    for way in ("/desk/sign-in", f"/p/{house.links['homeowner']}/messages/"):
        assert [app.test_client().post(way, data=form | photo()).status_code for form in (many, long)] == [413, 413]
    for form in (many, long):  # read, and from no page of this session
        assert manager.client.post("/desk/projects/new", data=form | photo()).status_code == 400
    headers = {"Authorization": f"Bearer {bearer_for(house, 'office')}"}
    update = f"/api/v1/projects/{house.project}/updates"
    refused(app.test_client().post(update, data=many | photo(), headers=headers), 422)


def test_files_go_to_disk_and_may_be_large(app: Flask) -> None:
    with app.test_request_context("/", method="POST", data={"photo": (BytesIO(b"pixels"), "a.jpg")}):
        stream = request.files["photo"].stream
        assert isinstance(stream.fileno(), int) and not hasattr(stream, "rollover") and stream.read() == b"pixels"
        assert request.max_content_length == LARGEST_REQUEST
