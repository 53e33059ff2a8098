"""The links of a site: `p/<link>` points to a project's folder, and `links/<project>` lists the project's own, so that
publishing one looks at no other's.

A list never lacks a link that may be there: it is written before a link is made, and again after one is taken away. So
whoever is killed in between leaves it too long, never too short, and the next one who publishes sees to the rest. No
fsync: what the power takes is put right when the service starts (`take_stock`).
"""

import contextlib
import os
import re
from collections import defaultdict
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

_LINK = re.compile(r"[A-Za-z0-9_-]+")


class Links:
    """Of the site in `folder`. Whoever calls `have_only` for a project holds its lock, which is `Site.lock`."""

    def __init__(self, folder: Path) -> None:
        self._pointers = folder / "p"
        self._lists = folder / "links"
        self._whole = self._lists / ".whole"  # since then, every link that is there is on a list

    def have_only(self, project_id: int, links: set[str]) -> None:
        """Have exactly these links open the project's page. Revoking comes first: it needs no room on the disk."""
        self._pointers.mkdir(parents=True, exist_ok=True)
        known = self._known(project_id)
        for link in known - links:
            (self._pointers / link).unlink(missing_ok=True)
        if not links <= known:
            self._write(project_id, known | links)
        for link in links:
            with contextlib.suppress(FileExistsError):
                (self._pointers / link).symlink_to(_target(project_id))
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
        self._lists.mkdir(mode=0o700, parents=True, exist_ok=True)
        self._whole.touch()

    def _known(self, project_id: int) -> set[str]:
        """All links of the project that may be there, and perhaps some that are not."""
        listed = self._listed(project_id)
        return listed if self._whole.exists() else listed | self._there()[project_id]

    def _there(self) -> dict[int, set[str]]:
        """Every link of the site, by project."""
        found: dict[int, set[str]] = defaultdict(set)
        with contextlib.suppress(FileNotFoundError):
            for one in self._pointers.iterdir():
                with contextlib.suppress(OSError):  # no link, or taken away since
                    target = one.readlink()
                    if target.name.isdecimal() and target == _target(int(target.name)):
                        found[int(target.name)].add(one.name)
        return found

    def _listed(self, project_id: int) -> set[str]:
        """A list that the power has spoiled holds what still looks like a link."""
        try:
            return set(_LINK.findall((self._lists / str(project_id)).read_text(errors="replace")))
        except FileNotFoundError:
            return set()

    def _write(self, project_id: int, links: set[str]) -> None:
        """Links are credentials: only we may read the list, and no web server serves it."""
        self._lists.mkdir(mode=0o700, parents=True, exist_ok=True)
        path = self._lists / str(project_id)
        part = path.with_name(f"{path.name}.part")
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "w") as file:
            file.writelines(f"{link}\n" for link in sorted(links))
        part.replace(path)


def _target(project_id: int) -> Path:
    return Path("..", "pages", str(project_id))
