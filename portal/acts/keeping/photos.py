"""Photos: re-encoded, so that nothing but the picture remains (no EXIF, no place), in two sizes."""

import contextlib
import hashlib
import os
import re
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageOps, UnidentifiedImageError

from portal.acts.refusals import NotAPhoto
from portal.store.engine.disk import lock

LARGEST_BYTES = 20 * 1024 * 1024
MOST_PHOTOS = 50
"""In one update: a small file can hold many pixels, and each photo is made anew."""
_LARGEST_PIXELS = 60_000_000
SIZES = {"large": 1600, "small": 640}
_HELD_SECONDS = 20.0  # writing two files takes milliseconds
_FORMATS = ("JPEG", "PNG", "WEBP", "GIF", "TIFF")  # what a phone calls MPO opens as JPEG


@dataclass(frozen=True, slots=True)
class Kept:
    """A photo whose files are on disk: `<name>-large.jpg` and `<name>-small.jpg`; width, height and SHA-256 (64 hex
    digits, of which the first 20 are the name) of the large one."""

    name: str
    caption: str
    width: int
    height: int
    sha256: str


def keep_photo(directory: Path, data: bytes, file: str, caption: str = "") -> Kept:
    """Write a photo's two sizes into `directory`. Raises NotAPhoto, saying what to do.

    The name is a digest of the picture, so the same photo sent twice is kept once.
    """
    picture = _opened(data, file)
    sizes = {size: _encoded(picture, edge) for size, edge in SIZES.items()}
    code = hashlib.sha256(sizes["large"][0]).hexdigest()
    name = code[:20]
    directory.mkdir(parents=True, exist_ok=True)
    with photos_held(directory):
        unnamed_mark(directory, name).unlink(missing_ok=True)
        for size, (encoded, _) in sizes.items():
            _write(directory / f"{name}-{size}.jpg", encoded)
    width, height = sizes["large"][1]
    return Kept(name, caption, width, height, code)


def _opened(data: bytes, file: str) -> Image.Image:
    if len(data) > LARGEST_BYTES:
        raise NotAPhoto(field="photos", file=file, reason="it is larger than 20 MB. Send a smaller one.")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            picture = Image.open(BytesIO(data), formats=_FORMATS)
            if picture.width * picture.height > _LARGEST_PIXELS:
                raise NotAPhoto(field="photos", file=file, reason="it has too many pixels. Send a smaller one.")
            turned = ImageOps.exif_transpose(picture)
            return turned.convert("RGB")
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise NotAPhoto(field="photos", file=file, reason="it has too many pixels. Send a smaller one.") from error
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError) as error:
        raise NotAPhoto(field="photos", file=file, reason="it is no picture that we can read. Send a JPEG.") from error


def _encoded(picture: Image.Image, edge: int) -> tuple[bytes, tuple[int, int]]:
    copy = picture.copy()
    copy.thumbnail((edge, edge))
    copy.info.clear()
    out = BytesIO()
    copy.save(out, "JPEG", quality=82, optimize=True)
    return out.getvalue(), copy.size


def _write(path: Path, data: bytes) -> None:
    if path.exists():
        return
    part = path.with_suffix(f".{os.getpid()}.part")
    part.write_bytes(data)
    part.replace(path)


def kept_photo(directory: Path, name: str) -> Kept | None:
    """A photo that was kept before, by its name; None if there is none (a name that is none of ours never is)."""
    if not is_photo_name(name) or not directory.is_dir():
        return None
    path = directory / f"{name}-large.jpg"
    with photos_held(directory):
        if not path.is_file():
            return None
        unnamed_mark(directory, name).unlink(missing_ok=True)
    with Image.open(path) as picture:
        return Kept(name, "", *picture.size, hashlib.sha256(path.read_bytes()).hexdigest())


def is_photo_name(name: str) -> bool:
    return re.fullmatch(r"[0-9a-f]{20}", name) is not None


def unnamed_mark(directory: Path, name: str) -> Path:
    """Its date is when the photo was first found to be named by nothing; whoever wants the photo takes it away
    (portal.acts.keeping.unnamed_photos)."""
    return directory / f".{name}.unnamed"


@contextlib.contextmanager
def photos_held(directory: Path) -> Iterator[None]:
    """Nobody else keeps or drops a photo of this folder meanwhile. Raises Busy."""
    handle = os.open(directory, os.O_RDONLY | os.O_CLOEXEC)
    try:
        lock(handle, _HELD_SECONDS, 0.005)
        yield
    finally:
        os.close(handle)
