"""Writes the file of a backup: a zip of its members, with their checksums in the manifest at its end."""

import hashlib
import io
import os
import time
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO, Any, Self

from portal.backup.manifest import NAME, Manifest, Member
from portal.backup.photos import write_tar

_PIECE = 1 << 17
_SMALL_ALREADY = {".jpg", ".png", ".gz", ".zip"}


class _Counted(io.RawIOBase):
    """Writes through, and knows how much it was and its SHA-256."""

    def __init__(self, into: IO[bytes]) -> None:
        self.into, self.size, self.digest = into, 0, hashlib.sha256()

    def writable(self) -> bool:
        return True

    def write(self, piece: Any) -> int:
        self.size += len(piece)
        self.digest.update(piece)
        return self.into.write(piece)


@dataclass
class Packer:
    """`with Packer(...)`: `pack...` for each member, then `finish`; the file is on the disk when that returns."""

    file: IO[bytes]
    now: int
    members: list[Member] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.zip = zipfile.ZipFile(self.file, "w")

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *failed: object) -> None:
        """What could not be finished is given up; were it not closed, it would be tried once more at some time."""
        with suppress(OSError, ValueError):
            self.zip.close()

    def pack_file(self, name: str, path: Path, *, packed: bool = False) -> None:
        """`packed`: its own form is compressed already."""
        with path.open("rb") as source:
            self._pack(name, source, packed or path.suffix in _SMALL_ALREADY)

    def pack_bytes(self, name: str, data: bytes) -> None:
        self._pack(name, io.BytesIO(data), packed=True)

    def pack_photos(self, name: str, paths: Iterator[Path]) -> None:
        """In a tar, which is written as it is read."""
        with self._member(name, packed=True) as into:
            write_tar(paths, into)

    def finish(self, manifest: Manifest) -> None:
        """The manifest is that of the members packed."""
        self.zip.writestr(self._info(NAME, packed=False), manifest.to_json())
        self.zip.close()
        self.file.flush()
        os.fsync(self.file.fileno())

    def _pack(self, name: str, source: IO[bytes], packed: bool) -> None:
        with self._member(name, packed) as into:
            while piece := source.read(_PIECE):
                into.write(piece)

    @contextmanager
    def _member(self, name: str, packed: bool) -> Iterator["_Counted"]:
        with self.zip.open(self._info(name, packed), "w", force_zip64=True) as into:
            counted = _Counted(into)
            yield counted
        self.members.append(Member(name, counted.size, counted.digest.hexdigest()))

    def _info(self, name: str, packed: bool) -> zipfile.ZipInfo:
        info = zipfile.ZipInfo(name, time.gmtime(self.now)[:6])
        info.compress_type = zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED
        info.external_attr = 0o600 << 16
        return info
