"""Publishing: after each committed change, and at each change of date, the project's page is written anew."""

import contextlib
import logging
import threading
import time
from collections.abc import Iterable
from pathlib import Path

from portal import signing
from portal.pages.home.page import change_mark, render_page
from portal.pages.publishing.site import Site
from portal.store.facts import Snapshot
from portal.store.reading import desk_lines, forecasts, published
from portal.store.reading.project_plan import schedule_of
from portal.store.refusals import Busy, CannotWrite
from portal.words.dates import local

log = logging.getLogger(__name__)

_QUIET_SECONDS = 0.01  # first the answers to those who make changes, then the page
_PATIENCE_SECONDS = 0.25  # but it waits no longer than this for a pause between the changes
_REST_SECONDS = 0.25  # between pages: a burst of changes costs few, and answers are not kept waiting by publishing
_IDLE_SECONDS = 2.0  # then the thread ends and gives its connection back; the next change starts a new one


class Publisher:
    """Writes pages into `site`. `soon` does it in a thread of its own, or at once without `background`.

    The page says as of when it is true, so it is only written when the project or the date has changed: bytes that stay
    the same keep their ETag.
    """

    def __init__(self, site: Path, secret: bytes, *, background: bool = True) -> None:
        self.site = Site(site)
        self._secret = secret
        self._background = background
        self._work = threading.Condition()
        self._waiting: dict[int, None] = {}  # in order, each once
        self._failed: dict[int, None] = {}
        self._at_work: int | None = None
        self._in_a_hurry = 0
        self._told_at = 0.0  # of the last change, by the monotonic clock
        self._thread: threading.Thread | None = None

    def publish(self, project_id: int, now: int | None = None) -> None:
        """Write the project's page and set its links, now. Raises OSError or Refused; then the old page stays."""
        self._publish(project_id, int(time.time()) if now is None else now, anew=True)
        with self._work:
            self._failed.pop(project_id, None)

    def publish_each(self, project_ids: Iterable[int]) -> list[int]:
        """Write these pages anew. Returns the projects whose page could not be written; they are logged: the pages of
        the others must not wait for it."""
        self._take_stock()
        now = int(time.time())
        return [project_id for project_id in project_ids if not self._tried(project_id, now, anew=True)]

    def publish_all(self) -> list[int]:
        """Write every page, as `publish_each` does."""
        return self.publish_each([row.id for row in published.marks()])

    def page_path(self, project_id: int) -> Path:
        """Where the project's page lies, with its photos beside it."""
        return self.site.project_folder(project_id) / "index.html"

    def stale(self, now: int) -> list[int]:
        """Projects whose page does not show the last change, or another day than today; the closed ones keep theirs."""
        return [row.id for row in published.marks() if not self._shows(row, now)]

    def tick(self, now: int) -> list[int]:
        """Publish what is stale. Returns the projects whose page could not be written; they are logged."""
        return [project_id for project_id in self.stale(now) if not self._tried(project_id, now)]

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
            self._publish(project_id, now, anew=anew)
        except Exception:  # whatever it was, the other pages must still be published, and this one again
            log.exception("the page of project %s could not be published; the old one stays", project_id)
            return False
        return True

    def _publish(self, project_id: int, now: int, *, anew: bool) -> None:
        with self.site.lock(project_id):
            snapshot, salts = published.read_for_publishing(project_id)
            # Links first: the mark of the page says that all is done, and revoking one needs no room on the disk.
            self.site.set_links(project_id, {signing.link_for(self._secret, salt) for salt in salts})
            if anew or not self._shows(_row(snapshot), now):
                schedule = schedule_of(snapshot, now)
                foreseen = forecasts.foresee(snapshot, schedule)
                self.site.write_page(project_id, render_page(snapshot, schedule, now, foreseen))
                with contextlib.suppress(Busy, CannotWrite):  # they are kept with the next page then
                    published.keep_computed(foreseen, desk_lines.anew(snapshot, schedule))

    def _shows(self, row: published.Marked, now: int) -> bool:
        mark = self.site.mark(row.id)
        if row.closed_at is not None:
            return mark.split(" ")[0] == str(row.changed)
        return mark == change_mark(row.changed, local(now, row.timezone).date())


def _row(snapshot: Snapshot) -> published.Marked:
    project = snapshot.project
    return published.Marked(project.id, project.timezone, project.changed, project.closed_at)
