"""A picture becomes small, upright and plain, whatever kind it was; here in our own process, without its limits."""

from io import BytesIO
from typing import Any

import pillow_heif
import pytest
from PIL import Image

from portal.acts.keeping.pictures import shrinking
from portal.acts.keeping.pictures.shrinking import shrunk
from tests.acts.keeping.pictures.drawn import KINDS, flat, saved

SIZES = {"large": 100, "small": 40}
RED, NAVY, YELLOW = (255, 0, 0), (0, 0, 128), (255, 255, 0)
ORIENTATION = 0x0112
OF_ONE_COLOR = {"scan by scan", "png interlaced"}
WITHOUT_COLOR = {"png gray", "png bits", "tiff gray", "tiff fax"}


def large(data: bytes, sizes: dict[str, int] | None = None) -> Image.Image:
    with Image.open(BytesIO(shrunk(BytesIO(data), sizes or SIZES)["large"][0])) as picture:
        picture.load()
        return picture


def fields(picture: Image.Image) -> list[str]:
    """The colors of the four fields: upper left, upper right, lower left, lower right."""
    width, height = picture.size
    return [_named(picture.getpixel((width * x // 4, height * y // 4))) for y in (1, 3) for x in (1, 3)]


def _named(color: Any) -> str:
    names = {"red": RED, "navy": NAVY, "yellow": YELLOW, "white": (255, 255, 255)}
    return min(names, key=lambda name: sum(abs(a - b) for a, b in zip(color, names[name], strict=True)))


@pytest.mark.parametrize("drawn", KINDS)
def test_each_kind_is_read(drawn: str) -> None:
    made = shrunk(BytesIO(KINDS[drawn](330, 220)), SIZES)
    assert {name: size for name, (_, size) in made.items()} == {"large": (100, 67), "small": (40, 27)}
    with Image.open(BytesIO(made["large"][0])) as picture:
        assert (picture.format, picture.mode, picture.size) == ("JPEG", "RGB", (100, 67))
        if drawn not in OF_ONE_COLOR | WITHOUT_COLOR:
            assert fields(picture) == ["red", "navy", "navy", "yellow"]


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WEBP"])
@pytest.mark.parametrize(
    ("turned", "seen"),
    [(1, ["red", "navy", "navy", "yellow"]), (3, ["yellow", "navy", "navy", "red"]),
     (6, ["navy", "red", "yellow", "navy"]), (8, ["navy", "yellow", "red", "navy"])],
)  # fmt: skip
def test_it_stands_upright_as_the_camera_was_held(kind: str, turned: int, seen: list[str]) -> None:
    exif = Image.Exif()
    exif[ORIENTATION] = turned
    picture = large(saved(flat(330, 220), kind, exif=exif))
    assert fields(picture) == seen
    assert picture.size == ((100, 67) if turned < 5 else (67, 100))
    assert dict(picture.getexif()) == {}


def test_a_heic_is_turned_once() -> None:
    """Phones write its turn twice: for libheif, and once more in the Exif, which is not to be followed again."""
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    out = BytesIO()
    sent = pillow_heif.from_pillow(flat(330, 220))
    sent.info["exif"] = exif.tobytes()
    sent.save(out, quality=80)
    assert fields(large(out.getvalue())) == ["navy", "red", "yellow", "navy"]


def test_what_is_transparent_stands_on_white() -> None:
    sketch = Image.new("RGBA", (200, 200), (0, 0, 0, 0))
    sketch.paste((255, 0, 0, 255), (0, 0, 100, 100))
    for kind in ("PNG", "WEBP", "TIFF"):
        assert fields(large(saved(sketch, kind, lossless=True))) == ["red", "white", "white", "white"]
    assert fields(large(saved(sketch.convert("P"), "GIF", transparency=0)))[0] == "red"


def test_gray_of_sixteen_bits_is_not_white() -> None:
    deep = Image.new("I;16", (200, 200), 256 * 64)
    assert large(saved(deep, "PNG")).getpixel((50, 50)) == (64, 64, 64)


def test_bands_leave_no_seams(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same picture, at once and in bands of a few rows."""
    data = saved(Image.linear_gradient("L").resize((900, 700)).convert("RGB"), "PNG")
    at_once = large(data)
    monkeypatch.setattr(shrinking, "_BAND", 5_000)
    assert large(data).tobytes() == at_once.tobytes()


@pytest.mark.parametrize(("width", "height"), [(5_000, 1), (1, 5_000), (1, 1), (101, 100), (199, 7)])
def test_odd_shapes_keep_at_least_a_pixel(width: int, height: int) -> None:
    size = large(saved(flat(width, height), "PNG")).size
    assert min(size) >= 1 and max(size) <= 100 and (max(size) == 100 or max(width, height) < 100)


def test_the_first_of_several_frames_is_taken() -> None:
    pages = [flat(200, 200), Image.new("RGB", (200, 200), "yellow")]
    for kind in ("TIFF", "GIF", "WEBP"):
        assert fields(large(saved(pages[0], kind, save_all=True, append_images=pages[1:])))[0] == "red"
