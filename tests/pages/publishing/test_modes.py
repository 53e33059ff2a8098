"""Links, pages and the database are for us and our group alone, whatever the umask; the group is the folder's."""

import os
import stat
from collections.abc import Callable, Iterator
from contextlib import nullcontext
from pathlib import Path

import pytest

from portal.pages.publishing.links import Links
from portal.pages.publishing.site import Site
from portal.pages.publishing.sums import Sums
from portal.store.engine.database import close_database
from tests.house import make_house
from tests.served import serve_house


@pytest.fixture(params=[0o000, 0o022, 0o027])
def umask(request: pytest.FixtureRequest) -> Iterator[int]:
    before = os.umask(request.param)
    yield request.param
    os.umask(before)


def modes(site: Path) -> dict[str, str]:
    """Of all that a web server is to read, and the folders on the way to it."""
    found = {
        path.name if path.is_file() else f"{path.relative_to(site)}/": oct(stat.S_IMODE(path.stat().st_mode))
        for path in (site, *site.rglob("*"))
        if path.relative_to(site).parts[:1] in ((), ("p",), ("pages",)) and not path.is_symlink()
    }
    return dict(sorted(found.items()))


def published(folder: Path) -> Path:
    house = make_house(folder / "portal.db")
    with serve_house(folder).test_client().get(f"/p/{house.links['homeowner']}/") as answer:
        assert answer.status_code == 200
    close_database()
    return folder / "site"


def test_others_can_not_come_to_what_is_published_and_the_web_server_reads_it(tmp_path: Path, umask: int) -> None:
    found = modes(published(tmp_path))
    assert found.pop("./") == found.pop("p/") == found.pop("pages/") == found.pop("pages/7/") == "0o750"
    assert {"index.html", "index.html.gz"} <= set(found) and set(found.values()) == {"0o640"}


def test_a_site_that_others_could_read_is_closed_and_keeps_the_mark_of_its_group(tmp_path: Path, umask: int) -> None:
    """As the unit makes it: `install -d -g www-data -m 2750`."""
    (tmp_path / "site").mkdir()
    (tmp_path / "site").chmod(0o2755)
    found = modes(published(tmp_path))
    assert found["./"] == found["p/"] == found["pages/7/"] == "0o2750"
    assert {path.stat().st_gid for path in (tmp_path / "site").rglob("*")} == {(tmp_path / "site").stat().st_gid}


@pytest.mark.parametrize("first", [
    lambda site: Links(site).take_stock(nullcontext), lambda site: Site(site).lock(7).__enter__(),
    lambda site: Sums(site).expect(7, {"index.html": b""}),
])  # fmt: skip
def test_whoever_comes_first_makes_the_folder_of_the_site_closed(
    tmp_path: Path, umask: int, first: Callable[[Path], object]
) -> None:
    first(tmp_path / "site")
    assert modes(tmp_path / "site")["./"] == "0o750"


def test_others_read_no_list_of_links_and_no_database(tmp_path: Path, umask: int) -> None:
    published(tmp_path)
    private = [*(tmp_path / "site/links").rglob("*"), *tmp_path.glob("portal.db*")]
    assert len(private) > 2
    assert {path.name: oct(path.stat().st_mode & 0o007) for path in private if path.name != ".whole"} == {
        path.name: "0o0" for path in private if path.name != ".whole"
    }
