"""From its head alone it is known what a picture is and how large; nothing is decoded to refuse it."""

import struct
from io import BytesIO

import pytest
from PIL import Image

from portal.acts.keeping.pictures import heads
from portal.acts.keeping.pictures.heads import TooLarge, Unreadable, check_size, kind_of, opened
from portal.acts.keeping.pictures.limits import LIMITS
from tests.acts.keeping.pictures.drawn import KINDS, flat, png_head, saved

ROW = {
    "jpeg": "jpeg", "print colors": "jpeg", "progressive": "jpeg scans", "progressive full": "jpeg scans full",
    "progressive print": "jpeg scans print", "scan by scan": "jpeg scans full", "png": "png", "png alpha": "png",
    "png palette": "png gray", "png gray": "png gray", "png bits": "png gray", "png interlaced": "png",
    "gif": "gif gray", "gif moving": "gif gray", "tiff": "tiff", "tiff raw": "tiff", "tiff jpeg": "tiff",
    "tiff one strip": "tiff", "tiff alpha one strip": "tiff", "tiff fax": "tiff gray", "tiff gray": "tiff gray",
    "webp": "webp", "webp lossless": "webp", "webp moving": "webp",
}  # fmt: skip
HEIF = {"heic", "heic tiles", "heic alpha"}


def test_each_kind_that_is_drawn_has_its_row_in_the_table() -> None:
    assert set(ROW) | HEIF == set(KINDS)
    assert set(ROW.values()) | {"heif", "gif"} == set(LIMITS)  # a GIF may come out in colors in a later Pillow


@pytest.mark.parametrize("drawn", ROW)
def test_the_row_of_the_table_is_known_from_the_head(drawn: str, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[str, int, int]] = []
    monkeypatch.setattr(heads, "check_size", lambda *given: asked.append(given))
    data = BytesIO(KINDS[drawn](70, 50))
    opened(data, kind_of(data))
    assert set(asked) == {(ROW[drawn], 70, 50)}


@pytest.mark.parametrize("drawn", sorted(HEIF))
def test_a_heic_is_known_by_its_brand(drawn: str) -> None:
    assert kind_of(BytesIO(KINDS[drawn](70, 50))) == "HEIF"


@pytest.mark.parametrize("row", LIMITS)
def test_a_limit_is_reached_and_not_passed(row: str) -> None:
    check_size(row, LIMITS[row].pixels, 1)
    with pytest.raises(TooLarge) as refused:
        check_size(row, LIMITS[row].pixels + 1, 1)
    assert refused.value.args == (row, LIMITS[row].pixels + 1)
    for empty in ((0, 5), (5, 0)):
        with pytest.raises(Unreadable):
            check_size(row, *empty)


def webp_head(chunk: bytes, body: bytes) -> bytes:
    """RFC 9649, 2.4: the file says that it is long, and is not there."""
    return b"RIFF" + struct.pack("<I", 9_000_000) + b"WEBP" + chunk + struct.pack("<I", 8_000_000) + body


HEADS = {
    "png": png_head(60_000, 60_000),
    "png gray": png_head(60_000, 60_000, color=0),
    "gif gray": b"GIF89a" + struct.pack("<HHBBB", 60_000, 60_000, 0, 0, 0) + b"\x2c" + struct.pack(
        "<HHHHB", 0, 0, 60_000, 60_000, 0) + b"\x08",
    "webp": webp_head(b"VP8X", bytes(4) + (16_382).to_bytes(3, "little") * 2),
    "jpeg": saved(flat(16, 16), "JPEG").replace(struct.pack(">HH", 16, 16), struct.pack(">HH", 60_000, 60_000), 1),
}  # fmt: skip


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")
@pytest.mark.parametrize("row", HEADS)
def test_a_head_without_a_picture_is_refused_for_what_it_says(row: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Were it decoded, it would be cut off instead."""
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", None)
    data = BytesIO(HEADS[row])
    with pytest.raises(TooLarge) as refused:
        opened(data, kind_of(data))
    assert refused.value.args[0] == row and refused.value.args[1] > 100_000_000


@pytest.mark.parametrize(
    ("chunk", "body", "size"),
    [(b"VP8L", b"\x2f" + (29 | 19 << 14).to_bytes(4, "little"), (30, 20)),
     (b"VP8 ", bytes(3) + b"\x9d\x01\x2a" + struct.pack("<HH", 30, 20), (30, 20)),
     (b"VP8X", bytes(4) + (29).to_bytes(3, "little") + (19).to_bytes(3, "little"), (30, 20)),
     (b"VP8L", b"\x00" * 8, (0, 0)), (b"VP8 ", bytes(12), (0, 0)), (b"ALPH", bytes(12), (0, 0))],
)  # fmt: skip
def test_the_size_of_a_webp_stands_in_its_first_chunk(chunk: bytes, body: bytes, size: tuple[int, int]) -> None:
    assert heads._webp_size(webp_head(chunk, body)[:32]) == size


@pytest.mark.parametrize(
    "data", [b"", b"words", b"%PDF-1.7", b"BM" + bytes(60), b"RIFF....WAVE", bytes(4) + b"ftypavif", b"\xff\xd8"]
)
def test_what_is_of_no_kind_in_the_table_is_no_picture(data: bytes) -> None:
    with pytest.raises(Unreadable):
        kind_of(BytesIO(data))
