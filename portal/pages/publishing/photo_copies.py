"""The published copies of photos: `pages/<project>/photos` holds those that the page names, copied from the originals,
which lie beside the site. A site that was lost is whole again when its pages are published.
"""

import os
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from portal.pages.publishing.modes import make_folder, write_file
from portal.photo_files import files_of, name_in


class PhotoCopies:
    """Of the site in `folder`. Whoever calls holds the project's lock, which is `Site.lock`."""

    def __init__(self, folder: Path) -> None:
        self._pages = folder / "pages"
        self._originals = folder.with_name("photos")

    def have(self, project_id: int, names: Iterable[str]) -> None:
        """Have a copy of each file of these photos. What has no original stays as it is: whoever verifies or makes a
        backup says so."""
        originals, copies = self._folders(project_id)
        for file in (file for name in names for file in files_of(name)):
            with suppress(FileNotFoundError):
                original = (originals / file).stat()
                if not _is_copy(copies / file, original):
                    make_folder(copies)
                    _copy(originals / file, copies / file, original)

    def drop_others(self, project_id: int, names: Iterable[str]) -> None:
        """Remove copies of photos that the page names no more; not a file that is nowhere else."""
        originals, copies = self._folders(project_id)
        shown = set(names)
        with suppress(FileNotFoundError):
            for path in list(copies.iterdir()):
                name = name_in(path.name)
                if name is not None and name not in shown and (originals / path.name).exists():
                    path.unlink(missing_ok=True)

    def _folders(self, project_id: int) -> tuple[Path, Path]:
        return self._originals / str(project_id), self._pages / str(project_id) / "photos"


def _is_copy(copy: Path, original: os.stat_result) -> bool:
    """By size and time of change, as it was dated when it was made: to compare bytes at each publishing is too much."""
    try:
        found = copy.stat()
    except FileNotFoundError:
        return False
    return (found.st_size, found.st_mtime_ns) == (original.st_size, original.st_mtime_ns)


def _copy(original: Path, copy: Path, dated: os.stat_result) -> None:
    """No fsync: a copy lost with the power is made again."""
    part = copy.with_name(f"{copy.name}.part")
    try:
        write_file(part, original.read_bytes())
        os.utime(part, ns=(dated.st_atime_ns, dated.st_mtime_ns))
        part.replace(copy)
    finally:
        part.unlink(missing_ok=True)
