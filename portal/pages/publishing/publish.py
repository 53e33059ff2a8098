"""Publishing: after each committed change, and at each change of date, the project's page is written anew."""

import contextlib
import logging
import threading
import time
from collections.abc import Callable, Iterable
from datetime import date
from functools import lru_cache, partial
from pathlib import Path

from portal import signing
from portal.pages.calendar_file import calendar_file
from portal.pages.home.page import change_mark, render_page
from portal.pages.outlook import outlook_of
from portal.pages.publishing.lagging import PATIENCE, Lagging, why_of
from portal.pages.publishing.links import WITHOUT_SUMS
from portal.pages.publishing.looks import in_turn
from portal.pages.publishing.site import KEPT_CALENDAR, Page, Site
from portal.pages.without_sums import without, without_sums
from portal.planning.schedule.critical_path import Schedule
from portal.store.facts import Snapshot, VisitFact
from portal.store.reading import desk_lines, forecasts, published
from portal.store.reading.crews import work
from portal.store.reading.finish.moves import MovedFinish, moved_finish
from portal.store.reading.forecasts import Foreseen
from portal.store.reading.project_plan import schedule_of
from portal.store.refusals import Busy, CannotWrite, Refused
from portal.words.dates import local

log = logging.getLogger(__name__)

_QUIET_SECONDS = 0.01  # first the answers to those who make changes, then the page
_PATIENCE_SECONDS = 0.25  # but it waits no longer than this for a pause between the changes
_REST_SECONDS = 0.25  # between pages: a burst of changes costs few, and answers are not kept waiting by publishing
_MOST_LAGGING = 100
_IDLE_SECONDS = 2.0  # then the thread ends and gives its connection back; the next change starts a new one


class CannotPublish(Refused):
    status = 500
    sentence = "This page can’t be shown just now. Please call the office."


class Publisher:
    """Writes pages into `site`. `soon` does it in a thread of its own, or at once without `background`. Without a
    secret, which is when it is not the one of the database, nothing is published: links would be taken away.

    The page says as of when it is true, so it is only written when the project or the date has changed: bytes that stay
    the same keep their ETag.
    """

    def __init__(
        self, site: Path, secret: bytes | None, *, background: bool = True,
        told: Callable[[float, bool], None] = lambda seconds, done: None,
    ) -> None:
        """`told` is called with each page's seconds, and whether it was published."""
        self.site = Site(site)
        self._secret = secret
        self._background = background
        self.told = told
        self._work = threading.Condition()
        self._waiting: dict[int, None] = {}  # in order, each once
        self._failed: dict[int, None] = {}
        self._at_work: int | None = None
        self._in_a_hurry = 0
        self._told_at = 0.0  # of the last change, by the monotonic clock
        self._thread: threading.Thread | None = None

    def publish(self, project_id: int, now: int | None = None) -> None:
        """Write the project's page and set its links, now. Raises OSError or Refused; then the old page stays."""
        self._timed(project_id, int(time.time()) if now is None else now, anew=True)
        with self._work:
            self._failed.pop(project_id, None)

    def publish_each(self, project_ids: Iterable[int]) -> list[int]:
        """Write these pages anew. Returns the projects whose page could not be written; they are logged: the pages of
        the others must not wait for it."""
        self._take_stock()
        return self.publish_at(project_ids, int(time.time()))

    def publish_at(self, project_ids: Iterable[int], now: int) -> list[int]:
        """Write these pages anew as of `now`: once the day's work is over, they speak of tomorrow. Returns the projects
        whose page could not be written; they are logged."""
        return [project_id for project_id in project_ids if not self._tried(project_id, now, anew=True)]

    def publish_all(self) -> list[int]:
        """Write every page, as `publish_each` does."""
        return self.publish_each([row.id for row in published.marks()])

    def page_path(self, project_id: int, *, sums: bool = True) -> Path:
        """Where the project's page lies, with its photos beside it; or the one without sums."""
        return self.site.project_folder(project_id) / ("" if sums else WITHOUT_SUMS) / "index.html"

    def stale(self, now: int) -> list[int]:
        """Projects whose page does not show the last change, or another day than today; the closed ones keep theirs,
        once nobody comes any more. It reads the mark of every page."""
        return [row.id for row in published.marks() if not self._is_good(row, now)]

    def lagging(self, now: int) -> list[Lagging]:
        """The pages that don't show the last change, for longer than publishing takes: the first hundred of them."""
        return [
            Lagging(row.id, row.name, row.timezone, row.failing_since or row.changed_at, row.failing)
            for row in published.behind(now - PATIENCE, _MOST_LAGGING)
            if not self._is_good(published.Marked(row.id, row.timezone, row.changed, row.still_from), now)
        ]

    def tick(self, now: int) -> list[int]:
        """Publish what is stale by what is kept of the pages; `remake_damaged` looks at the files. Returns the projects
        whose page could not be written; they are logged."""
        zones = {zone: _day(now, zone) for zone in published.zones()}
        rows = sorted(row for zone, day in zones.items() for row in published.not_shown(zone, day, now))
        return [row.id for row in rows if not self._brought_up(row, now)]

    def remake_damaged(self, now: int) -> tuple[list[int], list[int]]:
        """Write those pages anew that are no longer as they were published: each tick compares those that were touched,
        and some in turns (portal.pages.publishing.looks says when each is). Returns the projects whose page is as it
        was again, and those for which that failed."""
        every = published.published_ids()
        touched = self.site.looks.touched(every, now)
        rows = published.of_ids(sorted({*in_turn(every, now), *touched}))
        differ = {row.id: self.site.differs(row.id) for row in rows}
        tried = {one: self._tried(one, now, anew=True) for one, differs in differ.items() if differs is not False}
        # A page that was put back with its sums, or that somebody is about to publish.
        older = [row.id for row in rows if row.id not in tried and not self._is_good(row, now)]
        tried |= {one: self._tried(one, now) for one in older}
        failed = [one for one, done in tried.items() if not done]
        if not failed:
            self.site.looks.done()
        return [one for one, done in tried.items() if done and differ[one]], failed

    def soon(self, project_ids: Iterable[int]) -> None:
        """Publish these projects, and those that failed before. Never raises: what fails is logged and tried again."""
        with self._work:
            asleep = not self._waiting  # else it knows that there is work, and waking it would cost the answer time
            self._waiting.update(self._failed | dict.fromkeys(project_ids))
            self._failed.clear()
            self._told_at = time.monotonic()
            if self._background and self._thread is None and self._waiting:
                self._thread = threading.Thread(target=self._run, name="publisher", daemon=True)
                self._thread.start()
            elif asleep:
                self._work.notify_all()
        if not self._background:
            self._drain()

    def flush(self, project_id: int, timeout: float = 10.0) -> bool:
        """Wait until the changes of the project that `soon` was told are published; False when that failed."""
        with self._work:
            self._in_a_hurry += 1
            self._work.notify_all()
            done = self._work.wait_for(
                lambda: project_id not in self._waiting and self._at_work != project_id, timeout
            )
            self._in_a_hurry -= 1
            return done and project_id not in self._failed

    def close(self) -> None:
        """Publish what waits, then end the thread."""
        with self._work:
            thread, self._background = self._thread, False
            self._work.notify_all()
        if thread is not None:
            thread.join()

    def _run(self) -> None:
        while True:
            self._let_answers_go()
            self._drain()
            self._rest(_REST_SECONDS)
            with self._work:
                self._work.wait_for(lambda: self._waiting or not self._background, _IDLE_SECONDS)
                if not self._waiting:
                    self._thread = None
                    break
        published.give_back()

    def _let_answers_go(self) -> None:
        """Wait for a pause between the changes: publishing shares the processor with those who answer."""
        patient_until = time.monotonic() + _PATIENCE_SECONDS
        while (now := time.monotonic()) < min(self._told_at + _QUIET_SECONDS, patient_until) and not self._hurried():
            self._rest(self._told_at + _QUIET_SECONDS - now)

    def _hurried(self) -> bool:
        return self._in_a_hurry > 0 or not self._background

    def _rest(self, seconds: float) -> None:
        """Let others have the processor, unless somebody waits for a page."""
        with self._work:
            self._work.wait_for(self._hurried, seconds)

    def _drain(self) -> None:
        while True:
            with self._work:
                if not self._waiting:
                    return
                self._at_work = project_id = next(iter(self._waiting))
                del self._waiting[project_id]
            done = self._tried(project_id, int(time.time()))
            with self._work:
                self._at_work = None
                if not done:
                    self._failed[project_id] = None
                self._work.notify_all()

    def _take_stock(self) -> None:
        try:
            self.site.take_stock()
        except OSError:  # then publishing a project looks for its links among all of them, as long as it must
            log.exception("the site's links could not be listed")

    def _tried(self, project_id: int, now: int, *, anew: bool = False) -> bool:
        try:
            self._timed(project_id, now, anew=anew)
        except Exception:  # whatever it was, the other pages must still be published, and this one again
            log.exception("the page of project %s could not be published; the old one stays", project_id)
            return False
        return True

    def _brought_up(self, row: published.Marked, now: int) -> bool:
        """Whether the page shows all; where it does already, and is as it was published, only that is kept."""
        if not self._is_good(row, now) or self.site.differs(row.id) is not False:
            return self._tried(row.id, now, anew=True)
        with contextlib.suppress(Busy, CannotWrite):
            published.keep_shown(row.id, row.changed, self._shown_day(row.id))
        return True

    def _timed(self, project_id: int, now: int, *, anew: bool) -> None:
        """Publish, and tell how that went: whoever watches, and the desk."""
        begun, done = time.perf_counter(), False
        try:
            self._publish(project_id, now, anew=anew)
            done = True
        except Exception as error:
            with contextlib.suppress(Exception):  # the database may lie on the same disk; then the page's age tells it
                published.keep_failing(project_id, now, why_of(error))
            raise
        finally:
            self.told(time.perf_counter() - begun, done)

    def _publish(self, project_id: int, now: int, *, anew: bool) -> None:
        secret = self._own_secret()
        with self.site.lock(project_id):
            if published.is_removed(project_id):
                self.site.forget(project_id)
                return
            snapshot, live, cancelled = published.read_for_publishing(project_id)
            links = {signing.link_for(secret, one.salt): one.person_id for one in live}
            unshown = {person.id for person in snapshot.people if not person.reads_sums}
            blind = {link for link, person in links.items() if person in unshown}
            # Links first: the mark of the page says that all is done, and revoking one needs no room on the disk.
            self.site.set_links(project_id, set(links), blind)
            if anew or not self._shows(_row(snapshot), now):
                schedule = schedule_of(snapshot, now)
                foreseen, moved = forecasts.foresee(snapshot, schedule), moved_finish(snapshot, schedule)
                self.site.photos.have(project_id, snapshot.photo_names)
                page = self._page(snapshot, schedule, now, foreseen, moved, cancelled)
                less = None
                if blind:
                    less = self._page(without_sums(snapshot), schedule, now, foreseen, moved, without(cancelled))
                self.site.write_page(project_id, page, less)
                self.site.photos.drop_others(project_id, snapshot.photo_names)
                with contextlib.suppress(Busy, CannotWrite):  # they are kept with the next page then
                    line = desk_lines.anew(snapshot, schedule, moved)
                    published.keep_computed(
                        foreseen, moved, line, project_id, snapshot.project.changed, self._shown_day(project_id),
                        work.anew(snapshot, schedule),
                    )
            else:
                with contextlib.suppress(Busy, CannotWrite):
                    published.keep_shown(project_id, snapshot.project.changed, self._shown_day(project_id))

    def _own_secret(self) -> bytes:
        if self._secret is None:
            raise CannotPublish()
        return self._secret

    def _page(
        self, snapshot: Snapshot, schedule: Schedule, now: int, foreseen: Foreseen, moved: MovedFinish,
        cancelled: list[VisitFact],
    ) -> Page:
        calendar = self._calendar(snapshot, schedule, cancelled)
        return Page(render_page(snapshot, schedule, now, foreseen, moved), {KEPT_CALENDAR: calendar})

    def _calendar(self, snapshot: Snapshot, schedule: Schedule, cancelled: list[VisitFact]) -> bytes:
        """As it is handed out while the service is down: to all who read the page, so it names nobody's link."""
        named = partial(signing.event_id_for, self._own_secret())
        return calendar_file(snapshot, outlook_of(snapshot, schedule), cancelled, named, page="")

    def _is_good(self, row: published.Marked, now: int) -> bool:
        """A project that can't be asked is none whose page is good; publishing it says why."""
        try:
            return self._shows(row, now)
        except (KeyError, ValueError, OSError):
            return False

    def _shown_day(self, project_id: int) -> str:
        return self.site.mark(project_id).partition(" ")[2]

    def _shows(self, row: published.Marked, now: int) -> bool:
        mark = self.site.mark(row.id)
        changed, _, day = mark.partition(" ")
        if row.still_from is not None and day >= _today(row.still_from, row.timezone).isoformat():
            return changed == str(row.changed)
        return mark == change_mark(row.changed, _today(now, row.timezone))


@lru_cache(maxsize=256)
def _today(now: int, zone: str) -> date:
    """A tick asks it of every house, and they share a few zones."""
    return local(now, zone).date()


def _day(now: int, zone: str) -> str:
    """Empty where the zone can't be read: no page shows that, and publishing it says why."""
    try:
        return _today(now, zone).isoformat()
    except (KeyError, ValueError, OSError):
        return ""


def _row(snapshot: Snapshot) -> published.Marked:
    project = snapshot.project
    return published.Marked(project.id, project.timezone, project.changed, published.still_from(snapshot))
