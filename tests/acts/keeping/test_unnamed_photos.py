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
from portal.acts.keeping import photos, unnamed_photos
from portal.acts.keeping.photos import Kept, keep_photo, kept_photo, photos_held
from portal.acts.keeping.unnamed_photos import drop_unnamed
from portal.store.engine.database import write
from portal.store.refusals import Busy
from tests.house import NOW, House

DAY = 24 * 3600
SOON, LATER = NOW + 300, NOW + 300 + DAY


@pytest.fixture
def pages(tmp_path: Path) -> Path:
    return tmp_path / "site" / "pages"


def sent(pages: Path, color: str = "red") -> Kept:
    """A photo as a form sends it: kept on disk, and named by nothing yet."""
    out = BytesIO()
    Image.new("RGB", (60, 40), color).save(out, "JPEG")
    return keep_photo(pages / "7" / "photos", out.getvalue(), f"{color}.jpg")


def there(pages: Path) -> set[str]:
    return {path.name.rsplit("-", 1)[0] for path in (pages / "7" / "photos").glob("*.jpg")}


def ticks(pages: Path, *moments: int) -> None:
    for now in moments:
        drop_unnamed(pages, now)


def test_a_photo_whose_form_was_left_goes_after_a_day(house: House, pages: Path) -> None:
    photo = sent(pages)
    ticks(pages, NOW, NOW + DAY - 1)
    assert there(pages) == {photo.name}
    assert drop_unnamed(pages, NOW + DAY) == 1
    assert list((pages / "7" / "photos").iterdir()) == []


def test_a_photo_of_an_update_stays_and_goes_a_day_after_it_was_removed(house: House, pages: Path) -> None:
    update = post_update(house.office, house.project, text="Here", photos=[sent(pages)], now=NOW)
    ticks(pages, NOW, LATER)
    assert len(there(pages)) == 1
    remove_update(house.office, house.project, update.id, update.version)
    ticks(pages, LATER + 1, LATER + DAY)
    assert len(there(pages)) == 1, "a copy that was begun before may be reading it"
    ticks(pages, LATER + DAY + 1)
    assert there(pages) == set()


def test_a_photo_of_two_updates_stays_as_long_as_one_names_it(house: House, pages: Path) -> None:
    first, _ = (post_update(house.office, house.project, text="Here", photos=[sent(pages)], now=NOW) for _ in range(2))
    remove_update(house.office, house.project, first.id, first.version)
    ticks(pages, SOON, LATER)
    assert len(there(pages)) == 1


def test_a_photo_of_an_open_item_stays(house: House, pages: Path) -> None:
    handover = offer_handover(house.manager, house.project, phase=house.phases["floor"], note="", items=[], now=NOW)
    photo = sent(pages)
    add_item(house.homeowner, house.project, handover.id, {"item": "A chip", "photo": photo}, NOW)
    ticks(pages, SOON, LATER)
    assert there(pages) == {photo.name}


def test_a_photo_that_the_published_page_still_shows_stays(house: House, pages: Path) -> None:
    """Its update is gone, and the page could not be written anew."""
    photo = sent(pages)
    page = pages / "7" / "index.html"
    page.write_text(f'<img src="photos/{photo.name}-small.jpg">')
    ticks(pages, SOON, LATER)
    assert there(pages) == {photo.name}
    page.write_text("")
    ticks(pages, LATER + 300)
    assert there(pages) == set()


def test_a_photo_that_the_record_names_is_evidence(house: House, pages: Path) -> None:
    photo = sent(pages)
    with write():
        keep(
            OPERATOR, house.project, "item_added", {"handover": 1, "phase": None, "item": "A chip",
            "photo": photo.name}, NOW
        )
    ticks(pages, SOON, LATER)
    assert there(pages) == {photo.name}


def test_a_form_that_is_sent_again_within_the_day_finds_its_photo_and_has_a_day_more(
    house: House, pages: Path
) -> None:
    photo = sent(pages)
    ticks(pages, NOW, NOW + DAY - 1)
    assert kept_photo(pages / "7" / "photos", photo.name) is not None
    ticks(pages, NOW + DAY, NOW + 2 * DAY - 1)
    assert there(pages) == {photo.name}
    ticks(pages, NOW + 2 * DAY)
    assert kept_photo(pages / "7" / "photos", photo.name) is None


def test_the_same_photo_sent_again_as_it_goes_is_there_when_its_update_names_it(
    house: House, pages: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The worst moment: it was found unwanted, and its files are not gone yet."""
    sent(pages)
    ticks(pages, NOW)
    sending = threading.Thread(target=sent, args=(pages,))
    really, waiting = unnamed_photos._wanted, []

    def wanted(folder: Path, project_id: int, name: str) -> bool:
        found = really(folder, project_id, name)
        sending.start()
        sending.join(0.3)
        waiting.append(sending.is_alive())
        return found

    monkeypatch.setattr(unnamed_photos, "_wanted", wanted)
    assert drop_unnamed(pages, LATER) == 1
    sending.join()
    assert waiting == [True] and len(there(pages)) == 1
    monkeypatch.undo()
    ticks(pages, LATER + 300)
    assert len(there(pages)) == 1, "it has a day again"


def test_a_photo_that_is_named_while_the_others_are_looked_at_stays(
    house: House, pages: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its row is committed after the look at all rows, and before the look at this photo."""
    photo = sent(pages)
    ticks(pages, NOW)
    really = unnamed_photos._marked_or_gone

    def late(folder: Path, project_id: int, name: str, now: int) -> bool:
        post_update(house.office, house.project, text="Here", photos=[photo], now=NOW)
        return really(folder, project_id, name, now)

    monkeypatch.setattr(unnamed_photos, "_marked_or_gone", late)
    assert drop_unnamed(pages, LATER) == 0
    monkeypatch.undo()
    ticks(pages, LATER, LATER + DAY)
    assert [path.name for path in (pages / "7" / "photos").glob(".*")] == []
    assert there(pages) == {photo.name}


def test_another_projects_row_does_not_keep_it(house: House, pages: Path) -> None:
    photo = sent(pages)
    post_update(house.office, house.other_project, text="Here", photos=[photo], now=NOW)
    ticks(pages, SOON, LATER)
    assert there(pages) == set()


def test_what_is_no_photo_of_ours_is_left_alone(house: House, pages: Path) -> None:
    folder = pages / "7" / "photos"
    folder.mkdir(parents=True)
    strange = {"notes.txt", "sink-900.jpg", f"{'a' * 20}-huge.jpg", ".keep"}
    for name in strange:
        (folder / name).touch()
    (pages / "not-a-project" / "photos").mkdir(parents=True)
    ticks(pages, NOW, LATER)
    assert {path.name for path in folder.iterdir()} == strange


def test_a_site_without_pages_is_none_to_look_through(house: House, pages: Path) -> None:
    assert drop_unnamed(pages, NOW) == 0


def test_whoever_is_stuck_with_a_photo_does_not_hang_the_others(
    house: House, pages: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent(pages)
    monkeypatch.setattr(photos, "_HELD_SECONDS", 0.02)
    with photos_held(pages / "7" / "photos"), pytest.raises(Busy):
        sent(pages, "blue")
    sent(pages, "blue")
