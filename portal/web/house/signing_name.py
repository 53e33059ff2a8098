"""Asks once whether a typed name is the reader's, where it may be another's than whoever's link this is."""

from portal.acts.written import signature
from portal.pages.signers import doubt
from portal.store.refusals import FieldRefused
from portal.web.house.blueprint import reader, snapshot
from portal.words.names import doubtful


def doubted(name: str, sure: str) -> str:
    """What to ask; empty where nothing is in doubt, or the act will refuse the name anyway. `sure`: the name that was
    asked about already."""
    try:
        name = signature(name, "")
    except FieldRefused:
        return ""
    if sure == name:
        return ""
    others = [person.name for person in snapshot().people if person.id != reader().id]
    return doubt(reader().name, name) if doubtful(name, reader().name, others) else ""
