"""Exactly the links that live open a page: after a kill at any moment, and on a site from before there were lists."""

import errno
import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from portal.pages.publishing.publish import Publisher
from portal.pages.publishing.site import Site
from portal.store import tables
from tests.house import NOW, SECRET, House

OLD, NEW, KEPT, OTHERS = "old-link", "new_link", "kept", "of-the-other"


class Killed(BaseException):
    """The process is gone: nothing after it is done, and nobody handles it."""


@pytest.fixture
def site(tmp_path: Path) -> Site:
    site = Site(tmp_path / "site")
    site.take_stock()
    return site


def there(site: Site) -> dict[str, str]:
    """The project that each link leads to."""
    return {path.name: path.readlink().name for path in (site.folder / "p").iterdir()}


def of_an_earlier_version(folder: Path) -> Site:
    """A site as it was published before there were lists: project 1 with OLD and KEPT, project 2 with its own."""
    (folder / "p").mkdir(parents=True)
    for link, project in ((OLD, 1), (KEPT, 1), (OTHERS, 2)):
        (folder / "p" / link).symlink_to(Path("..", "pages", str(project)))
    return Site(folder)


def killing_at(moment: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every move on the disk has two moments: before it is made, and after. At the one of this number all ends."""
    moments: Iterator[int] = iter(range(10_000))

    def mortal(really: Callable[..., Any]) -> Callable[..., Any]:
        def move(*args: Any, **kwargs: Any) -> Any:
            if next(moments) == moment:
                raise Killed()
            done = really(*args, **kwargs)
            if next(moments) == moment:
                raise Killed()
            return done

        return move

    for name in ("unlink", "symlink_to", "replace", "touch"):
        monkeypatch.setattr(Path, name, mortal(getattr(Path, name)))
    monkeypatch.setattr(os, "open", mortal(os.open))


def killed_at_each_moment(
    monkeypatch: pytest.MonkeyPatch, made: Callable[[int], Site], do: Callable[[Site], None]
) -> Iterator[Site]:
    """The site after each kill, until there was no more to kill."""
    for moment in range(1000):
        site = made(moment)
        with monkeypatch.context() as mortal:
            killing_at(moment, mortal)
            try:
                do(site)
            except Killed:
                pass
            else:
                assert moment > 3, "nothing was killed"
                return
        yield site


def test_a_kill_at_any_moment_leaves_nothing_that_the_next_publishing_does_not_put_right(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def made(moment: int) -> Site:
        site = Site(tmp_path / str(moment))
        site.take_stock()
        site.set_links(1, {OLD, KEPT})
        site.set_links(2, {OTHERS})
        return site

    for site in killed_at_each_moment(monkeypatch, made, lambda site: site.set_links(1, {KEPT, NEW})):
        assert there(site)[KEPT] == "1"
        site.set_links(1, {KEPT, NEW})
        assert there(site) == {KEPT: "1", NEW: "1", OTHERS: "2"}


def test_a_link_that_was_made_before_a_kill_can_be_revoked_after_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def made(moment: int) -> Site:
        site = Site(tmp_path / str(moment))
        site.take_stock()
        return site

    for site in killed_at_each_moment(monkeypatch, made, lambda site: site.set_links(1, {OLD})):
        site.set_links(1, set())
        assert there(site) == {}


def test_an_earlier_site_is_carried_over_whenever_that_is_killed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def made(moment: int) -> Site:
        return of_an_earlier_version(tmp_path / str(moment))

    for site in killed_at_each_moment(monkeypatch, made, Site.take_stock):
        site.set_links(1, {KEPT, NEW})
        assert there(site) == {KEPT: "1", NEW: "1", OTHERS: "2"}


def test_on_an_earlier_site_links_are_revoked_before_and_after_it_is_carried_over(tmp_path: Path) -> None:
    site = of_an_earlier_version(tmp_path / "site")
    site.set_links(1, {KEPT})
    assert there(site) == {KEPT: "1", OTHERS: "2"}
    site.take_stock()
    site.set_links(2, set())
    site.set_links(1, set())
    assert there(site) == {}


def test_a_link_whose_list_was_lost_with_the_power_is_known_again_after_the_start(site: Site) -> None:
    site.set_links(1, {OLD, KEPT})
    (site.folder / "links" / "1").write_bytes(b"\0" * 40)
    Site(site.folder).take_stock()
    site.set_links(1, {KEPT})
    assert there(site) == {KEPT: "1"}


def test_publishing_one_project_looks_at_no_others_links(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    site.set_links(1, {OLD})

    def looks(*args: object) -> Iterator[Path]:
        raise AssertionError("the folder of all links was read")

    monkeypatch.setattr(Path, "iterdir", looks)
    monkeypatch.setattr(os, "scandir", looks)
    site.set_links(1, {NEW})
    monkeypatch.undo()
    assert there(site) == {NEW: "1"}


def test_what_lies_among_the_links_and_is_none_is_left_alone(site: Site) -> None:
    site.set_links(1, {KEPT})
    strange = {"a-file": None, "elsewhere": Path("/tmp"), "odd": Path("../pages/x")}
    for name, target in strange.items():
        path = site.folder / "p" / name
        path.symlink_to(target) if target else path.write_text("")
    site.take_stock()
    site.set_links(1, set())
    assert {path.name for path in (site.folder / "p").iterdir()} == set(strange)


def test_only_we_may_read_the_lists(site: Site) -> None:
    site.set_links(1, {KEPT})
    assert [path.stat().st_mode & 0o077 for path in (site.folder / "links", site.folder / "links" / "1")] == [0, 0]


def test_the_service_carries_an_earlier_site_over_when_it_starts(house: House, tmp_path: Path) -> None:
    publisher = Publisher(tmp_path / "site", SECRET, background=False)
    publisher.publish(house.project, NOW)
    stray = tmp_path / "site" / "p" / "revoked-before-there-were-lists"
    stray.symlink_to(Path("..", "pages", str(house.project)))
    assert publisher.publish_all() == []
    assert not stray.is_symlink()
    tables.Link.update(revoked_at=NOW).where(tables.Link.person == house.homeowner.id).execute()
    publisher.publish(house.project, NOW)
    assert house.links["homeowner"] not in there(publisher.site)


def test_a_disk_that_takes_no_lists_does_not_keep_the_pages_from_being_published(
    house: House, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def full(site: Site) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Site, "take_stock", full)
    assert Publisher(tmp_path / "site", SECRET, background=False).publish_all() == []
    assert "could not be listed" in caplog.text
    assert (tmp_path / "site" / "p" / house.links["homeowner"] / "index.html").exists()
