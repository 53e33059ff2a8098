"""Photos that nothing names go after a day; none goes that a row, a page, the record or a form still wants."""

import threading
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from portal.acts.actor import OPERATOR
from portal.acts.entries import keep
from portal.acts.household.handovers import add_item, offer_handover
from portal.acts.household.updates import post_update, remove_update
from portal.acts.keeping import photos as keeping
from portal.acts.keeping import unnamed_photos
from portal.acts.keeping.photos import Kept, keep_photo, kept_photo, photos_held
from portal.acts.keeping.unnamed_photos import drop_unnamed
from portal.store.engine.database import write
from portal.store.refusals import Busy
from portal.words.prose import prose
from tests.house import NOW, House

DAY = 24 * 3600
SOON, LATER = NOW + 300, NOW + 300 + DAY


@pytest.fixture
def photos(tmp_path: Path) -> Path:
    return tmp_path / "photos"


def pages(photos: Path) -> Path:
    return photos.with_name("site") / "pages"


def sent(photos: Path, color: str = "red") -> Kept:
    """A photo as a form sends it: kept on disk, and named by nothing yet."""
    out = BytesIO()
    Image.new("RGB", (60, 40), color).save(out, "JPEG")
    return keep_photo(photos / "7", out.getvalue(), f"{color}.jpg")


def there(photos: Path) -> set[str]:
    return {path.name.rsplit("-", 1)[0] for path in (photos / "7").glob("*.jpg")}


def ticks(photos: Path, *moments: int) -> None:
    for now in moments:
        drop_unnamed(photos, pages(photos), now)


def test_a_photo_whose_form_was_left_goes_after_a_day(house: House, photos: Path) -> None:
    photo = sent(photos)
    ticks(photos, NOW, NOW + DAY - 1)
    assert there(photos) == {photo.name}
    assert drop_unnamed(photos, pages(photos), NOW + DAY) == 1
    assert list((photos / "7").iterdir()) == []


def test_a_photo_of_an_update_stays_and_goes_a_day_after_it_was_removed(house: House, photos: Path) -> None:
    update = post_update(house.office, house.project, text=prose("Here"), photos=[sent(photos)], now=NOW)
    ticks(photos, NOW, LATER)
    assert len(there(photos)) == 1
    remove_update(house.office, house.project, update.id, update.version, now=NOW)
    ticks(photos, LATER + 1, LATER + DAY)
    assert len(there(photos)) == 1, "a copy that was begun before may be reading it"
    ticks(photos, LATER + DAY + 1)
    assert there(photos) == set()


def test_a_photo_of_two_updates_stays_as_long_as_one_names_it(house: House, photos: Path) -> None:
    here = prose("Here")
    first, _ = (post_update(house.office, house.project, text=here, photos=[sent(photos)], now=NOW) for _ in range(2))
    remove_update(house.office, house.project, first.id, first.version, now=NOW)
    ticks(photos, SOON, LATER)
    assert len(there(photos)) == 1


def test_a_photo_of_an_open_item_stays(house: House, photos: Path) -> None:
    handover = offer_handover(house.manager, house.project, phase=house.phases["floor"], note="", items=[], now=NOW)
    photo = sent(photos)
    add_item(house.homeowner, house.project, handover.id, {"item": "A chip", "photo": photo}, NOW)
    ticks(photos, SOON, LATER)
    assert there(photos) == {photo.name}


def test_a_photo_that_the_published_page_still_shows_stays(house: House, photos: Path) -> None:
    """Its update is gone, and the page could not be written anew."""
    photo = sent(photos)
    page = pages(photos) / "7" / "index.html"
    page.parent.mkdir(parents=True)
    page.write_text(f'<img src="photos/{photo.name}-small.jpg">')
    ticks(photos, SOON, LATER)
    assert there(photos) == {photo.name}
    page.write_text("")
    ticks(photos, LATER + 300)
    assert there(photos) == set()


def test_a_photo_that_the_record_names_is_evidence(house: House, photos: Path) -> None:
    photo = sent(photos)
    with write():
        keep(
            OPERATOR, house.project, "item_added", {"handover": 1, "phase": None, "item": "A chip",
            "photo": photo.name}, NOW
        )
    ticks(photos, SOON, LATER)
    assert there(photos) == {photo.name}


def test_a_form_that_is_sent_again_within_the_day_finds_its_photo_and_has_a_day_more(
    house: House, photos: Path
) -> None:
    photo = sent(photos)
    ticks(photos, NOW, NOW + DAY - 1)
    assert kept_photo(photos / "7", photo.name) is not None
    ticks(photos, NOW + DAY, NOW + 2 * DAY - 1)
    assert there(photos) == {photo.name}
    ticks(photos, NOW + 2 * DAY)
    assert kept_photo(photos / "7", photo.name) is None


def test_the_same_photo_sent_again_as_it_goes_is_there_when_its_update_names_it(
    house: House, photos: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The worst moment: it was found unwanted, and its files are not gone yet."""
    sent(photos)
    ticks(photos, NOW)
    sending = threading.Thread(target=sent, args=(photos,))
    really, waiting = unnamed_photos._wanted, []

    def wanted(page: Path, project_id: int, name: str) -> bool:
        found = really(page, project_id, name)
        sending.start()
        sending.join(0.3)
        waiting.append(sending.is_alive())
        return found

    monkeypatch.setattr(unnamed_photos, "_wanted", wanted)
    assert drop_unnamed(photos, pages(photos), LATER) == 1
    sending.join()
    assert waiting == [True] and len(there(photos)) == 1
    monkeypatch.undo()
    ticks(photos, LATER + 300)
    assert len(there(photos)) == 1, "it has a day again"


def test_a_photo_that_is_named_while_the_others_are_looked_at_stays(
    house: House, photos: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its row is committed after the look at all rows, and before the look at this photo."""
    photo = sent(photos)
    ticks(photos, NOW)
    really = unnamed_photos._marked_or_gone

    def late(folder: Path, page: Path, name: str, now: int) -> bool:
        post_update(house.office, house.project, text=prose("Here"), photos=[photo], now=NOW)
        return really(folder, page, name, now)

    monkeypatch.setattr(unnamed_photos, "_marked_or_gone", late)
    assert drop_unnamed(photos, pages(photos), LATER) == 0
    monkeypatch.undo()
    ticks(photos, LATER, LATER + DAY)
    assert [path.name for path in (photos / "7").glob(".*")] == []
    assert there(photos) == {photo.name}


def test_another_projects_row_does_not_keep_it(house: House, photos: Path) -> None:
    photo = sent(photos)
    post_update(house.office, house.other_project, text=prose("Here"), photos=[photo], now=NOW)
    ticks(photos, SOON, LATER)
    assert there(photos) == set()


def test_what_is_no_photo_of_ours_is_left_alone(house: House, photos: Path) -> None:
    folder = photos / "7"
    folder.mkdir(parents=True)
    strange = {"notes.txt", "sink-900.jpg", f"{'a' * 20}-huge.jpg", ".keep"}
    for name in strange:
        (folder / name).touch()
    (photos / "not-a-project").mkdir(parents=True)
    ticks(photos, NOW, LATER)
    assert {path.name for path in folder.iterdir()} == strange


def test_the_published_copies_go_with_it(house: House, photos: Path) -> None:
    photo = sent(photos)
    copies = pages(photos) / "7" / "photos"
    copies.mkdir(parents=True)
    for size in ("large", "small"):
        (copies / f"{photo.name}-{size}.jpg").write_bytes(b"a copy")
    ticks(photos, NOW, NOW + DAY)
    assert there(photos) == set() and list(copies.iterdir()) == []


def test_a_site_without_pages_is_none_to_look_through(house: House, photos: Path) -> None:
    assert drop_unnamed(photos, pages(photos), NOW) == 0


def test_whoever_is_stuck_with_a_photo_does_not_hang_the_others(
    house: House, photos: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent(photos)
    monkeypatch.setattr(keeping, "_HELD_SECONDS", 0.02)
    with photos_held(photos / "7"), pytest.raises(Busy):
        sent(photos, "blue")
    sent(photos, "blue")
