"""Pages that don't show the last change, said where the people of the firm look first."""

from portal import clock
from portal.request.services import services
from portal.words.plurals import counted

_NAMED = 3


def lagging_words(project_id: int | None = None) -> list[str]:
    """Of this house; without one, of all: the first by name, the others counted."""
    found = services().publisher.lagging(clock.now())
    if project_id is not None:
        return [one.words for one in found if one.project == project_id]
    more = len(found) - _NAMED
    others = [f"Nor do the pages of {counted(more, 'more house')}."] if more > 0 else []
    return [*(one.words for one in found[:_NAMED]), *others]
