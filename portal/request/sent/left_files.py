"""Photos of a form whose session has ended, until whoever sent it has signed in: nobody chooses them again.

They are kept for a browser that has just shown that it had a session of ours, counted by whose that was, for an hour
and up to a bound over all; and nothing opens them before somebody is signed in (`portal.request.sent_photos`).
"""

import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

from flask import request
from werkzeug.datastructures import FileStorage, ImmutableMultiDict

from portal import clock, signing
from portal.acts.limits import take
from portal.request.services import services
from portal.store.refusals import TooOften

HELD_SECONDS = 3600
MOST_BYTES = 400 * 1024 * 1024
_NAMES = "names.json"


def leave_files(staff_id: int) -> str:
    """Keep the files of this request; returns what names them, an empty text where they can't be kept."""
    files = [(field, file) for field, file in request.files.items(multi=True) if file.filename]
    folder = _folder()
    _forget(folder)
    if not files or _bytes(folder) + (request.content_length or 0) > MOST_BYTES:
        return ""
    try:
        take("left_files", staff_id, clock.now(), tries=len(files))
    except TooOften:
        return ""
    name = signing.new_salt()
    own = folder / name
    own.mkdir(parents=True, mode=0o700)
    for number, (_, file) in enumerate(files):
        file.save(own / str(number))
    told = [[field, file.filename, file.mimetype] for field, file in files]
    (own / _NAMES).write_text(json.dumps(told), encoding="utf-8")
    os.utime(own, (clock.now(), clock.now()))
    return name


def take_up_files(name: str) -> bool:
    """Give this request the files that were left, as if it had brought them; whether they are still there."""
    own = _folder() / name
    if not (len(name) == 32 and name.isalnum() and (own / _NAMES).is_file()):
        return False
    request.files = ImmutableMultiDict(_opened(own))
    return True


def _opened(own: Path) -> Iterator[tuple[str, FileStorage]]:
    for number, (field, name, kind) in enumerate(json.loads((own / _NAMES).read_text(encoding="utf-8"))):
        yield field, FileStorage((own / str(number)).open("rb"), name, field, kind)


def _folder() -> Path:
    return services().settings.data / ".left"


def _bytes(folder: Path) -> int:
    return sum(file.stat().st_size for file in folder.glob("*/*"))


def _forget(folder: Path) -> None:
    for own in folder.glob("*"):
        if own.stat().st_mtime < clock.now() - HELD_SECONDS:
            shutil.rmtree(own, ignore_errors=True)
