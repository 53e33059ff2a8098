"""The links of a site: `p/<link>` points to a project's folder, or to the one within it whose files leave sums out.
`links/<project>` lists the project's own, so that publishing one looks at no other's.

A list never lacks a link that may be there: it is written before a link is made, and again after one is taken away. So
whoever is killed in between leaves it too long, never too short, and the next one who publishes sees to the rest. No
fsync: what the power takes is put right when the service starts (`take_stock`).
"""

import contextlib
import os
import re
from collections import defaultdict
from collections.abc import Callable, Iterator, Set
from contextlib import AbstractContextManager
from pathlib import Path

from portal.pages.publishing.modes import make_folder, make_own_folder

WITHOUT_SUMS = "without-sums"
"""Within a project's folder, the files that leave sums out."""

_LINK = re.compile(r"[A-Za-z0-9_-]+")


class Links:
    """Of the site in `folder`. Whoever calls `have_only` for a project holds its lock, which is `Site.lock`."""

    def __init__(self, folder: Path) -> None:
        self._pointers = folder / "p"
        self._lists = folder / "links"
        self._whole = self._lists / ".whole"  # since then, every link that is there is on a list

    def have_only(self, project_id: int, links: set[str], without_sums: Set[str] = frozenset()) -> None:
        """Have exactly these links open the project's page; those of `without_sums`, which are among them, the one
        without sums. Revoking comes first, and leaving the page with sums: neither needs room on the disk."""
        make_folder(self._pointers)
        known = self._known(project_id)
        targets = {link: _target(project_id, sums=link not in without_sums) for link in links}
        for link in known:
            if link not in links or self._leads_elsewhere(link, targets[link]):
                with self._unnamed():
                    (self._pointers / link).unlink(missing_ok=True)
        if not links <= known:
            self._write(project_id, known | links)
        for link in links:
            with self._unnamed(), contextlib.suppress(FileExistsError):
                (self._pointers / link).symlink_to(targets[link])
        if known - links:
            self._write(project_id, links)

    def take_stock(self, lock: Callable[[int], AbstractContextManager[None]]) -> None:
        """Put onto the lists what is on none: the links of a site that had no lists yet, and those whose list was lost
        with the power. It looks through the whole site, so once, when the service starts."""
        for project_id, there in self._there().items():
            with lock(project_id):
                listed = self._listed(project_id)
                if not there <= listed:
                    self._write(project_id, listed | there)
        make_own_folder(self._lists)
        self._whole.touch()

    def _known(self, project_id: int) -> set[str]:
        """All links of the project that may be there, and perhaps some that are not."""
        listed = self._listed(project_id)
        return listed if self._whole.exists() else listed | self._there()[project_id]

    @contextlib.contextmanager
    def _unnamed(self) -> Iterator[None]:
        """What the system says of a file names it, and logs are full of what it says: the folder is told instead."""
        try:
            yield
        except OSError as error:
            raise OSError(error.errno, error.strerror, str(self._pointers)) from None

    def _there(self) -> dict[int, set[str]]:
        """Every link of the site, by project."""
        found: dict[int, set[str]] = defaultdict(set)
        with contextlib.suppress(FileNotFoundError):
            for one in self._pointers.iterdir():
                with contextlib.suppress(OSError):  # no link, or taken away since
                    target = one.readlink()
                    of = target.parent if target.name == WITHOUT_SUMS else target
                    if of.name.isdecimal() and of == _target(int(of.name)):
                        found[int(of.name)].add(one.name)
        return found

    def _leads_elsewhere(self, link: str, target: Path) -> bool:
        try:
            return (self._pointers / link).readlink() != target
        except FileNotFoundError:
            return False
        except OSError:  # no link at all
            return True

    def _listed(self, project_id: int) -> set[str]:
        """A list that the power has spoiled holds what still looks like a link."""
        try:
            return set(_LINK.findall((self._lists / str(project_id)).read_text(errors="replace")))
        except FileNotFoundError:
            return set()

    def _write(self, project_id: int, links: set[str]) -> None:
        """Links are credentials: only we may read the list, and no web server serves it."""
        make_own_folder(self._lists)
        path = self._lists / str(project_id)
        part = path.with_name(f"{path.name}.part")
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "w") as file:
            file.writelines(f"{link}\n" for link in sorted(links))
        part.replace(path)


def _target(project_id: int, *, sums: bool = True) -> Path:
    return Path("..", "pages", str(project_id), *(() if sums else (WITHOUT_SUMS,)))
