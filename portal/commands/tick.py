"""`portal tick`: what time brings. Each part is done whatever becomes of the others; what failed is said in a line
each, on standard error, and the command exits 1."""

import logging
import os
import sys
from collections.abc import Callable

from portal import clock
from portal.acts.firm.sessions import forget_sessions
from portal.acts.household.crew_notes import forget_crew_notes
from portal.acts.keeping.unnamed_photos import drop_unnamed
from portal.commands.notices import read_returned_mail, send_notices
from portal.commands.one_tick import beside, the_only_one
from portal.notices.evenings.telling import tell_evenings
from portal.notices.reminders import remind
from portal.pages.publishing.publish import Publisher
from portal.running.last_tick import end_signs, give_sign, note
from portal.settings import Settings
from portal.store.engine.database import write
from portal.store.engine.faults import refusal_of
from portal.store.engine.tallies import forget_past, open_tallies
from portal.store.reading import desk_lines
from portal.store.rows import kept_answers
from portal.words.plurals import counted

log = logging.getLogger(__name__)

_ANSWERS_KEPT = 7 * 24 * 3600
_PHOTOS_LOOKED_AT = 3600
Part = Callable[[Settings], list[str]]
"""Returns what went wrong, a sentence each; what it raises is logged."""


def tick(settings: Settings) -> int:
    """The database is open. Returns the exit status; that of a tick which finds another one under way is 0."""
    with the_only_one(settings) as alone:
        if alone:
            return _tick(settings)
    print("Another tick is under way, and does what is due. This one does nothing.")
    return 0


def _tick(settings: Settings) -> int:
    troubles = {name: _done(name, part, settings) for name, part in PARTS.items()}
    failed = [name for name, said in troubles.items() if said]
    for name in failed:
        for sentence in troubles[name]:
            print(f"{name}: {sentence}", file=sys.stderr)
    try:
        note(settings, clock.now(), failed)
    except OSError as error:
        print(f"last tick: It could not be noted in PORTAL_DATA: {error.strerror}.", file=sys.stderr)
        return 1
    finally:
        end_signs(settings)
    return 1 if failed else 0


def _done(name: str, part: Part, settings: Settings) -> list[str]:
    give_sign(settings, clock.now(), name)
    try:
        return part(settings)
    except Exception as error:  # whatever it was, the next tick tries again
        log.exception("a part of the tick failed", extra={"kind": name})
        why = refusal_of(error) or f"It failed ({type(error).__name__})."
        return [f"{why} The log says where; the next tick tries again."]


def _publisher(settings: Settings, part: str) -> Publisher:
    """With each page it gives a sign: after midnight they are thousands."""
    return Publisher(
        settings.site, settings.secret, background=False,
        told=lambda seconds, done: give_sign(settings, clock.now(), part),
    )


def _pages(settings: Settings) -> list[str]:
    return [
        f"The page of project {one} could not be published; the old one stays. The log says why."
        for one in _publisher(settings, "pages").tick(clock.now())
    ]


def _meanwhile(settings: Settings, part: str, said: list[str]) -> None:
    """What is done again and again while `part` waits for a mail server: a date may change."""
    give_sign(settings, clock.now(), part)
    said.extend(_pages(settings))


def _damaged_pages(settings: Settings) -> list[str]:
    mended, failed = _publisher(settings, "damaged pages").remake_damaged(clock.now())
    return [
        *(f"The page of project {one} was not as it was published. It has been made anew. If nobody changed the file, "
          "look at the disk." for one in mended),
        *(f"The page of project {one} is not as it was published, and could not be made anew. The log says why."
          for one in failed),
    ]


def _reminders(settings: Settings) -> list[str]:
    return [f"The reminders of project {one} could not be looked at. The log says why." for one in remind(clock.now())]


def _evenings(settings: Settings) -> list[str]:
    """The letters, and the pages of houses whose work of the day is over: they speak of tomorrow now."""
    looked = tell_evenings(clock.now())
    unpublished = _publisher(settings, "evenings").publish_at(looked.evening, clock.now())
    return [
        *(f"What tomorrow takes of project {one} could not be looked at. The log says why." for one in looked.failed),
        *(f"The page of project {one} could not be published; the old one stays. The log says why."
          for one in unpublished),
    ]


def _letters(settings: Settings) -> list[str]:
    said: list[str] = []
    done = beside(lambda: send_notices(settings), lambda: _meanwhile(settings, "letters", said))
    if done.failed:
        said.append(f"{counted(done.failed, 'letter')} could not be written. The log says where; what was "
                    "not given up is tried again.")
    if done.unreachable:
        said.append(f"No letter could be sent: {done.unreachable}. Check PORTAL_SMTP and the mail server.")
    return said


def _desk_list(settings: Settings) -> list[str]:
    """What the clock has moved since it was computed, so that whoever opens the desk's list need not wait for it."""
    for project_id in desk_lines.not_good(clock.now()):
        desk_lines.keep(desk_lines.computed(project_id, clock.now()))
    return []


def _unnamed_photos(settings: Settings) -> list[str]:
    """Once an hour: it goes through the photos of every house, and none is dropped before a day is over."""
    looked = settings.data / ".photos-looked-at"
    if looked.exists() and 0 <= clock.now() - looked.stat().st_mtime < _PHOTOS_LOOKED_AT:
        return []
    drop_unnamed(settings.photos, settings.site / "pages", clock.now())
    looked.touch()
    os.utime(looked, (clock.now(), clock.now()))
    return []


def _kept_answers(settings: Settings) -> list[str]:
    with write():
        kept_answers.forget_before(clock.now() - _ANSWERS_KEPT)
    return []


def _returned_mail(settings: Settings) -> list[str]:
    said: list[str] = []
    trouble = beside(lambda: read_returned_mail(settings), lambda: _meanwhile(settings, "returned mail", said))
    if trouble:
        said.append(f"Returned mail could not be read: {trouble}. Check PORTAL_BOUNCES and the mailbox.")
    return said


def _sign_ins(settings: Settings) -> list[str]:
    """Tries that count no longer, and sessions that nobody needs to see any more."""
    open_tallies(settings.data)
    forget_past(clock.now())
    forget_sessions(clock.now())
    return []


def _crew_notes(settings: Settings) -> list[str]:
    forget_crew_notes(clock.now())
    return []


PARTS: dict[str, Part] = {
    "pages": _pages, "damaged pages": _damaged_pages, "reminders": _reminders, "evenings": _evenings,
    "desk list": _desk_list, "unnamed photos": _unnamed_photos, "kept answers": _kept_answers, "sign-ins": _sign_ins,
    "crew notes": _crew_notes,
    # Last: nothing waits for a slow mail server.
    "letters": _letters, "returned mail": _returned_mail,
}
