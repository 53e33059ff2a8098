"""A copy's zip, read once and with measure: the hash of every file, and the bytes of those that prove something."""

import hashlib
import io
import lzma
import struct
import zipfile
import zlib
from dataclasses import dataclass

from portal.record.verdict import Fault

# Pages and photos of ours shrink to a fifth; only what was made to fill a memory shrinks to a hundredth.
_MOST_TIMES = 100
_SMALL = 10_000_000
_PIECE = 1 << 20

BROKEN = (
    zipfile.BadZipFile, zlib.error, lzma.LZMAError, EOFError, RuntimeError, struct.error, ValueError, OverflowError,
    NotImplementedError,  # what `zipfile` itself says of a compression or a version that it lacks
    OSError,  # a place before the file's beginning, too, and a disk that can't read
)  # fmt: skip
"""What the standard library raises on bytes that are no zip any more."""


@dataclass(frozen=True, slots=True)
class ZipContents:
    """`hashes`: SHA-256 in hex of each file by its path. `files`: the bytes of those below `record` and `decisions`
    that are no pages or drawings."""

    hashes: dict[str, str]
    files: dict[str, bytes]


def read_zip(data: bytes) -> ZipContents:
    """Read what is in a zip. Nothing is written anywhere. Raises Fault for what is no zip, or is made to be harmful."""
    found = ZipContents({}, {})
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            for name in _names(archive, len(data)):
                found.hashes[name] = _hash(archive, name)
                if _proves_something(name):
                    found.files[name] = archive.read(name)
    except Fault:  # which is a ValueError, too
        raise
    except BROKEN as wrong:
        raise Fault(f"the copy was cut off or changed: {wrong}") from None
    return found


def _names(archive: zipfile.ZipFile, zipped: int) -> list[str]:
    names = archive.namelist()
    if len(set(names)) != len(names):
        raise Fault("a file is in the copy twice.")
    if sum(entry.file_size for entry in archive.infolist()) > zipped * _MOST_TIMES + _SMALL:
        raise Fault("it would grow beyond all measure when unpacked, which no copy of ours does. Do not unpack it.")
    return names


def _proves_something(name: str) -> bool:
    return name.startswith(("record/", "decisions/")) and not name.endswith((".html", ".svg"))


def _hash(archive: zipfile.ZipFile, name: str) -> str:
    code = hashlib.sha256()
    with archive.open(name) as file:
        while piece := file.read(_PIECE):
            code.update(piece)
    return code.hexdigest()
