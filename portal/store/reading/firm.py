"""The firm, for pages that show no project."""

from portal.store.engine.database import read
from portal.store.facts import FirmFact
from portal.store.reading.snapshot import read_firm

_NOBODY = FirmFact("", "", "", "", "", [])
_last: list[FirmFact] = []


def current_firm() -> FirmFact:
    """As it is written down now. Raises what the database refuses."""
    with read():
        found = read_firm()
    _last[:] = [found]
    return found


def last_known_firm() -> FirmFact:
    """As this process last read it, for when the database can't be asked; one without a name before that."""
    return _last[0] if _last else _NOBODY
