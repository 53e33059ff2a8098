"""Until version 0.4.0 photos lay in the site alone, with the pages. They are brought home once, when a portal starts.

Interrupted, it is begun again and finds what is done; run by two at once, one waits for the other. The site keeps what
it has: from then on those are its copies.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from portal.acts.keeping.photos import make_folder
from portal.photo_files import name_in
from portal.store.engine.disk import lock

_LONGEST_SECONDS = 3600.0  # gigabytes, on a slow disk


def bring_home(photos: Path, pages: Path) -> None:
    """Have the original of each photo of `pages` in `photos`, on the disk. Raises OSError (no room), Busy."""
    done = photos / ".whole"
    if done.exists() or not any(_folders(pages)):
        return
    photos.mkdir(mode=0o700, exist_ok=True)
    handle = os.open(photos, os.O_RDONLY | os.O_CLOEXEC)
    try:
        lock(handle, _LONGEST_SECONDS, 0.1)
        if not done.exists():
            for folder in _folders(pages):
                _bring(folder / "photos", photos / folder.name)
            os.sync()
            done.touch()
    finally:
        os.close(handle)


def _folders(pages: Path) -> Iterator[Path]:
    with suppress(FileNotFoundError, NotADirectoryError):
        for page in pages.iterdir():
            if page.name.isdecimal() and (page / "photos").is_dir():
                yield page


def _bring(copies: Path, originals: Path) -> None:
    for path in list(copies.iterdir()):
        if path.name.endswith(".unnamed"):  # from now on the marks lie with the originals
            path.unlink(missing_ok=True)
        elif name_in(path.name) and not (originals / path.name).exists():
            make_folder(originals)
            part = originals / f"{path.name}.part"
            shutil.copyfile(path, part)
            shutil.copystat(path, part)  # by its date the site's own is known for a copy
            part.chmod(0o600)
            part.replace(originals / path.name)
