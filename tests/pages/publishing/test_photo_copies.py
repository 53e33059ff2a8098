"""The site's photos are copies of the originals beside it: those that the page names, remade whenever they are lost."""

import shutil
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from portal.acts.household.updates import post_update, remove_update
from portal.acts.keeping.photos import Kept, keep_photo
from portal.pages.publishing.publish import Publisher
from portal.words.prose import prose
from tests.house import NOW, SECRET, House


@pytest.fixture
def publisher(house: House, tmp_path: Path) -> Publisher:
    return Publisher(tmp_path / "site", SECRET, background=False)


def sent(tmp_path: Path, color: str = "red") -> Kept:
    out = BytesIO()
    Image.new("RGB", (60, 40), color).save(out, "JPEG")
    return keep_photo(tmp_path / "photos" / "7", out.getvalue(), "door.jpg")


def published(tmp_path: Path) -> dict[str, bytes]:
    folder = tmp_path / "site" / "pages" / "7" / "photos"
    return {path.name: path.read_bytes() for path in folder.iterdir()} if folder.is_dir() else {}


def originals(tmp_path: Path, *photos: Kept) -> dict[str, bytes]:
    return {
        file.name: file.read_bytes() for photo in photos for file in (tmp_path / "photos" / "7").glob(f"{photo.name}-*")
    }


def test_a_page_comes_with_copies_of_what_it_names_and_of_nothing_else(
    house: House, publisher: Publisher, tmp_path: Path
) -> None:
    photo, _unnamed = sent(tmp_path), sent(tmp_path, "blue")
    post_update(house.office, house.project, text=prose("Here"), photos=[photo], now=NOW)
    publisher.publish(house.project, NOW)
    assert published(tmp_path) == originals(tmp_path, photo) and len(published(tmp_path)) == 2
    mode = (tmp_path / "site" / "pages" / "7" / "photos").stat().st_mode
    assert mode & 0o077 == 0o050, "the web server's group reads them"


def test_a_site_that_was_wiped_is_whole_when_all_is_published(
    house: House, publisher: Publisher, tmp_path: Path
) -> None:
    photo = sent(tmp_path)
    post_update(house.office, house.project, text=prose("Here"), photos=[photo], now=NOW)
    publisher.publish(house.project, NOW)
    shutil.rmtree(tmp_path / "site")
    assert publisher.publish_all() == []
    assert published(tmp_path) == originals(tmp_path, photo) != {}
    link = tmp_path / "site" / "p" / house.links["homeowner"] / "photos" / f"{photo.name}-small.jpg"
    assert link.is_file()


def test_a_copy_that_was_changed_or_cut_off_is_made_again(
    house: House, publisher: Publisher, tmp_path: Path
) -> None:
    photo = sent(tmp_path)
    post_update(house.office, house.project, text=prose("Here"), photos=[photo], now=NOW)
    publisher.publish(house.project, NOW)
    for spoiled in (b"", b"\0" * len(originals(tmp_path, photo)[f"{photo.name}-large.jpg"])):
        (tmp_path / "site" / "pages" / "7" / "photos" / f"{photo.name}-large.jpg").write_bytes(spoiled)
        publisher.publish(house.project, NOW)
        assert published(tmp_path) == originals(tmp_path, photo)


def test_a_photo_of_a_removed_update_leaves_the_site_at_once(
    house: House, publisher: Publisher, tmp_path: Path
) -> None:
    photo = sent(tmp_path)
    update = post_update(house.office, house.project, text=prose("Here"), photos=[photo], now=NOW)
    publisher.publish(house.project, NOW)
    remove_update(house.office, house.project, update.id, update.version, NOW)
    publisher.publish(house.project, NOW)
    assert published(tmp_path) == {} and len(originals(tmp_path, photo)) == 2


def test_a_copy_whose_original_is_lost_stays(house: House, publisher: Publisher, tmp_path: Path) -> None:
    """It is the last one there is."""
    photo = sent(tmp_path)
    update = post_update(house.office, house.project, text=prose("Here"), photos=[photo], now=NOW)
    publisher.publish(house.project, NOW)
    copies = published(tmp_path)
    shutil.rmtree(tmp_path / "photos" / "7")
    publisher.publish(house.project, NOW)
    remove_update(house.office, house.project, update.id, update.version, NOW)
    publisher.publish(house.project, NOW)
    assert published(tmp_path) == copies
