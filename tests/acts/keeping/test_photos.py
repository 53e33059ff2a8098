"""Photos: nothing but the picture remains, in two sizes, and what is no picture is said in words."""

import hashlib
import os
import stat
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from portal.acts.keeping.photos import keep_photo, kept_photo, unnamed_mark
from portal.acts.refusals import NotAPhoto
from portal.photo_files import is_photo_name

ORIENTATION, GPS = 0x0112, 0x8825


def picture(width: int = 60, height: int = 40, file: str = "JPEG", mode: str = "RGB", **saved: object) -> bytes:
    out = BytesIO()
    Image.new(mode, (width, height), 120 if mode == "L" else "red").save(out, file, **saved)
    return out.getvalue()


def sizes(folder: Path, name: str) -> dict[str, tuple[int, int]]:
    found = {}
    for size in ("large", "small"):
        with Image.open(folder / f"{name}-{size}.jpg") as one:
            found[size] = one.size
    return found


def test_a_photo_is_kept_in_two_sizes_under_the_digest_of_the_large_one(tmp_path: Path) -> None:
    kept = keep_photo(tmp_path / "photos", picture(3200, 1800), "door.jpg", "The door")
    assert sizes(tmp_path / "photos", kept.name) == {"large": (1600, 900), "small": (640, 360)}
    assert (kept.caption, kept.width, kept.height) == ("The door", 1600, 900)
    large = (tmp_path / "photos" / f"{kept.name}-large.jpg").read_bytes()
    assert kept.sha256 == hashlib.sha256(large).hexdigest() and kept.name == kept.sha256[:20]
    assert sorted(path.name for path in (tmp_path / "photos").iterdir()) == [
        f"{kept.name}-large.jpg", f"{kept.name}-small.jpg"
    ]  # fmt: skip


def test_a_tall_photo_is_as_high_as_a_wide_one_is_wide(tmp_path: Path) -> None:
    kept = keep_photo(tmp_path, picture(900, 3200), "wall.jpg")
    assert sizes(tmp_path, kept.name) == {"large": (450, 1600), "small": (180, 640)}


def test_a_small_photo_is_not_made_larger(tmp_path: Path) -> None:
    kept = keep_photo(tmp_path, picture(30, 20), "chip.jpg")
    assert sizes(tmp_path, kept.name) == {"large": (30, 20), "small": (30, 20)}


@pytest.mark.parametrize(("file", "mode"), [("PNG", "RGBA"), ("GIF", "P"), ("WEBP", "RGB"), ("TIFF", "L")])
def test_what_phones_and_scanners_send_becomes_a_jpeg(tmp_path: Path, file: str, mode: str) -> None:
    kept = keep_photo(tmp_path, picture(file=file, mode=mode), f"scan.{file.lower()}")
    with Image.open(tmp_path / f"{kept.name}-large.jpg") as one:
        assert (one.format, one.mode) == ("JPEG", "RGB")


def test_neither_place_nor_camera_is_kept_and_the_photo_stands_upright(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # the camera was turned by 90 degrees
    exif.get_ifd(GPS)[1] = "N"
    sent = picture(60, 40, exif=exif)
    with Image.open(BytesIO(sent)) as one:
        assert one.getexif()[ORIENTATION] == 6
    kept = keep_photo(tmp_path, sent, "door.jpg")
    assert (kept.width, kept.height) == (40, 60)
    for size in ("large", "small"):
        with Image.open(tmp_path / f"{kept.name}-{size}.jpg") as one:
            assert dict(one.getexif()) == {} and "exif" not in one.info


def test_a_comment_is_not_kept_either(tmp_path: Path) -> None:
    kept = keep_photo(tmp_path, picture(comment=b"the key is under the mat"), "door.jpg")
    assert b"mat" not in (tmp_path / f"{kept.name}-large.jpg").read_bytes()


def test_sent_twice_it_is_there_once_and_what_is_there_is_not_written_again(tmp_path: Path) -> None:
    first = keep_photo(tmp_path, picture(), "door.jpg")
    before = {path: path.stat().st_mtime_ns for path in tmp_path.iterdir()}
    again = keep_photo(tmp_path, picture(), "copy of door.jpg", "Again")
    assert (again.name, again.caption) == (first.name, "Again")
    assert {path: path.stat().st_mtime_ns for path in tmp_path.iterdir()} == before


@pytest.mark.parametrize("data", [b"", b"words", b"<svg xmlns='http://www.w3.org/2000/svg'/>", picture()[:200]])
def test_what_is_no_picture_is_refused_with_the_name_of_its_file(tmp_path: Path, data: bytes) -> None:
    with pytest.raises(NotAPhoto, match=r"door\.jpg can’t be used as a photo: it is no picture") as refused:
        keep_photo(tmp_path, data, "door.jpg")
    assert refused.value.field == "photos"
    assert list(tmp_path.iterdir()) == []


def test_photos_are_ours_alone_whatever_the_umask(tmp_path: Path) -> None:
    """The web server reads the copies in the site."""
    before = os.umask(0)
    keep_photo(tmp_path / "photos" / "7", picture(), "door.jpg")
    os.umask(before)
    modes = {path.relative_to(tmp_path): stat.S_IMODE(path.stat().st_mode) for path in (tmp_path / "photos").rglob("*")}
    assert len(modes) == 4 and all(mode & 0o077 == 0 for mode in modes.values())
    assert stat.S_IMODE((tmp_path / "photos").stat().st_mode) == 0o700


def test_what_the_power_left_without_its_end_is_written_anew(tmp_path: Path) -> None:
    kept = keep_photo(tmp_path, picture(), "door.jpg")
    large = tmp_path / f"{kept.name}-large.jpg"
    whole = large.read_bytes()
    large.write_bytes(whole[:100])
    keep_photo(tmp_path, picture(), "door.jpg")
    assert large.read_bytes() == whole


def test_what_was_kept_before_is_found_by_its_name(tmp_path: Path) -> None:
    kept = keep_photo(tmp_path, picture(1000, 500), "door.jpg", "The door")
    found = kept_photo(tmp_path, kept.name)
    assert found is not None
    assert (found.name, found.width, found.height, found.sha256) == (kept.name, 1000, 500, kept.sha256)
    assert found.caption == ""


@pytest.mark.parametrize("name", ["", "0" * 20, "A" * 20, "0" * 19, "0" * 21, "../" + "0" * 17, "0" * 20 + "\n"])
def test_a_name_that_is_none_of_ours_is_never_a_photo(tmp_path: Path, name: str) -> None:
    assert kept_photo(tmp_path, name) is None
    assert kept_photo(tmp_path / "nowhere", name) is None


def test_names_are_twenty_hex_digits() -> None:
    assert is_photo_name("0123456789abcdef0123")
    assert not is_photo_name("0123456789abcdeg0123")


def test_whoever_wants_a_photo_takes_the_mark_away(tmp_path: Path) -> None:
    """The mark says since when nothing names it; sent or named again, it is not dropped."""
    kept = keep_photo(tmp_path, picture(), "door.jpg")
    mark = unnamed_mark(tmp_path, kept.name)
    assert mark.parent == tmp_path and mark.name == f".{kept.name}.unnamed"
    for want in (lambda: kept_photo(tmp_path, kept.name), lambda: keep_photo(tmp_path, picture(), "door.jpg")):
        mark.touch()
        want()
        assert not mark.exists()
