"""Photos that nothing names any more: of removed updates, and of forms that were refused or left.

A photo is on disk before a row names it, because its form is still under way; and when its row is gone, a copy or a
backup may still be reading it. So it is marked at the first look that finds it unnamed, and goes a day after, unless it
has been named or sent again meanwhile.
"""

import contextlib
import os
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from portal.acts.keeping.photos import photos_held, unnamed_mark
from portal.photo_files import files_of, name_in
from portal.store.engine.whole_copy import photos_named
from portal.store.rows import record_rows

KEPT_FOR = 24 * 3600


def drop_unnamed(photos: Path, pages: Path, now: int) -> int:
    """Look through the photos of every project in `photos`, and in `pages` for who still shows them; returns how many
    are gone. The published copies go with them."""
    named: dict[int, set[str]] = defaultdict(set)
    for project_id, name in photos_named():
        named[project_id].add(name)
    return sum(
        _drop(folder, pages / folder.name, named[int(folder.name)], now) for folder in _folders(photos)
    )


def _folders(photos: Path) -> Iterator[Path]:
    with contextlib.suppress(FileNotFoundError):
        for folder in photos.iterdir():
            if folder.name.isdecimal() and folder.is_dir():
                yield folder


def _drop(folder: Path, page: Path, named: set[str], now: int) -> int:
    there = [path.name for path in folder.iterdir()]
    unnamed = {name for file in there if (name := name_in(file))} - named
    marks = {file for file in there if file.endswith(".unnamed")}
    for mark in marks - {unnamed_mark(folder, name).name for name in unnamed}:
        (folder / mark).unlink(missing_ok=True)  # it is named again, or gone
    return sum(_marked_or_gone(folder, page, name, now) for name in unnamed)


def _marked_or_gone(folder: Path, page: Path, name: str, now: int) -> bool:
    mark = unnamed_mark(folder, name)
    with photos_held(folder):  # whoever keeps this photo now waits, and then finds it marked no more, or gone
        if not mark.exists():
            mark.touch()
            os.utime(mark, (now, now))
        if now - mark.stat().st_mtime < KEPT_FOR or _wanted(page, int(folder.name), name):
            return False
        for place in (page / "photos", folder):
            for file in files_of(name):
                (place / file).unlink(missing_ok=True)
        mark.unlink()
        return True


def _wanted(page: Path, project_id: int, name: str) -> bool:
    """Named since the look at all rows; still shown by the page, which may be an older one; or named by the record,
    as photos of open items are: then it is evidence, and stays for good. Of the photos of updates, the record has the
    hashes alone."""
    if (project_id, name) in photos_named():
        return True
    shown = page / "index.html"
    if shown.exists() and name.encode() in shown.read_bytes():
        return True
    listed = f'"photo":"{name}'.encode()
    return any(listed in canonical for _, _, canonical in record_rows.every(project_id))
