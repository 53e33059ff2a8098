"""Photos that nothing names any more: of removed updates, and of forms that were refused or left.

A photo is on disk before a row names it, because its form is still under way; and when its row is gone, a copy or a
backup may still be reading it. So it is marked at the first look that finds it unnamed, and goes a day after, unless it
has been named or sent again meanwhile.
"""

import contextlib
import os
import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from portal.acts.keeping.photos import SIZES, photos_held, unnamed_mark
from portal.store.engine.whole_copy import photos_named
from portal.store.rows import record_rows

KEPT_FOR = 24 * 3600
_PHOTO = re.compile(rf"([0-9a-f]{{20}})-(?:{'|'.join(SIZES)})\.jpg")


def drop_unnamed(pages: Path, now: int) -> int:
    """Look through the photos of every project in `pages`; returns how many are gone."""
    named: dict[int, set[str]] = defaultdict(set)
    for project_id, name in photos_named():
        named[project_id].add(name)
    return sum(_drop(folder, project_id, named[project_id], now) for project_id, folder in _folders(pages))


def _folders(pages: Path) -> Iterator[tuple[int, Path]]:
    with contextlib.suppress(FileNotFoundError):
        for page in pages.iterdir():
            if page.name.isdecimal() and (page / "photos").is_dir():
                yield int(page.name), page / "photos"


def _drop(folder: Path, project_id: int, named: set[str], now: int) -> int:
    there = [path.name for path in folder.iterdir()]
    unnamed = {found[1] for file in there if (found := _PHOTO.fullmatch(file))} - named
    marks = {file for file in there if file.endswith(".unnamed")}
    for mark in marks - {unnamed_mark(folder, name).name for name in unnamed}:
        (folder / mark).unlink(missing_ok=True)  # it is named again, or gone
    return sum(_marked_or_gone(folder, project_id, name, now) for name in unnamed)


def _marked_or_gone(folder: Path, project_id: int, name: str, now: int) -> bool:
    mark = unnamed_mark(folder, name)
    with photos_held(folder):  # whoever keeps this photo now waits, and then finds it marked no more, or gone
        if not mark.exists():
            mark.touch()
            os.utime(mark, (now, now))
        if now - mark.stat().st_mtime < KEPT_FOR or _wanted(folder, project_id, name):
            return False
        for size in SIZES:
            (folder / f"{name}-{size}.jpg").unlink(missing_ok=True)
        mark.unlink()
        return True


def _wanted(folder: Path, project_id: int, name: str) -> bool:
    """Named since the look at all rows; still shown by the page, which may be an older one; or named by the record,
    as photos of open items are: then it is evidence, and stays for good."""
    if (project_id, name) in photos_named():
        return True
    page = folder.parent / "index.html"
    if page.exists() and name.encode() in page.read_bytes():
        return True
    return any(name.encode() in canonical for _, _, canonical in record_rows.every(project_id))
