"""What a manager is warned of, in the words of the desk: on the page of a project, and after a change."""

from collections.abc import Callable

from portal import clock
from portal.pages import unkept_visits
from portal.pages.warning_words import warning_words
from portal.planning.conflicts.unkept_visits import Conflict
from portal.store.reading.warnings import Found, caused
from portal.store.rows.editable import project_row

Said = str | tuple[str, str]


def conflict_words(conflict: Found, timezone: str) -> str:
    if isinstance(conflict, Conflict):
        return unkept_visits.conflict_words(conflict, timezone)
    return warning_words(conflict)


def warned(project_id: int, change: Callable[[], Said]) -> Said:
    """Do a change, and say with it what it has caused: visits that can't be kept, nights to tell about. It warns, it
    doesn't refuse."""
    said, found = caused(project_id, clock.now(), change)
    zone = project_row(project_id).timezone
    words = " ".join(["", *dict.fromkeys(conflict_words(one, zone) for one in found)])
    return f"{said}{words}" if isinstance(said, str) else (f"{said[0]}{words}", said[1])
