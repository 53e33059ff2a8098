"""The published files: `pages/<project>/index.html` with its .gz, and `p/<link>`, which points to that folder.

A web server serves `p` and nothing else of it.
"""

import contextlib
import fcntl
import gzip
import os
import re
from collections.abc import Iterator
from pathlib import Path

from portal.pages.publishing.links import Links

_MARK = re.compile(rb'<meta name="change" content="([^"]*)">')
_MARK_WITHIN = 2048  # the mark stands in the head, before the styles


class Site:
    """One folder that a plain web server serves. A reader sees the old page or the new one, whole."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._links = Links(folder)

    def project_folder(self, project_id: int) -> Path:
        return self.folder / "pages" / str(project_id)

    @contextlib.contextmanager
    def lock(self, project_id: int) -> Iterator[None]:
        """One publisher of a project at a time, among threads and processes: so no older page replaces a newer one."""
        path = self.folder / "locks" / str(project_id)
        path.parent.mkdir(parents=True, exist_ok=True)
        handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX)
            yield
        finally:
            os.close(handle)

    def mark(self, project_id: int) -> str:
        """The change that the published page shows; empty while there is none."""
        try:
            with (self.project_folder(project_id) / "index.html").open("rb") as file:
                found = _MARK.search(file.read(_MARK_WITHIN))
        except FileNotFoundError:
            return ""
        return found[1].decode() if found else ""

    def write_page(self, project_id: int, html: str) -> None:
        """Replace the page and its .gz. Both are written before either is renamed; if one can't be, the old ones stay.
        The page comes last, because its mark says that all is done.

        No fsync: a page lost with the power is written again from the database when the service starts.
        """
        folder = self.project_folder(project_id)
        folder.mkdir(parents=True, exist_ok=True)
        data = html.encode()
        files = {folder / "index.html.gz": gzip.compress(data, 9, mtime=0), folder / "index.html": data}
        parts = {path: path.with_name(path.name + ".part") for path in files}
        try:
            for path, part in parts.items():
                part.write_bytes(files[path])
            changed_at = max(int(part.stat().st_mtime), _last_change(folder / "index.html") + 1)
            for path, part in parts.items():
                os.utime(part, (changed_at, changed_at))
                part.replace(path)
        finally:
            for part in parts.values():
                part.unlink(missing_ok=True)

    def set_links(self, project_id: int, links: set[str]) -> None:
        """Have exactly these links open the project's page."""
        self._links.have_only(project_id, links)

    def take_stock(self) -> None:
        """Know every link that is there; to be called when the service starts (portal.pages.publishing.links)."""
        self._links.take_stock(self.lock)


def _last_change(page: Path) -> int:
    """Web servers tell versions apart by whole seconds and size: two pages of one second would be taken for the
    same, so the later one is dated a second on."""
    try:
        return int(page.stat().st_mtime)
    except FileNotFoundError:
        return 0
