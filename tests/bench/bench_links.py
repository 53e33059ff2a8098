"""The links of one project among few and among many others: what publishing pays for them must not grow with the firm.

The baseline is what any way must do: read one small file, and ask for each link whether it is there.
"""

import itertools
import os
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from portal.pages.publishing.site import Site
from tests.bench.ratios import Claim, at_most, closing, in_turn, of_size, timed

_FEW, _MANY, _TIMES = 10, of_size(3_000, 30), of_size(50, 2)


def links_of_one_project(folder: Path) -> list[Claim]:
    few, many = _site(folder / "few", _FEW), _site(folder / "many", _MANY)
    medians = in_turn(15, {
        "few": timed(_unchanged(few)),
        "many": timed(_unchanged(many)),
        "renewed among few": timed(_renewed(few)),
        "renewed among many": timed(_renewed(many)),
        "bare": timed(_bare(folder / "few")),
        "looked through": timed(_looked_through(folder / "many")),
    })
    renewed = medians["renewed among many"] / medians["renewed among few"]
    return [
        at_most(f"links unchanged, {_MANY:,} projects to 10", medians["many"] / medians["few"], 1.5),
        at_most(f"a link renewed, {_MANY:,} projects to 10", renewed, 1.5),
        at_most("links unchanged, to reading and asking bare", medians["many"] / medians["bare"], 8.0),
        at_most(f"{_MANY:,} projects, to looking through all links", medians["many"] / medians["looked through"], 0.1),
    ]


def _site(folder: Path, projects: int) -> Site:
    site = Site(folder)
    site.take_stock()
    for project in range(1, projects + 1):
        site.set_links(project, {f"{project}-first", f"{project}-second"})
    return site


def _unchanged(site: Site) -> Callable[[], None]:
    def run() -> None:
        for _ in range(_TIMES):
            site.set_links(7, {"7-first", "7-second"})

    return run


def _renewed(site: Site) -> Callable[[], None]:
    numbers = itertools.count()

    def run() -> None:
        """Each call leaves the links of the project as they were."""
        for _ in range(_TIMES):
            site.set_links(7, {"7-first", f"7-renewed-{next(numbers)}"})
        site.set_links(7, {"7-first", "7-second"})

    return run


def _bare(folder: Path) -> Callable[[], None]:
    listed = folder / "links" / "7"
    links = [folder / "p" / "7-first", folder / "p" / "7-second"]

    def run() -> None:
        for _ in range(_TIMES):
            listed.read_text()
            for link in links:
                os.lstat(link)

    return run


def _looked_through(folder: Path) -> Callable[[], None]:
    target = Path("..", "pages", "7")

    def run() -> None:
        for _ in range(_TIMES):
            {path.name for path in (folder / "p").iterdir() if path.readlink() == target}

    return run


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        claims = links_of_one_project(Path(place))
    sys.exit(closing(claims))
