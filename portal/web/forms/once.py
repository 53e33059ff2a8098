"""A form that is sent twice (a double click, a reload, an old tab) is done once."""

import hashlib
from collections.abc import Callable

from flask import request

from portal import clock, signing
from portal.acts.actor import Actor
from portal.store.engine.database import write
from portal.store.rows import kept_answers


def new_mark() -> str:
    """A mark for a form that is shown: sent twice, it is the same one."""
    return signing.new_salt()


def once(actor: Actor, mark: str, do: Callable[[], str]) -> str:
    """Do it, unless a form with this mark and content was done before; returns what `do` said then or says now."""
    files = [(file.filename, file.content_length) for file in request.files.values()]
    sent = f"{request.path} {mark} {sorted(request.form.items(multi=True))} {files}"
    key = hashlib.sha256(sent.encode()).hexdigest()
    with write():
        before = kept_answers.find(actor.key, key)
        if before:
            return before.body
        said = do()
        kept_answers.keep(actor.key, key, request.path, 303, "{}", said, clock.now())
        return said
