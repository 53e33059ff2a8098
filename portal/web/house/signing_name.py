"""Asks once whether a typed name is the reader's, where it isn't like the name of whoever's link this is."""

from portal.acts.written import signature
from portal.pages.signers import doubt, resembles
from portal.store.refusals import FieldRefused
from portal.web.house.blueprint import reader


def doubted(name: str, sure: str) -> str:
    """What to ask; empty where nothing is in doubt, or the act will refuse the name anyway. `sure`: the name that was
    asked about already."""
    try:
        name = signature(name, "")
    except FieldRefused:
        return ""
    return "" if sure == name or resembles(name, reader().name) else doubt(reader().name, name)
