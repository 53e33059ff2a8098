"""Forms under a link that were changed on their way: numbers that are none of ours."""

from pathlib import Path

import pytest

from portal.acts.household.handovers import offer_handover
from portal.store.tables import OpenItem
from tests.house import NOW, House
from tests.served import serve_house

NUMBERS = ["²", "9" * 30, "٣" * 12, "-1", ""]


@pytest.mark.parametrize("number", NUMBERS)
def test_a_revision_that_is_none_of_ours_is_refused(house: House, tmp_path: Path, number: str) -> None:
    client, base = serve_house(tmp_path).test_client(), f"/p/{house.links['homeowner']}/decisions/1"
    form = {"revision": number, "option": "a", "name": "Maren Okafor", "text": "Why?"}
    assert client.post(f"{base}/approve", data=form).status_code == 400
    assert client.post(f"{base}/ask", data=form).status_code == 400


@pytest.mark.parametrize("number", NUMBERS)
def test_a_list_of_so_many_items_is_not_accepted(house: House, tmp_path: Path, number: str) -> None:
    handover = offer_handover(
        house.manager, house.project, phase=house.phases["floor"], note="", items=[], now=NOW
    ).id  # fmt: skip
    client, base = serve_house(tmp_path).test_client(), f"/p/{house.links['homeowner']}/handovers/{handover}"
    assert client.post(f"{base}/accept", data={"seen": number, "name": "Maren Okafor"}).status_code == 400
    added = client.post(f"{base}/items", data={"item": "A scratch", "room": number})
    assert added.status_code == 303
    assert OpenItem.get(OpenItem.handover == handover).room_id is None
