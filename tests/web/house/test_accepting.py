"""A hand-over under a private link: nothing typed is lost, and it is accepted only after a second look."""

from collections.abc import Callable
from io import BytesIO

import pytest
from PIL import Image

from portal.acts.household.handovers import add_item, offer_handover
from portal.store.tables import Handover, OpenItem
from tests.house import NOW, House
from tests.web.signed_in import Desk

Opening = Callable[[str], Desk]
WHAT_THE_LAW_GIVES = "You keep what the contract and the law give you"


@pytest.fixture(autouse=True)
def handed_over(house: House) -> Handover:
    items = [{"item": "Touch up the wall"}]
    return offer_handover(
        house.manager, house.project, phase=house.phases["floor"], note="By daylight.", items=items, now=NOW
    )


def picture() -> BytesIO:
    out = BytesIO()
    Image.new("RGB", (80, 60), "gray").save(out, "JPEG")
    out.seek(0)
    return out


def items() -> list[str]:
    return [one.item for one in OpenItem.select().order_by(OpenItem.id)]


def reviewed(opened: Opening, who: str = "homeowner", **typed: object) -> Desk:
    return opened(who).open("handovers/1/").send("items", step="review", **typed)


def test_what_was_written_and_not_added_is_on_the_list_that_is_accepted(opened: Opening) -> None:
    reader = reviewed(opened, item="A scratch by the door", photo=(picture(), "scratch.jpg"))
    assert reader.path.endswith("/handovers/1/review")
    assert "Touch up the wall" in reader.says and "A scratch by the door" in reader.says
    assert OpenItem.get_by_id(2).photo
    assert Handover.get_by_id(1).accepted_at is None
    reader.send("accept", name="Maren Okafor")
    assert "Accepted by Maren Okafor" in reader.says and "A scratch by the door" in reader.says


def test_the_second_look_says_what_accepting_means(opened: Opening) -> None:
    reader = reviewed(opened)
    assert items() == ["Touch up the wall"]
    looked = "You say that you have looked, and saw nothing else. What is on the list stays ours to finish."
    assert looked in reader.says
    assert WHAT_THE_LAW_GIVES in reader.says and "Your contract says what, and for how long." in reader.says
    assert "as it is" not in reader.says


def test_nothing_is_accepted_by_looking(opened: Opening) -> None:
    opened("homeowner").open("handovers/1/review")
    assert Handover.get_by_id(1).accepted_at is None


def test_a_photo_without_words_is_asked_about_not_dropped(opened: Opening) -> None:
    reader = opened("homeowner").open("handovers/1/")
    reader.send("items", 422, step="review", photo=(picture(), "scratch.jpg"))
    assert "Write what is still open first." in reader.says


def test_what_was_written_stays_when_it_is_refused(opened: Opening) -> None:
    reader = opened("homeowner").open("handovers/1/")
    reader.send("items", 422, step="review", item="A scratch", photo=(BytesIO(b"no picture"), "scratch.jpg"))
    assert reader.typed("items")["item"] == "A scratch"


def test_a_list_that_grew_meanwhile_is_shown_again(opened: Opening, house: House) -> None:
    reader = reviewed(opened)
    add_item(house.manager, house.project, 1, {"item": "A loose tile"}, NOW)
    reader.send("accept", 422, name="Maren Okafor")
    assert "The list has changed since you read it" in reader.says and "A loose tile" in reader.says
    assert reader.typed("accept")["name"] == "Maren Okafor"
    reader.send("accept")
    assert Handover.get_by_id(1).accepted_name == "Maren Okafor"


def test_accepting_takes_a_name(opened: Opening) -> None:
    reader = reviewed(opened).send("accept", 422, name=" ")
    assert "Type your full name to accept." in reader.says and Handover.get_by_id(1).accepted_at is None


def test_another_name_is_asked_about_once(opened: Opening) -> None:
    reader = reviewed(opened).send("accept", 422, name="Milo Moss")
    assert "This is the link of Maren Okafor, and you typed “Milo Moss”." in reader.says
    assert Handover.get_by_id(1).accepted_at is None
    reader.send("accept")
    assert Handover.get_by_id(1).accepted_name == "Milo Moss"


def test_what_is_accepted_is_not_accepted_again(opened: Opening) -> None:
    reader = reviewed(opened)
    reviewed(opened, "co_owner").send("accept", name="Jonas Okafor")
    reader.send("accept", 409, name="Maren Okafor")
    assert "accepted already, by Jonas Okafor" in reader.says
    assert "accept" not in opened("homeowner").open("handovers/1/review").ways


def test_a_doubled_form_adds_one_item(opened: Opening) -> None:
    reader = opened("homeowner").open("handovers/1/")
    sent = reader.typed("items") | {"item": "A scratch", "step": "review"}
    for _ in range(2):
        reader.path = f"/p/{reader.path.split('/')[2]}/handovers/1/items"
        reader.post(dict(sent))
    assert items() == ["Touch up the wall", "A scratch"]


def test_the_page_asks_for_it_where_it_asks_for_answers_until_it_is_accepted(opened: Opening) -> None:
    asks = "“Lay the floor tile” is done. Look it over."
    page = opened("homeowner")
    assert asks in page.says and "handovers/1/" in page.ways
    reviewed(opened).send("accept", name="Maren Okafor")
    assert asks not in opened("homeowner").says


def test_the_name_of_another_of_the_household_is_asked_about_once(opened: Opening) -> None:
    reader = reviewed(opened).send("accept", 422, name="J. Okafor")
    assert "This is the link of Maren Okafor, and you typed “J. Okafor”." in reader.says
    reader.send("accept")
    assert Handover.get_by_id(1).accepted_name == "J. Okafor"
