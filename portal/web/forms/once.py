"""A form that is sent twice (a double click, a reload, an old tab) is done once."""

import hashlib
from collections.abc import Callable

from flask import request
from werkzeug.datastructures import FileStorage

from portal import clock, signing
from portal.acts.actor import Actor
from portal.store.engine.database import write
from portal.store.rows import kept_answers


def new_mark() -> str:
    """A mark for a form that is shown: sent twice, it is the same one."""
    return signing.new_salt()


def once(actor: Actor, mark: str, do: Callable[[], str]) -> str:
    """Do it, unless a form with this mark and content was done before; returns what `do` said then or says now."""
    fields = sorted(one for one in request.form.items(multi=True) if not _of_the_session(one[0]))
    files = [(file.filename, _digest(file)) for _, file in request.files.items(multi=True) if file.filename]
    sent = f"{request.path} {mark} {fields} {files}"
    key = hashlib.sha256(sent.encode()).hexdigest()
    with write():
        before = kept_answers.find(actor.key, key)
        if before:
            return before.body
        said = do()
        kept_answers.keep(actor.key, key, request.path, 303, "{}", said, clock.now())
        return said


def _of_the_session(name: str) -> bool:
    """What says who sends it: other after they have signed in anew, and the form is the same."""
    return name == "mark" or name.startswith("door.")


def _digest(file: FileStorage) -> str:
    """Cameras name all their pictures the same."""
    file.stream.seek(0)
    found = hashlib.file_digest(file.stream, "sha256").hexdigest()  # type: ignore[arg-type]
    file.stream.seek(0)
    return found
