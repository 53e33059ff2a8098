"""Completion at the desk."""

from collections.abc import Callable
from io import BytesIO
from urllib.parse import urljoin

import pytest
from PIL import Image

from portal.store.tables import OpenItem
from tests.house import House
from tests.web.signed_in import Desk


def project(house: House, way: str = "") -> str:
    return f"/desk/projects/{house.project}/{way}"


def test_work_is_handed_over_with_a_list_of_lines(manager: Desk, house: House) -> None:
    manager.open(project(house, "handovers/")).open("new")
    lines = "A loose tile\n\n  A scratch by the door "
    manager.send(phase=str(house.phases["floor"]), lines=lines, note="By daylight.")
    assert [item.item for item in OpenItem.select()] == ["A loose tile", "A scratch by the door"]
    manager.open(project(house, "handovers/"))
    assert "Not accepted yet" in manager.says and "A loose tile" in manager.says


def test_what_was_typed_is_kept_when_it_is_refused(manager: Desk, house: House) -> None:
    manager.open(project(house, "handovers/new")).send(status=422, phase="", lines="A loose tile")
    assert "Not everything is finished" in manager.says
    assert manager.typed()["lines"] == "A loose tile"


def test_the_list_grows_and_shrinks(manager: Desk, office: Desk, house: House) -> None:
    manager.open(project(house, "handovers/new")).send(phase=str(house.phases["floor"]), lines="")
    office.open(project(house, "handovers/1/items/new"))
    office.send(item="A loose tile", who="Tile setter", by_on="2026-12-18")
    office.open(project(house, "handovers/"))
    assert "A loose tile; Tile setter, by Fri Dec 18." in office.says
    office.open("items/1/done").send()
    assert OpenItem.get_by_id(1).done_at is not None


def test_only_the_manager_hands_over(office: Desk, house: House) -> None:
    assert "new" not in office.open(project(house, "handovers/")).ways
    office.open(project(house, "handovers/new"), 403)


def picture() -> BytesIO:
    out = BytesIO()
    Image.new("RGB", (80, 60), "gray").save(out, "JPEG")
    out.seek(0)
    return out


def test_an_open_item_shows_its_photo_to_both(manager: Desk, opened: Callable[[str], Desk], house: House) -> None:
    manager.open(project(house, "handovers/new")).send(phase=str(house.phases["floor"]), lines="")
    manager.open(project(house, "handovers/1/items/new"))
    manager.send(item="A loose tile", photo=(picture(), "tile.jpg"))
    reader = opened("homeowner").open("handovers/1/")
    reader.send("items", item="A scratch", photo=(picture(), "scratch.jpg"))
    assert all(item.photo for item in OpenItem.select())
    sources = [one.get("src") or "" for one in reader.page.iter() if one.tag.endswith("img")]
    assert len(sources) == 2
    for source in sources:
        with reader.client.get(urljoin(reader.path, source)) as photo:
            assert photo.status_code == 200


def test_what_is_no_photo_is_refused_and_the_words_stay(
    manager: Desk, opened: Callable[[str], Desk], house: House
) -> None:
    manager.open(project(house, "handovers/new")).send(phase=str(house.phases["floor"]), lines="")
    manager.open(project(house, "handovers/1/items/new"))
    manager.send(status=422, item="A loose tile", photo=(BytesIO(b"no picture"), "tile.jpg"))
    assert manager.typed()["item"] == "A loose tile" and "no picture" in manager.says
    reader = opened("homeowner").open("handovers/1/")
    reader.send("items", 422, item="A scratch", photo=(BytesIO(b"no picture"), "scratch.jpg"))
    assert reader.typed("items")["item"] == "A scratch" and not OpenItem.select().exists()


@pytest.mark.parametrize("way", ["handovers/items/99/done", "decisions/99/paper", "handovers/99/items/new"])
def test_a_wrong_id_is_not_found(office: Desk, house: House, way: str) -> None:
    office.open(project(house, way), 404)


def test_until_when_the_household_can_add_is_set_and_changed(
    manager: Desk, office: Desk, opened: Callable[[str], Desk], house: House
) -> None:
    manager.open(project(house, "handovers/new")).send(
        phase=str(house.phases["floor"]), lines="A loose tile", items_until="2026-12-09"
    )
    assert "can add to it until Wed Dec 9." in manager.open(project(house, "handovers/")).says
    assert "You can add to the list until Wed Dec 9." in opened("homeowner").open("handovers/1/").says
    manager.open("1/until")
    assert manager.typed()["until"] == "2026-12-09"
    manager.send(status=422, until="2026-12-01")
    assert "This day is over." in manager.says
    manager.send(until="")
    assert "can add to it until" not in manager.open(project(house, "handovers/")).says
    office.open(project(house, "handovers/1/until"), 403)
