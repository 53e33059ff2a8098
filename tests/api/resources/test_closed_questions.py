"""Over the API, a question whose work has begun says so, and takes nothing more until the start is taken back."""

from collections.abc import Callable
from typing import Any

import pytest

from portal.store import tables
from tests.house import House
from tests.served import ApiClient

As = Callable[[str | None], ApiClient]

WAYS: dict[str, tuple[str, str, dict[str, Any]]] = {
    "approve": ("homeowner", "approvals", {"revision": 1, "option": "a", "name": "Maren Okafor"}),
    "ask back": ("co_owner", "questions", {"revision": 1, "text": "Why two?"}),
    "ask again": ("manager", "revisions", {"question": "Three holes?"}),
    "enter paper": ("office", "paper", {"revision": 1, "option": "a", "person": 0, "name": "Maren Okafor"}),
}


def begin(house: House, manager: ApiClient) -> None:
    phase = f"projects/{house.project}/phases/{house.phases['drill']}"
    assert manager.post(f"{phase}/release", {"reason": "They are here"}).status_code == 200
    assert manager.post(f"{phase}/start", {"anyway": True}).status_code == 200


@pytest.mark.parametrize("doing", WAYS)
def test_it_is_refused_with_the_reason(sending_as: As, manager: ApiClient, house: House, doing: str) -> None:
    who, way, body = WAYS[doing]
    body = body | ({"person": house.homeowner.id} if "person" in body else {})
    path = f"projects/{house.project}/decisions/{house.decisions[1]}"
    begin(house, manager)
    shown = manager.get(path).json
    assert (shown["state"], shown["closed"]) == ("closed", "work_has_begun")
    answer = sending_as(who).post(f"{path}/{way}", body)
    assert (answer.status_code, answer.json["type"]) == (409, "/problems/work-has-begun")
    assert answer.json["detail"].startswith("Decision 1 is closed: the work has begun (“Drill the holes")
    assert answer.json["number"] == 1
    tables.Phase.update(started_at=None, state="waiting").where(tables.Phase.id == house.phases["drill"]).execute()
    shown = manager.get(path).json
    assert (shown["state"], shown["closed"]) == ("asked", None)
    assert sending_as(who).post(f"{path}/{way}", body).status_code == 201
