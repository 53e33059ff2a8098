"""A page that does not show the last change is known: since when, why, and when that is over. One that is no longer as
it was published is found and made anew."""

import errno
import gzip
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from freezegun import freeze_time
from freezegun.api import FrozenDateTimeFactory

from portal.pages.publishing.lagging import PATIENCE
from portal.pages.publishing.publish import Publisher
from portal.pages.publishing.site import Page, Site
from portal.store import tables
from portal.store.engine.database import execute, touch, write
from tests.house import NOW, SECRET, House

MORNING = "2026-12-02T13:30:00Z"  # NOW
TICK = 300


@pytest.fixture
def clock() -> Iterator[FrozenDateTimeFactory]:
    with freeze_time(MORNING) as clock:
        yield clock


@pytest.fixture
def publisher(house: House, tmp_path: Path, clock: FrozenDateTimeFactory) -> Publisher:
    publisher = Publisher(tmp_path / "site", SECRET, background=False)
    assert publisher.publish_all() == []
    return publisher


def changed(house: House) -> None:
    with write():
        touch(house.project)


def failing(monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    def write_page(site: Site, project_id: int, *_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(Site, "write_page", write_page)


@pytest.mark.parametrize(("number", "why", "says"), [
    (errno.ENOSPC, "full", "The disk of the server is full."),
    (errno.EDQUOT, "full", "The disk of the server is full."),
    (errno.EROFS, "closed", "may not write where its pages lie."), (errno.EACCES, "closed", "may not write"),
    (errno.EIO, "fault", "the server’s log says what."),
])
def test_a_page_that_fails_says_why_and_since_when_until_it_is_mended(
    house: House, publisher: Publisher, clock: FrozenDateTimeFactory, monkeypatch: pytest.MonkeyPatch,
    number: int, why: str, says: str,
) -> None:
    with monkeypatch.context() as broken:
        failing(broken, number)
        changed(house)
        publisher.soon([house.project])
        clock.tick(TICK)
        assert publisher.tick(NOW + TICK) == [house.project]
        (one,) = publisher.lagging(NOW + TICK)
    assert (one.project, one.since, one.why) == (house.project, NOW, why)
    since = "It has been so since Wed Dec 2, 7:30 am."
    assert one.words.startswith(f"The page of Okafor house does not show the last change. {since}")
    assert says in one.words and "by phone" in one.words
    assert publisher.tick(NOW + 2 * TICK) == [] and publisher.lagging(NOW + 2 * TICK) == []


def test_a_change_that_nobody_published_lags_after_a_minute(house: House, publisher: Publisher) -> None:
    changed(house)
    assert publisher.lagging(NOW + PATIENCE) == [], "it may be at work"
    (one,) = publisher.lagging(NOW + PATIENCE + 1)
    assert (one.project, one.since, one.why) == (house.project, NOW, "")
    publisher.tick(NOW)
    assert publisher.lagging(NOW + PATIENCE + 1) == []


def test_pages_that_may_still_be_at_work_hide_none_that_lags(
    house: House, publisher: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("portal.pages.publishing.publish._MOST_LAGGING", 1)
    publisher.tick(NOW)
    with write():
        touch(house.project)
        touch(house.other_project)
    at = tables.Project.update(changed_at=NOW + PATIENCE).where(tables.Project.id == house.project)
    at.execute()
    (one,) = publisher.lagging(NOW + PATIENCE + 1)
    assert one.project == house.other_project


def test_a_house_that_can_not_be_drawn_lags_and_keeps_no_other(house: House, publisher: Publisher) -> None:
    with write():
        touch(house.project)
        touch(house.other_project)
        tables.Project.update(timezone="Nowhere/At_all").where(tables.Project.id == house.project).execute()
    assert publisher.tick(NOW) == [house.project]
    (one,) = publisher.lagging(NOW)
    assert (one.project, one.why) == (house.project, "fault") and "UTC" not in one.words
    assert publisher.stale(NOW) == [house.project]


def test_what_could_not_be_kept_of_a_page_that_shows_all_is_no_false_alarm(house: House, publisher: Publisher) -> None:
    changed(house)
    execute("CREATE TRIGGER held BEFORE UPDATE ON shown_page BEGIN SELECT RAISE(ABORT, 'database is locked'); END")
    publisher.tick(NOW)
    assert tables.ShownPage.get_by_id(house.project).changed == 0
    assert publisher.lagging(NOW + TICK) == []
    execute("DROP TRIGGER held")
    publisher.soon([house.project])
    assert tables.ShownPage.get_by_id(house.project).changed == 1


def test_each_page_is_told_with_its_seconds(house: House, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[tuple[bool, bool]] = []
    publisher = Publisher(
        tmp_path / "site", SECRET, background=False, told=lambda seconds, done: told.append((0 < seconds < 60, done))
    )
    publisher.publish(house.project)
    failing(monkeypatch, errno.EIO)
    assert publisher.publish_each([house.project]) == [house.project]
    assert told == [(True, True), (True, False)]


@pytest.mark.parametrize("file", ["index.html", "index.html.gz"])
def test_a_page_that_was_changed_or_damaged_is_made_anew(house: House, publisher: Publisher, file: str) -> None:
    folder = publisher.site.project_folder(house.project)
    before = (folder / file).read_bytes()
    (folder / file).write_bytes(before[:-20] + b"\0" * 20)
    assert publisher.remake_damaged(NOW) == ([house.project], [])
    assert gzip.decompress((folder / "index.html.gz").read_bytes()) == (folder / "index.html").read_bytes()
    assert (folder / file).read_bytes() == before
    assert publisher.remake_damaged(NOW) == ([], [])


def test_a_page_that_can_not_be_made_anew_is_said(
    house: House, publisher: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    (publisher.site.project_folder(house.project) / "index.html.gz").unlink()
    failing(monkeypatch, errno.ENOSPC)
    assert publisher.remake_damaged(NOW) == ([], [house.project])


def test_a_page_of_an_earlier_version_is_made_anew_once_and_is_no_damage(house: House, publisher: Publisher) -> None:
    sums = publisher.site.folder / "sums"
    (sums / str(house.project)).unlink()
    assert publisher.remake_damaged(NOW) == ([], [])
    assert (sums / str(house.project)).exists() and publisher.site.differs(house.project) is False


def test_a_kill_between_the_sums_and_the_page_is_no_damage(
    house: House, publisher: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Killed(BaseException):
        pass

    def killed(*args: object) -> None:
        raise Killed

    with monkeypatch.context() as dying:
        dying.setattr(os, "utime", killed)
        with pytest.raises(Killed):
            publisher.site.write_page(house.project, Page("<p>The next one</p>"))
    assert publisher.site.differs(house.project) is False
    assert publisher.remake_damaged(NOW) == ([], [])


def test_thousands_of_pages_are_compared_in_turns(
    house: House, publisher: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("portal.pages.publishing.looks.AT_ONCE", 1)
    looked: list[list[int]] = []
    for number in range(4):
        turn: list[int] = []
        monkeypatch.setattr(Site, "differs", lambda site, project_id, turn=turn: turn.append(project_id) or False)
        publisher.remake_damaged(NOW + number * TICK)
        looked.append(turn)
    assert sorted(map(tuple, looked)) == [(7,), (7,), (8,), (8,)] and looked[0] != looked[1]
