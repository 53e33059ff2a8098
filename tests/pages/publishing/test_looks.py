"""A quiet tick goes by rows, and looks at files only to find what was touched; the next tick puts that right."""

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from freezegun import freeze_time

from portal.pages.publishing import looks
from portal.pages.publishing.publish import Publisher
from portal.pages.publishing.site import Site
from portal.store import tables
from portal.store.engine.database import touch, write
from tests.house import NOW, SECRET, House

MORNING = "2026-12-02T13:30:00Z"  # NOW
TICK = 300


@pytest.fixture
def publisher(house: House, tmp_path: Path) -> Publisher:
    """All is published, and each look was had once."""
    publisher = Publisher(tmp_path / "site", SECRET, background=False)
    with freeze_time(MORNING):
        assert publisher.publish_all() == []
    settle(publisher)
    return publisher


def settle(publisher: Publisher) -> None:
    """All looks; and the disk's clock, which counts in milliseconds, goes on."""
    assert half_an_hour(publisher) == ([], [])
    wait_for_the_disk(publisher.site.folder)


def half_an_hour(publisher: Publisher) -> tuple[list[int], list[int]]:
    """What its ticks find."""
    found = [publisher.remake_damaged(NOW + number * TICK) for number in range(looks.SHARES)]
    return [one for mended, _ in found for one in mended], [one for _, failed in found for one in failed]


def wait_for_the_disk(folder: Path) -> None:
    """Until it dates a new file later than one made now."""
    first = folder / ".first"
    first.touch()
    second = folder / ".second"
    while second.touch() or second.stat().st_ctime_ns == first.stat().st_ctime_ns:
        second.unlink()


@pytest.fixture
def nobodys_turn(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("portal.pages.publishing.publish.in_turn", lambda *_: [])


def folder_of(publisher: Publisher, house: House) -> Path:
    return publisher.site.project_folder(house.project)


def gone(folder: Path) -> None:
    (folder / "index.html").unlink()


def gz_gone(folder: Path) -> None:
    (folder / "index.html.gz").unlink()


def calendar_gone(folder: Path) -> None:
    (folder / "visits.kept.ics").unlink()


def all_gone(folder: Path) -> None:
    shutil.rmtree(folder)


def written_over(folder: Path) -> None:
    """In its place, with the length and the date that it had."""
    page = folder / "index.html"
    before = page.stat()
    with page.open("r+b") as file:
        file.seek(-20, os.SEEK_END)
        file.write(b"\0" * 20)
    os.utime(page, ns=(before.st_atime_ns, before.st_mtime_ns))


@pytest.mark.parametrize("spoil", [gone, gz_gone, calendar_gone, all_gone])
def test_the_next_tick_finds_a_page_of_which_something_is_gone_though_it_is_not_its_turn(
    house: House, publisher: Publisher, nobodys_turn: None, spoil: Callable[[Path], None]
) -> None:
    folder = folder_of(publisher, house)
    before = {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}
    spoil(folder)
    assert publisher.remake_damaged(NOW) == ([house.project], [])
    assert {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()} == before
    assert publisher.remake_damaged(NOW) == ([], [])


def test_what_was_written_over_is_found_within_half_an_hour(
    house: House, publisher: Publisher, nobodys_turn: None
) -> None:
    written_over(folder_of(publisher, house))
    assert publisher.site.differs(house.project)
    assert half_an_hour(publisher) == ([house.project], [])
    assert publisher.site.differs(house.project) is False
    assert half_an_hour(publisher) == ([], [])


@pytest.mark.parametrize("file", ["index.html", "index.html.gz"])
def test_so_is_what_is_gone_of_the_page_without_sums(
    house: House, publisher: Publisher, nobodys_turn: None, file: str
) -> None:
    with write():
        tables.Person.update(role="designer", may_approve=False).where(tables.Person.project == house.project).execute()
        touch(house.project)
    with freeze_time(MORNING):
        assert publisher.tick(NOW) == []
    settle(publisher)
    less = folder_of(publisher, house) / "without-sums" / file
    less.unlink()
    assert half_an_hour(publisher) == ([house.project], [])
    assert less.exists() and publisher.site.differs(house.project) is False


def test_what_could_not_be_made_anew_is_tried_by_each_tick(
    house: House, publisher: Publisher, nobodys_turn: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = publisher.page_path(house.project)
    before = page.read_bytes()
    written_over(folder_of(publisher, house))
    with monkeypatch.context() as broken:
        broken.setattr(Site, "write_page", lambda *_: (_ for _ in ()).throw(OSError(5, "no")))
        assert half_an_hour(publisher) == ([], [house.project])
        assert publisher.tick(NOW) == [house.project]
    with freeze_time(MORNING):
        assert publisher.tick(NOW) == []
    assert page.read_bytes() == before


def test_an_older_page_that_was_put_back_with_its_sums_is_brought_up_to_date(
    house: House, publisher: Publisher, nobodys_turn: None, tmp_path: Path
) -> None:
    site = publisher.site.folder
    shutil.copytree(site / "pages", tmp_path / "old" / "pages", symlinks=True)
    shutil.copytree(site / "sums", tmp_path / "old" / "sums")
    with freeze_time(MORNING):
        with write():
            touch(house.project)
        assert publisher.tick(NOW) == []
        settle(publisher)
        shutil.copytree(tmp_path / "old", site, dirs_exist_ok=True, symlinks=True)
        assert publisher.site.differs(house.project) is False and publisher.stale(NOW) == [house.project]
        assert publisher.remake_damaged(NOW) == ([], [])
        assert publisher.stale(NOW) == []


def test_a_quiet_tick_reads_no_page(house: House, publisher: Publisher, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Site, "mark", lambda *_: pytest.fail("it is to go by the rows"))
    assert publisher.tick(NOW) == []


def test_a_new_date_is_found_by_the_rows_but_for_a_closed_house(
    house: House, publisher: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    with write():
        tables.Project.update(closed_at=NOW).where(tables.Project.id == house.other_project).execute()
    published: list[int] = []
    monkeypatch.setattr(Publisher, "_tried", lambda self, one, now, **_: not published.append(one))  # type: ignore[func-returns-value]
    assert publisher.tick(NOW + 86_400) == [] and published == [house.project]


def test_what_an_earlier_version_published_is_looked_into_once(
    house: House, publisher: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    tables.ShownPage.update(day="").execute()
    read: list[int] = []
    really = Site.mark
    monkeypatch.setattr(Site, "mark", lambda self, one: read.append(one) or really(self, one))
    before = publisher.page_path(house.project).stat()
    for _ in range(2):
        assert publisher.tick(NOW) == []
    assert set(read) == {house.project, house.other_project} and len(read) == 4, "in the first tick, and no more"
    assert publisher.page_path(house.project).stat() == before
    assert {row.day for row in tables.ShownPage.select()} == {"2026-12-02"}


@pytest.mark.parametrize("count", [1, 20, 21, 3_000, 9_999])
def test_every_page_has_its_turn_within_half_a_day(count: int) -> None:
    pages = list(range(count))
    turns = [looks.in_turn(pages, NOW + number * TICK) for number in range(looks.TURNS)]
    assert {one for turn in turns for one in turn} == set(pages) and looks.TURNS * TICK == 12 * 3600
    assert max(map(len, turns)) <= max(looks.AT_ONCE, -(-count // looks.TURNS))
    assert looks.in_turn([], NOW) == []
