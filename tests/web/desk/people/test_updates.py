"""Updates at the desk: text and photos, kept when one of them is refused."""

from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from portal.store.tables import Phase, Photo, Update
from tests.house import NOW, House
from tests.web.plain import X
from tests.web.signed_in import Desk, filled

NEW = "/desk/projects/7/updates/new"


def picture(color: str, kind: str = "JPEG") -> BytesIO:
    out = BytesIO()
    exif = Image.Exif()
    exif[0x010E] = "taken at the house"
    Image.new("RGB", (800, 600), color).save(out, kind, exif=exif)
    out.seek(0)
    return out


def files(*given: tuple[BytesIO, str]) -> dict[str, object]:
    return {"photos": list(given)}


def newest() -> Update:
    return Update.select().order_by(Update.id.desc()).first()


def test_an_update_with_photos_is_on_the_page(manager: Desk, house: House, tmp_path: Path) -> None:
    manager.open(NEW).send(text="The *window wall* is closed.", captions="From the door\nFrom the sink",
                           **files((picture("red"), "a.jpg"), (picture("blue", "PNG"), "b.png")))  # fmt: skip
    assert "The update is on the page." in manager.says
    photos = list(Photo.select().where(Photo.of == newest()).order_by(Photo.id))
    assert [photo.caption for photo in photos] == ["From the door", "From the sink"]
    with manager.client.get("/desk/projects/7/page/") as page:
        html = page.get_data(as_text=True)
    assert "<em>window wall</em>" in html
    with manager.client.get(f"/desk/projects/7/photos/{photos[0].name}-large.jpg") as sent:
        assert not Image.open(BytesIO(sent.get_data())).getexif()


def test_one_bad_photo_refuses_the_update_and_keeps_the_text_and_the_good_ones(manager: Desk, house: House) -> None:
    before = Update.select().count()
    manager.open(NEW).send(status=422, text="Three at once.", captions="Red\nBlue",
                           **files((picture("red"), "a.jpg"), (BytesIO(b"%PDF-1.7"), "plan.pdf"),
                                   (picture("blue"), "c.jpg")))  # fmt: skip
    assert manager.wrong("photos").startswith("plan.pdf can’t be used as a photo: it is no picture that we can read.")
    assert manager.typed()["text"] == "Three at once."
    assert "2 photos are here already" in manager.says
    assert Update.select().count() == before
    sent = manager.typed()
    sent["kept"] = [one.get("value") for one in manager.page.iter() if one.get("name") == "kept"]
    manager.post(sent)
    assert [photo.caption for photo in Photo.select().where(Photo.of == newest()).order_by(Photo.id)] == ["Red", "Blue"]


def test_a_photo_alone_says_what_is_under_way(manager: Desk, house: House) -> None:
    """Two presses and the picture: the sentence that the form begins with is kept as it is, or comes by itself."""
    assert manager.open(NEW).typed()["text"].strip() == "Set the base cabinets, kitchen."
    for typed in ({}, {"text": " "}):
        manager.open(NEW).send(**typed, **files((picture("red"), "a.jpg")))
        assert "The update is on the page." in manager.says
        assert newest().text == "Set the base cabinets, kitchen."


def test_where_nothing_is_under_way_a_photo_says_its_day(manager: Desk, house: House) -> None:
    Phase.update(state="done", finished_at=NOW).where(Phase.state == "under_way").execute()
    manager.open(NEW).send(**files((picture("red"), "a.jpg"), (picture("blue"), "b.jpg")))
    assert newest().text == "2 photos of Wed Dec 2."


def test_the_first_page_of_the_house_takes_the_picture(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/")
    forms = [one for one in manager.page.iter(f"{X}form") if one.get("action") == "updates/new"]
    kinds = [(one.get("capture"), one.get("accept")) for form in forms for one in form.iter(f"{X}input")
             if one.get("type") == "file"]
    assert kinds == [("environment", "image/*"), (None, "image/*")]
    manager.path = "/desk/projects/7/updates/new"
    manager.post(filled(forms[0]) | files((picture("red"), "a.jpg")))
    assert "The update is on the page." in manager.says and manager.path == "/desk/projects/7/"


def test_an_update_without_words_and_photos_is_refused(manager: Desk, house: House) -> None:
    manager.open(NEW).send(status=422, text=" ")
    assert manager.wrong("text") == "Write what happened, or choose a photo."


@pytest.mark.parametrize("name", ["../../../secret", "E" * 20, "", "a/b", "é"])
def test_a_name_that_is_no_kept_photo_adds_none(manager: Desk, house: House, name: str) -> None:
    manager.open(NEW)
    manager.post(manager.typed() | {"text": "Words only.", "kept": name})
    assert Photo.select().where(Photo.of == newest()).count() == 0


def test_a_photo_that_is_gone_again_must_be_chosen_anew_and_is_not_left_out_in_silence(
    manager: Desk, house: House
) -> None:
    before = Update.select().count()
    manager.open(NEW)
    manager.post(manager.typed() | {"text": "With a photo.", "kept": "e" * 20}, 422)
    assert "Choose it again." in manager.wrong("photos")
    assert Update.select().count() == before
    manager.post(manager.typed())
    assert newest().text == "With a photo."


def test_a_script_in_the_text_does_not_reach_the_page(manager: Desk, house: House) -> None:
    manager.open(NEW).send(text="Hello <script>alert(1)</script> there")
    with manager.client.get("/desk/projects/7/page/") as page:
        assert "<script" not in page.get_data(as_text=True)


def test_an_update_is_changed_and_removed(office: Desk, house: House) -> None:
    update = newest()
    office.open(f"/desk/projects/7/updates/{update.id}/change")
    assert office.typed()["text"] == update.text
    office.send(text="Changed words.")
    assert Update.get_by_id(update.id).text == "Changed words."
    office.open(f"/desk/projects/7/updates/{update.id}/remove").send()
    assert Update.get_or_none(Update.id == update.id) is None


def test_a_double_press_posts_once(manager: Desk, house: House) -> None:
    before = Update.select().count()
    sent = manager.open(NEW).typed() | {"text": "Once."}
    for _ in range(2):
        manager.path = NEW
        manager.post(sent)
    assert Update.select().count() == before + 1


def test_two_pictures_of_one_name_sent_from_one_page_are_two_updates(manager: Desk) -> None:
    """A camera names all of them the same, and a phone may send both once there is a network."""
    before, sent = Update.select().count(), manager.open(NEW).typed() | {"text": "The top"}
    for color in ("red", "blue", "red"):
        manager.path = NEW
        manager.post(sent | files((picture(color), "image.jpg")))
    assert Update.select().count() == before + 2, "and what is sent twice, once"
