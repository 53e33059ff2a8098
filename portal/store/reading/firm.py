"""The firm, for pages that show no project."""

from portal.store.engine.database import read
from portal.store.facts import FirmFact
from portal.store.reading.snapshot import read_firm


def current_firm() -> FirmFact:
    with read():
        return read_firm()
