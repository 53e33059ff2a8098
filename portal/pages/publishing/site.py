"""The published files: `pages/<project>/index.html` with its .gz, and `p/<link>`, which points to that folder. Who
reads no sums has a link to the folder `without-sums` within it, where the other page lies.

A web server serves `p` and nothing else of it.
"""

import contextlib
import fcntl
import gzip
import os
import re
import shutil
from collections.abc import Iterator, Mapping, Set
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

from portal.pages.publishing.links import WITHOUT_SUMS, Links
from portal.pages.publishing.looks import Looks
from portal.pages.publishing.modes import make_folder, make_own_folder, write_file
from portal.pages.publishing.photo_copies import PhotoCopies
from portal.pages.publishing.sums import Sums

KEPT_CALENDAR = "visits.kept.ics"
"""What a web server answers for `visits.ics` while the service is down (deploy/nginx.conf)."""
_MARK = re.compile(rb'<meta name="change" content="([^"]*)">')
_MARK_WITHIN = 2048  # the mark stands in the head, before the styles


class Page(NamedTuple):
    """A page with what lies `beside` it, by name."""

    html: str
    beside: Mapping[str, bytes] = MappingProxyType({})


class Site:
    """One folder that a plain web server serves. A reader sees the old page or the new one, whole."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._links = Links(folder)
        self._sums = Sums(folder)
        self.photos = PhotoCopies(folder)
        self.looks = Looks(folder)

    def project_folder(self, project_id: int) -> Path:
        return self.folder / "pages" / str(project_id)

    @contextlib.contextmanager
    def lock(self, project_id: int) -> Iterator[None]:
        """One publisher of a project at a time, among threads and processes: so no older page replaces a newer one."""
        path = self.folder / "locks" / str(project_id)
        make_own_folder(path.parent)
        handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX)
            yield
        finally:
            os.close(handle)

    def mark(self, project_id: int) -> str:
        """The change that the published page shows; empty while there is none."""
        try:  # a start asks for every project's: with as few calls as there can be
            page = os.open(f"{self.folder}/pages/{project_id}/index.html", os.O_RDONLY | os.O_CLOEXEC)
        except FileNotFoundError:
            return ""
        try:
            found = _MARK.search(os.read(page, _MARK_WITHIN))
        finally:
            os.close(page)
        return found[1].decode() if found else ""

    def write_page(self, project_id: int, page: Page, without_sums: Page | None = None) -> None:
        """Replace the page, its .gz and the files beside it, and those without sums where anybody reads them. All are
        written before one is renamed; if one can't be, the old ones stay. The page comes last, because its mark says
        that all is done.

        No fsync: a page lost with the power is written again from the database when the service starts.
        """
        folder = self.project_folder(project_id)
        for one in (self.folder, folder.parent, folder):
            make_folder(one)
        files = _files(folder, page)
        if without_sums is None:
            _drop(folder / WITHOUT_SUMS)
        else:
            _lay_out(folder / WITHOUT_SUMS)
            files = _files(folder / WITHOUT_SUMS, without_sums) | files
        parts = {path: path.with_name(path.name + ".part") for path in files}
        try:
            for path, part in parts.items():
                write_file(part, files[path])
            names = {str(path.relative_to(folder)): content for path, content in files.items()}
            self._sums.expect(project_id, names)
            changed_at = _even(max(int(part.stat().st_mtime), _last_change(folder / "index.html") + 1))
            for path, part in parts.items():
                at = changed_at if path.parent == folder else changed_at + 1
                os.utime(part, (at, at))
                part.replace(path)
        finally:
            for part in parts.values():
                part.unlink(missing_ok=True)

    def differs(self, project_id: int) -> bool | None:
        """Whether a published file is not as it was published; None where nobody knows (see sums.py)."""
        return self._sums.differ(project_id, self.project_folder(project_id))

    def set_links(self, project_id: int, links: set[str], without_sums: Set[str] = frozenset()) -> None:
        """Have exactly these links open the project's page, and some of them the one without sums."""
        self._links.have_only(project_id, links, without_sums)

    def forget(self, project_id: int) -> None:
        """A house that is on no list any more has no page."""
        self.set_links(project_id, set())
        with contextlib.suppress(FileNotFoundError):
            shutil.rmtree(self.project_folder(project_id))

    def take_stock(self) -> None:
        """Know every link that is there; to be called when the service starts (portal.pages.publishing.links)."""
        self._links.take_stock(self.lock)


def _files(folder: Path, page: Page) -> dict[Path, bytes]:
    data = page.html.encode()
    files = {folder / name: content for name, content in page.beside.items()}
    return files | {folder / "index.html.gz": gzip.compress(data, 9, mtime=0), folder / "index.html": data}


def _lay_out(folder: Path) -> None:
    """The photos are the same for all."""
    make_folder(folder)
    with contextlib.suppress(FileExistsError):
        (folder / "photos").symlink_to(Path("..", "photos"))


def _drop(folder: Path) -> None:
    """Nobody reads it any more: it would only grow old there."""
    for name in ("index.html", "index.html.gz", KEPT_CALENDAR):
        (folder / name).unlink(missing_ok=True)


def _even(second: int) -> int:
    """The page is dated by even seconds, the one without sums by odd ones: whoever is led from one to the other never
    takes them for the same."""
    return second + second % 2


def _last_change(page: Path) -> int:
    """Web servers tell versions apart by whole seconds and size: two pages of one second would be taken for the
    same, so the later one is dated a second on."""
    try:
        return int(page.stat().st_mtime)
    except FileNotFoundError:
        return 0
