"""Which published pages a tick looks into, to find those that are no longer as they were published.

Every tick asks the disk whether something came, went or was replaced in the folder of a page: what vanished or was put
back is found by the next tick, five minutes later. What was written over in its place dates its file alone: each tick
asks that of a sixth of the pages, so it is found within half an hour. What the disk spoils by itself it does not date:
so each page is compared with its sums in its turn, too, at least `AT_ONCE` a tick, and so many that all have had it
after `TURNS` ticks: of 3,000 each within twelve hours. When the service starts, it reads the mark of every page.
"""

import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from portal.pages.publishing.links import WITHOUT_SUMS

AT_ONCE, TURNS, TICK_SECONDS = 20, 144, 300
SHARES = 6


def in_turn(project_ids: Sequence[int], now: int) -> Sequence[int]:
    """Those whose turn it is now."""
    turns = min(TURNS, -(-len(project_ids) // AT_ONCE)) or 1
    return project_ids[now // TICK_SECONDS % turns::turns]


class Looks:
    """Of the site in `folder`; `looks/<name>` there has the time of the last look of this name that left nothing."""

    def __init__(self, folder: Path) -> None:
        self._pages = folder / "pages"
        self._folder = folder / "looks"
        self._begun: list[str] = []

    def touched(self, project_ids: Sequence[int], now: int) -> Iterator[int]:
        """The pages that were touched since the last look, or are not there."""
        share = now // TICK_SECONDS % SHARES
        yield from self._found("folders", _folder_touched, project_ids)
        yield from self._found(f"files-{share}", _files_touched, [one for one in project_ids if one % SHARES == share])

    def done(self) -> None:
        """All that was touched is as it was published again."""
        for name in self._begun:
            with suppress(OSError):
                (self._folder / f"{name}.part").replace(self._folder / name)
        self._begun = []

    def _found(self, name: str, touched: Callable[[str, float], bool], project_ids: Sequence[int]) -> Iterator[int]:
        """The look begins with this, by the clock of the disk."""
        since = _time_of(self._folder / name)
        with suppress(OSError):  # then the next look goes back as far as this one
            self._folder.mkdir(mode=0o700, exist_ok=True)
            part = self._folder / f"{name}.part"
            part.touch(mode=0o600)
            os.utime(part)
            self._begun.append(name)
        for project_id in project_ids:
            if touched(f"{self._pages}/{project_id}", since):
                yield project_id


def _time_of(path: Path) -> float:
    """Before the first look nothing counts as touched, or it would begin with comparing all."""
    try:
        return path.stat().st_mtime_ns
    except OSError:
        return float("inf")


def _folder_touched(folder: str, since: float) -> bool:
    try:  # of every page, in every tick: with as few calls as there can be
        return os.lstat(folder).st_ctime_ns > since
    except OSError:
        return True


def _files_touched(folder: str, since: float) -> bool:
    """Also the folder of the page without sums, which is not there where nobody reads one."""
    less = f"{folder}/{WITHOUT_SUMS}"
    kept = os.access(less, os.F_OK)
    try:
        return any(os.lstat(f"{one}{file}").st_ctime_ns > since
                   for one in (folder, less)[:1 + kept] for file in ("", "/index.html", "/index.html.gz"))
    except OSError:
        return True
