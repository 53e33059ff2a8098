"""Photos: nothing but the picture remains, in two sizes, and what is no picture is said in words."""

import hashlib
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from portal.acts.keeping import photos
from portal.acts.keeping.photos import is_photo_name, keep_photo, kept_photo, unnamed_mark
from portal.acts.refusals import NotAPhoto

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
    with pytest.raises(NotAPhoto, match=r"door\.jpg can't be used as a photo: it is no picture") as refused:
        keep_photo(tmp_path, data, "door.jpg")
    assert refused.value.field == "photos"
    assert list(tmp_path.iterdir()) == []


def test_a_file_may_be_as_large_as_we_say_and_no_larger(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    sent = picture()
    monkeypatch.setattr(photos, "LARGEST_BYTES", len(sent))
    assert keep_photo(tmp_path, sent, "door.jpg")
    with pytest.raises(NotAPhoto, match="larger than 20 MB") as refused:
        keep_photo(tmp_path, sent + b"\0", "door.jpg")
    assert refused.value.field == "photos"
    assert photos.MOST_PHOTOS == 50


def test_a_small_file_with_many_pixels_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(photos, "_LARGEST_PIXELS", 60 * 40)
    assert keep_photo(tmp_path, picture(60, 40), "door.png")
    with pytest.raises(NotAPhoto, match="too many pixels") as refused:
        keep_photo(tmp_path, picture(61, 40), "wide.png")
    assert refused.value.field == "photos"


@pytest.mark.parametrize("times", [1, 3])
def test_a_picture_that_would_fill_the_memory_is_refused_before_it_is_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, times: int
) -> None:
    """Pillow warns from its limit on, and stops at twice that; both are the same refusal here."""
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 60 * 40)
    with pytest.raises(NotAPhoto, match="too many pixels") as refused:
        keep_photo(tmp_path, picture(61 * times, 40), "bomb.png")
    assert refused.value.field == "photos"


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
