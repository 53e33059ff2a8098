"""Photos: re-encoded, so that nothing but the picture remains (no EXIF, no place), in two sizes."""

import contextlib
import hashlib
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from PIL import Image

from portal.acts.keeping.pictures.apart import made_small
from portal.photo_files import SIZES, file_of, is_photo_name, name_by
from portal.store.engine.disk import lock, sync_folder

MOST_PHOTOS = 50
"""In one update: each photo is made anew, one after the other."""
_HELD_SECONDS = 20.0  # writing two files takes milliseconds


@dataclass(frozen=True, slots=True)
class Kept:
    """A photo whose files are on disk: `<name>-large.jpg` and `<name>-small.jpg`; width, height and SHA-256 (64 hex
    digits, of which the first 20 are the name) of the large one."""

    name: str
    caption: str
    width: int
    height: int
    sha256: str


def keep_photo(directory: Path, source: bytes | IO[bytes], file: str, caption: str = "") -> Kept:
    """Write a photo's two sizes into `directory`, the project's own folder. Every picture that anybody sends comes
    through here. Raises NotAPhoto and PhotosWait, saying what to do.

    The name is a digest of the picture, so the same photo sent twice is kept once.
    """
    make_folder(directory)
    sizes = made_small(source, file, SIZES, directory.parent)
    large, width, height = sizes["large"]
    code = hashlib.sha256(large).hexdigest()
    name = name_by(code)
    with photos_held(directory):
        unnamed_mark(directory, name).unlink(missing_ok=True)
        for size, (encoded, _, _) in sizes.items():
            _write(directory / file_of(name, size), encoded)
        sync_folder(directory)
    return Kept(name, caption, width, height, code)


def make_folder(directory: Path) -> None:
    """Only we may look into the folder of all projects: the web server reads the copies in the site."""
    directory.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    directory.mkdir(mode=0o700, exist_ok=True)


def _write(path: Path, data: bytes) -> None:
    """A file that the power left without its end is written anew."""
    if path.exists() and path.stat().st_size == len(data):
        return
    part = path.with_suffix(f".{os.getpid()}.part")
    with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    part.replace(path)


def kept_photo(directory: Path, name: str) -> Kept | None:
    """A photo that was kept before, by its name; None if there is none (a name that is none of ours never is)."""
    if not is_photo_name(name) or not directory.is_dir():
        return None
    path = directory / file_of(name, "large")
    with photos_held(directory):
        if not path.is_file():
            return None
        unnamed_mark(directory, name).unlink(missing_ok=True)
    with Image.open(path) as picture:
        return Kept(name, "", *picture.size, hashlib.sha256(path.read_bytes()).hexdigest())


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
