"""Opens the file of a backup and gives its members out, each checked against the manifest while it is read."""

import hashlib
import zipfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from portal.backup.contents import DATABASE, SECRET, is_member
from portal.backup.manifest import NAME, Manifest, Member, read_manifest
from portal.backup.refusals import Altered, MadeByNewer, NoBackup
from portal.record.checking.zip_reading import BROKEN
from portal.store.engine.migrate import known

_PIECE = 1 << 17
_LARGEST_MANIFEST = 64 * 1024 * 1024


class Backup:
    """An opened backup whose list of contents holds; `copy` and `check` read the members."""

    def __init__(self, path: str, opened: zipfile.ZipFile) -> None:
        self.path = path
        self._zip = opened
        self.manifest = self._read_manifest()
        self._check_names()

    @property
    def size(self) -> int:
        return sum(member.size for member in self.manifest.members)

    def copy(self, member: Member, into: IO[bytes]) -> None:
        """Raises Altered when what is there is not what was saved."""
        for piece in self._pieces(member):
            into.write(piece)

    def check(self) -> None:
        """Read all of it. Raises Altered."""
        for member in self.manifest.members:
            for _ in self._pieces(member):
                pass

    def _pieces(self, member: Member) -> Iterator[bytes]:
        digest, left = hashlib.sha256(), member.size
        with self._whole(member.name), self._zip.open(member.name) as source:
            while piece := source.read(_PIECE):
                left -= len(piece)
                if left < 0:  # what unpacks to more than it said must not fill the disk
                    break
                digest.update(piece)
                yield piece
        if left or digest.hexdigest() != member.sha256:
            raise Altered(path=self.path, member=member.name, reason="it is not what was saved")

    def _read_manifest(self) -> Manifest:
        names = self._zip.namelist()
        if NAME not in names:
            raise NoBackup(path=self.path, reason="it is no backup of the portal")
        with self._whole(NAME), self._zip.open(NAME) as source:
            data = source.read(_LARGEST_MANIFEST)
        return read_manifest(data, self.path)

    def _check_names(self) -> None:
        said = [NAME, *(member.name for member in self.manifest.members)]
        there = [info.orig_filename for info in self._zip.infolist()]
        for name in [*said[1:], *there]:
            if name != NAME and not is_member(name):
                raise Altered(path=self.path, member=repr(name), reason="no backup has a member of this name")
        listed, found = Counter(said), Counter(there)
        for name in {*said, *there, DATABASE, SECRET}:
            if listed[name] != 1 or found[name] != 1:
                raise Altered(path=self.path, member=name, reason="it should be there once, and listed once")
        unknown = set(self.manifest.migrations) - known()
        if unknown:
            raise MadeByNewer(path=self.path, what=f"its database has had {', '.join(sorted(unknown))}")

    @contextmanager
    def _whole(self, name: str) -> Iterator[None]:
        try:
            yield
        except BROKEN as error:
            raise Altered(path=self.path, member=name, reason=f"it can't be read ({error})") from error


@contextmanager
def opened_backup(path: Path) -> Iterator[Backup]:
    """Raises NoBackup, Altered, MadeByNewer."""
    try:
        file = path.open("rb")
    except OSError as error:
        raise NoBackup(path=path, reason=error.strerror) from error
    with file:
        begins = file.read(2)
        try:
            opened = zipfile.ZipFile(file)
        except BROKEN as error:
            if begins == b"PK":
                raise Altered(path=path, member="its end", reason="the list of contents is not there") from error
            raise NoBackup(path=path, reason="it is no backup of the portal") from error
        with opened:
            yield Backup(str(path), opened)
