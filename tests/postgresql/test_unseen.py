"""U+0000, which PostgreSQL keeps in no text, put into all that the portal reads: refused, and no fault of ours."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from flask import Flask
from freezegun import freeze_time

from tests.house import NOW, House
from tests.served import ApiClient, bearer_for, refused, serve_house
from tests.web.signed_in import Desk
from tests.web.test_who_may import handed_over
from tests.web.unseen import NOT_READY, spoiled_forms, spoiled_queries


@pytest.fixture
def app(house: House, url: str, tmp_path: Path) -> Iterator[Flask]:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        yield serve_house(tmp_path, url)


def test_no_input_of_the_desk_stumbles(app: Flask, house: House) -> None:
    answers = list(spoiled_forms(app, house, Desk(app).sign_in("dana")))
    assert [one[:3] for one in answers if one[2] >= 500 or (one[1] and one[2] != 422)] == []
    assert len(answers) > 300


def test_no_address_and_no_query_stumbles(app: Flask, house: House) -> None:
    bearer = bearer_for(house, "manager") or ""
    answers = list(spoiled_queries(app, house, Desk(app).sign_in("dana").client, bearer))
    assert {one for one in answers if one[1] >= 500} == {NOT_READY}


def test_no_form_under_a_link_stumbles(app: Flask, house: House) -> None:
    client, base, handover = app.test_client(), f"/p/{house.links['homeowner']}", handed_over(house)["handover_id"]
    good = {"revision": "1", "seen": "1", "option": "a", "name": "Maren Okafor", "text": "Why?", "item": "A tile"}
    for way in (
        "decisions/1/ask",
        "decisions/1/approve",
        f"handovers/{handover}/items",
        f"handovers/{handover}/accept",
    ):
        for name in (*good, "once", "room"):
            assert client.post(f"{base}/{way}", data=good | {name: "a\0b"}).status_code < 500, (way, name)
    assert client.post(f"{base}/decisions/1/withdraw", data={"revision": "1", "reason": "a\0b"}).status_code == 422


def test_the_door_and_the_api_refuse_it(app: Flask, house: House) -> None:
    door = app.test_client().post("/desk/sign-in", data={"email": "dana\0@example.com", "password": "level\0"})
    assert door.status_code < 500
    manager = ApiClient(app.test_client(), bearer_for(house, "manager"))
    refused(manager.post("projects/7/rooms", {"name": "a\0b"}), 422, "name")
