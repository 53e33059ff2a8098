"""A copy's zip, read once and with measure: the hash of every file, and the bytes of those that prove something."""

import hashlib
import io
import zipfile
import zlib
from dataclasses import dataclass

from portal.record.verdict import Fault

# Pages and photos of ours shrink to a fifth; only what was made to fill a memory shrinks to a hundredth.
_MOST_TIMES = 100
_SMALL = 10_000_000
_PIECE = 1 << 20

# What `zipfile` raises for bytes that were changed: also for a compression, a version or a password that it lacks, and
# for places before the beginning of the file.
_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, RuntimeError, ValueError)


@dataclass(frozen=True, slots=True)
class Packed:
    """`hashes`: SHA-256 in hex of each file by its path. `files`: the bytes of those below `record` and `decisions`
    that are no pages."""

    hashes: dict[str, str]
    files: dict[str, bytes]


def unpacked(data: bytes) -> Packed:
    """What is in a zip. Nothing is written anywhere. Raises Fault for what is no zip, or is made to be harmful."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            names = _names(archive, len(data))
            read = [_read(archive, name) for name in names]
    except Fault:  # which is a ValueError, too
        raise
    except _BROKEN as wrong:
        raise Fault(f"the copy was cut off or changed: {wrong}") from None
    return Packed(
        {name: code for name, (code, _) in zip(names, read, strict=True)},
        {name: kept for name, (_, kept) in zip(names, read, strict=True) if kept is not None},
    )


def _names(archive: zipfile.ZipFile, packed: int) -> list[str]:
    names = archive.namelist()
    if len(set(names)) != len(names):
        raise Fault("a file is in the copy twice.")
    if sum(entry.file_size for entry in archive.infolist()) > packed * _MOST_TIMES + _SMALL:
        raise Fault("it would grow beyond all measure when unpacked, which no copy of ours does. Do not unpack it.")
    return names


def _read(archive: zipfile.ZipFile, name: str) -> tuple[str, bytes | None]:
    if name.startswith(("record/", "decisions/")) and not name.endswith((".html", ".svg")):
        data = archive.read(name)
        return hashlib.sha256(data).hexdigest(), data
    code = hashlib.sha256()
    with archive.open(name) as file:
        while piece := file.read(_PIECE):
            code.update(piece)
    return code.hexdigest(), None
