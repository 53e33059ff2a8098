"""A stranger's picture from standard input, as JPEGs of our sizes on standard output: a process of its own.

What reads such files takes as much memory as they say, and has crashed before. So this process may take no more memory
or time than an honest picture needs, writes no file, knows no secret, and nothing is lost with it
(portal.acts.keeping.pictures.apart starts it).
"""

import json
import os
import resource
import sys
from collections.abc import Callable, Mapping
from importlib import import_module
from io import BytesIO
from pathlib import Path
from typing import IO, Any

from PIL import Image, ImageOps

from portal.acts.keeping.pictures.heads import TooLarge, check_size, kind_of, opened
from portal.acts.keeping.pictures.limits import DECODING_BYTES

_BAND = 1_000_000  # so many pixels at a time are turned into red, green and blue
_QUALITY = 82
_ORIENTATION = 0x0112  # Exif 2.32, table 4
_CPU_SECONDS = 20
_BEHIND = 10  # of `nice`: answers come first
_READERS = {kind: f"PIL.{kind.title()}ImagePlugin" for kind in ("JPEG", "PNG", "GIF", "TIFF")} | {
    "WEBP": "PIL.WebPImagePlugin", "HEIF": "pillow_heif"
}  # fmt: skip

Encoded = tuple[bytes, tuple[int, int]]
Bands = Callable[[int, int], Image.Image]
"""The rows of a picture from one to before another."""


def shrunk(file: IO[bytes], sizes: Mapping[str, int]) -> dict[str, Encoded]:
    """The picture in `file`, upright and without all that is no picture, by the name of each size (its longer edge).

    Raises TooLarge before anything is decoded; Unreadable, MemoryError, and what the readers raise.
    """
    edge, kind = max(sizes.values()), kind_of(file)
    picture = _from_heif(file, edge) if kind == "HEIF" else _from_other(file, kind, edge)
    return {name: _encoded(picture, size) for name, size in sizes.items()}


def _from_other(file: IO[bytes], kind: str, edge: int) -> Image.Image:
    """The first of several frames."""
    picture = opened(file, kind)
    longer = max(picture.size)
    picture.draft("RGB", (picture.width * edge // longer, picture.height * edge // longer))
    picture.load()
    turned = picture.getexif().get(_ORIENTATION, 1)
    small = _small(picture.size, edge, lambda top, bottom: picture.crop((0, top, picture.width, bottom)))
    small.getexif()[_ORIENTATION] = turned
    return ImageOps.exif_transpose(small)


def _from_heif(file: IO[bytes], edge: int) -> Image.Image:
    """Of several pictures the one that is to be shown. libheif turns it; that its Exif may say so once more does not
    count (ISO/IEC 23008-12, annex A)."""
    heif: Any = import_module(_READERS["HEIF"])
    heif.options.DECODE_THREADS = 1
    heif.options.THUMBNAILS = heif.options.DEPTH_IMAGES = heif.options.AUX_IMAGES = False
    found = heif.open_heif(file)
    one = found[found.primary_index]
    check_size("heif", *one.size)
    rows, width, stride = memoryview(one.data), one.size[0], one.stride

    def band(top: int, bottom: int) -> Image.Image:
        return Image.frombytes(one.mode, (width, bottom - top), rows[top * stride : bottom * stride], "raw", one.mode,
                               stride)

    return _small(one.size, edge, band)


def _small(size: tuple[int, int], edge: int, band: Bands) -> Image.Image:
    """In plain colors, band by band, so that no second whole picture is held: averaged over squares, but not below
    `edge`."""
    width, height = size
    square = max(1, max(size) // edge)
    small = Image.new("RGB", (-(-width // square), -(-height // square)))
    rows = square * max(1, _BAND // (width * square))
    for top in range(0, height, rows):
        piece = _plain(band(top, min(height, top + rows)))
        small.paste(piece.reduce(square), (0, top // square))
    return small


def _plain(piece: Image.Image) -> Image.Image:
    """Red, green and blue; what is transparent stands on white, as on paper."""
    if piece.mode.startswith("I;16"):
        return piece.convert("I").point(lambda value: value * (1 / 256)).convert("L").convert("RGB")
    if not piece.has_transparency_data:
        return piece.convert("RGB")
    seen = piece.convert("RGBA")
    ground = Image.new("RGB", seen.size, "white")
    ground.paste(seen, mask=seen.getchannel("A"))
    return ground


def _encoded(picture: Image.Image, edge: int) -> Encoded:
    copy = picture.copy()
    copy.thumbnail((edge, edge))
    copy.info.clear()
    out = BytesIO()
    copy.save(out, "JPEG", quality=_QUALITY, optimize=True)
    return out.getvalue(), copy.size


def main() -> None:
    """Write one line of JSON, and then the bytes that it tells of: `sizes`, each with its length, width and height.
    Or what is wrong: `over` with a key of LIMITS and `pixels`, or `fault`."""
    os.nice(_BEHIND)
    pictures: dict[str, Encoded] = {}
    try:
        file = sys.stdin.buffer
        import_module(_READERS[kind_of(file)])
        _confine()
        pictures = shrunk(file, json.loads(sys.argv[1]))
        said: dict[str, Any] = {"sizes": {name: (len(data), *size) for name, (data, size) in pictures.items()}}
    except TooLarge as error:
        key, pixels = error.args
        said = {"over": key, "pixels": pixels}
    except MemoryError:
        said = {"fault": "memory"}
    except Exception:  # whatever a reader makes of bytes that are none of its kind
        said = {"fault": "unreadable"}
    sys.stdout.buffer.write(json.dumps(said).encode() + b"\n" + b"".join(data for data, _ in pictures.values()))


def _confine() -> None:
    """What has been loaded until now is not counted as decoding."""
    Image.MAX_IMAGE_PIXELS = None  # the table says what is too large
    taken = next(line for line in Path("/proc/self/status").read_text().splitlines() if line.startswith("VmData"))
    most = int(taken.split()[1]) * 1024 + DECODING_BYTES
    for what, limit in (
        (resource.RLIMIT_DATA, most), (resource.RLIMIT_CPU, _CPU_SECONDS), (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
    ):  # fmt: skip
        resource.setrlimit(what, (limit, limit))
