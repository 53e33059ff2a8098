"""What `portal tick` looks after besides pages and mail. What fails must not keep the rest from being done."""

import logging

from portal import clock
from portal.acts.keeping.unnamed_photos import drop_unnamed
from portal.settings import Settings
from portal.store.engine.database import write
from portal.store.reading import desk_lines
from portal.store.rows import kept_answers

log = logging.getLogger(__name__)

_ANSWERS_KEPT = 7 * 24 * 3600


def tend(settings: Settings) -> None:
    """The database is open."""
    for task in (_renew_lines, lambda: drop_unnamed(settings.site / "pages", clock.now()), _forget_answers):
        try:
            task()
        except Exception:  # whatever it was, the next tick tries again
            log.exception("the tick could not do all that it should")


def _renew_lines() -> None:
    """What the clock has moved since it was computed, so that whoever opens the desk's list need not wait for it."""
    for project_id in desk_lines.not_good(clock.now()):
        desk_lines.keep(desk_lines.computed(project_id, clock.now()))


def _forget_answers() -> None:
    with write():
        kept_answers.forget_before(clock.now() - _ANSWERS_KEPT)
