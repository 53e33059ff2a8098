"""Photos in a backup: those of a project are one member, a tar, so that thousands of houses take no more memory than a
hundred; and each is what its name says, or is told of as lacking.

A published copy is as good as an original that was lost, or was not brought home yet.
"""

import hashlib
import os
import re
import shutil
import tarfile
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from portal.backup.refusals import Altered
from portal.photo_files import file_of, name_by, name_in
from portal.settings import Settings

_MEMBER = re.compile(r"photos/([1-9][0-9]*)\.tar")
_PIECE = 1 << 20


@dataclass
class Photos:
    """What was found of those that rows name (`named`: by project, a line each): how many, and the files
    (`photos/7/...`) that are not there (`missing`), or are not what their name says (`changed`), which a large one
    can be told by."""

    named: Mapping[int, str]
    whole: int = 0
    missing: list[str] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)

    def paths(self, project_id: int, settings: Settings) -> Iterator[Path]:
        """The files of a project's photos; what is lacking is noted."""
        folders = [settings.photos_of(project_id), settings.site / "pages" / str(project_id) / "photos"]
        there = {name for folder in folders for name in _names(folder)}
        named = self._named(project_id)
        for name in sorted(there | named):
            whole = _whole_one(folders, name)
            large, small = whole or _first(folders, file_of(name, "large")), _first(folders, file_of(name, "small"))
            if name in named:
                self._note(project_id, name, whole, large, small)
            yield from (path for path in (large, small) if path is not None)

    def finish(self, projects: set[int]) -> None:
        """The photos of projects that have none on the disk at all."""
        for project_id in sorted(set(self.named) - projects):
            self.missing.extend(_said(project_id, name) for name in sorted(self._named(project_id)))

    def _named(self, project_id: int) -> set[str]:
        return set(self.named.get(project_id, "").splitlines())

    def _note(self, project_id: int, name: str, whole: Path | None, large: Path | None, small: Path | None) -> None:
        if not whole:
            (self.changed if large else self.missing).append(_said(project_id, name))
        elif small is None:
            self.missing.append(_said(project_id, name, "small"))
        else:
            self.whole += 1


def projects_with_photos(settings: Settings) -> list[int]:
    found = set()
    for folder, within in ((settings.photos, "."), (settings.site / "pages", "photos")):
        with suppress(FileNotFoundError):
            found |= {int(one.name) for one in folder.iterdir() if one.name.isdecimal() and (one / within).is_dir()}
    return sorted(found)


def member_of(project_id: int) -> str:
    return f"photos/{project_id}.tar"


def project_in(member: str) -> str | None:
    """The project whose photos are in a member of this name."""
    found = _MEMBER.fullmatch(member)
    return found[1] if found else None


def write_tar(paths: Iterator[Path], into: Any) -> None:
    """`into` needs `write` alone. A photo that goes meanwhile was named by nothing for a day."""
    with tarfile.open(fileobj=into, mode="w|", format=tarfile.USTAR_FORMAT) as tar:
        for path in paths:
            with suppress(FileNotFoundError), path.open("rb") as file:
                info = tar.gettarinfo(arcname=path.name, fileobj=file)
                info.uid = info.gid = 0
                info.uname = info.gname = ""
                info.mode = 0o600
                tar.addfile(info, file)


def unpack_tar(tar: Path, folder: Path, backup: str, member: str) -> None:
    """Put the photos into a new folder. Raises Altered where anything else is in it."""
    folder.mkdir(mode=0o700, parents=True)
    try:
        with tarfile.open(tar, mode="r:") as opened:
            for info in opened:
                file = opened.extractfile(info) if info.isreg() and name_in(info.name) else None
                if file is None or (folder / info.name).exists():
                    raise Altered(path=backup, member=member, reason=f"it holds {info.name!r}, which is no photo")
                with os.fdopen(os.open(folder / info.name, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as into:
                    shutil.copyfileobj(file, into, _PIECE)
                os.utime(folder / info.name, (info.mtime, info.mtime))
    except tarfile.TarError as error:
        raise Altered(path=backup, member=member, reason=f"it can't be read ({error})") from error


def _said(project_id: int, name: str, size: str = "large") -> str:
    return f"photos/{project_id}/{file_of(name, size)}"


def _first(folders: list[Path], file: str) -> Path | None:
    return next((folder / file for folder in folders if (folder / file).is_file()), None)


def _names(folder: Path) -> set[str]:
    with suppress(FileNotFoundError):
        return {name for path in folder.iterdir() if (name := name_in(path.name))}
    return set()


def _whole_one(folders: list[Path], name: str) -> Path | None:
    """The large file that has the hash of its name."""
    for folder in folders:
        with suppress(FileNotFoundError), (folder / file_of(name, "large")).open("rb") as file:
            if name_by(hashlib.file_digest(file, "sha256").hexdigest()) == name:
                return folder / file_of(name, "large")
    return None
