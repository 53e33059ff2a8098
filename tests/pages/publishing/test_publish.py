"""A page is published whole or not at all, under the links that live, and again when it is no longer true."""

import errno
import gzip
import os
import threading
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from freezegun import freeze_time

from portal import signing
from portal.pages.publishing import publish as publishing
from portal.pages.publishing.publish import Publisher
from portal.store import tables
from portal.store.engine.database import touch, write
from tests.house import NOW, SECRET, House, at
from tests.pages.reading import parsed, words_of

MORNING = "2026-12-02T13:30:00Z"  # 7:30 am at the house


@pytest.fixture
def site(tmp_path: Path) -> Path:
    return tmp_path / "site"


@pytest.fixture
def publisher(site: Path) -> Publisher:
    return Publisher(site, SECRET, background=False)


@pytest.fixture
def background(site: Path) -> Iterator[Publisher]:
    publisher = Publisher(site, SECRET)
    yield publisher
    publisher.close()


def _rename(house: House, name: str) -> None:
    with write():
        touch(house.project)
        tables.Project.update(name=name).where(tables.Project.id == house.project).execute()


def _page(site: Path, house: House) -> str:
    return (site / "pages" / str(house.project) / "index.html").read_text()


def _full_disk(monkeypatch: pytest.MonkeyPatch, when: str = "") -> None:
    """Writing fails as on a full disk, for files whose name ends in `when`."""
    really = Path.write_bytes

    def write_bytes(path: Path, data: bytes) -> int:
        if path.name.endswith(when):
            really(path, data[:100])
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(path))
        return really(path, data)

    monkeypatch.setattr(Path, "write_bytes", write_bytes)


def test_the_compressed_page_is_the_page(house: House, site: Path, publisher: Publisher) -> None:
    publisher.publish(house.project, NOW)
    page = site / "pages" / str(house.project) / "index.html"
    assert gzip.decompress(page.with_name("index.html.gz").read_bytes()) == page.read_bytes()
    assert "Okafor house" in page.read_text()
    files = ["index.html", "index.html.gz", "visits.kept.ics"]
    assert sorted(path.name for path in page.parent.iterdir()) == files


def test_each_live_link_opens_the_page(house: House, site: Path, publisher: Publisher) -> None:
    publisher.publish(house.project, NOW)
    for who in ("homeowner", "co_owner"):
        assert (site / "p" / house.links[who] / "index.html").read_text() == _page(site, house)
    assert not (site / "p" / house.links["other_homeowner"]).exists()


def test_a_page_that_can_not_be_written_keeps_no_other_from_being(
    house: House, site: Path, publisher: Publisher
) -> None:
    tables.Project.update(timezone="Nowhere/At_all").where(tables.Project.id == house.project).execute()
    assert publisher.publish_all() == [house.project]
    assert (site / "p" / house.links["other_homeowner"] / "index.html").exists()


def test_a_revoked_link_no_longer_opens_it(house: House, site: Path, publisher: Publisher) -> None:
    publisher.publish_all()
    tables.Link.update(revoked_at=NOW).where(tables.Link.person == house.homeowner.id).execute()
    publisher.publish(house.project, NOW)
    assert {path.name for path in (site / "p").iterdir()} == {house.links["co_owner"], house.links["other_homeowner"]}


def test_a_link_of_a_person_who_was_removed_no_longer_opens_it(
    house: House, site: Path, publisher: Publisher
) -> None:
    publisher.publish(house.project, NOW)
    tables.Link.delete().where(tables.Link.person == house.homeowner.id).execute()
    publisher.publish(house.project, NOW)
    assert {path.name for path in (site / "p").iterdir()} == {house.links["co_owner"]}


def test_a_new_link_opens_it_after_the_change(house: House, site: Path, publisher: Publisher) -> None:
    publisher.publish(house.project, NOW)
    link = signing.link_for(SECRET, "another salt")
    with write():
        touch(house.project)
        tables.Link.create(person=house.homeowner.id, salt="another salt", digest=signing.digest(link), made_at=NOW)
    publisher.soon([house.project])
    assert (site / "p" / link / "index.html").exists()


def test_a_full_disk_keeps_the_old_page_whole(
    house: House, site: Path, publisher: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    publisher.publish(house.project, NOW)
    before = _page(site, house), (site / "pages" / "7" / "index.html.gz").read_bytes()
    _rename(house, "Renamed house")
    for file in ("index.html.gz.part", "index.html.part"):
        with monkeypatch.context() as broken:
            _full_disk(broken, file)
            with pytest.raises(OSError, match="No space"):
                publisher.publish(house.project, NOW)
        assert (_page(site, house), (site / "pages" / "7" / "index.html.gz").read_bytes()) == before
        assert not list((site / "pages" / "7").glob("*.part"))


def test_a_full_disk_does_not_keep_a_revoked_link_open(
    house: House, site: Path, publisher: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    publisher.publish(house.project, NOW)
    tables.Link.update(revoked_at=NOW).where(tables.Link.person == house.homeowner.id).execute()
    _full_disk(monkeypatch)
    with pytest.raises(OSError, match="No space"):
        publisher.publish(house.project, NOW)
    assert not (site / "p" / house.links["homeowner"]).exists()


@freeze_time(MORNING)
def test_what_failed_is_tried_again_at_the_next_change(
    house: House, site: Path, publisher: Publisher, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    publisher.publish_all()
    _rename(house, "Renamed house")
    with monkeypatch.context() as broken:
        _full_disk(broken)
        publisher.soon([house.project])
    assert "could not be published" in caplog.text and "Okafor house" in _page(site, house)
    assert not publisher.flush(house.project)
    publisher.soon([house.other_project])
    assert "Renamed house" in _page(site, house) and publisher.flush(house.project)


@freeze_time(MORNING)
def test_what_failed_is_tried_again_by_a_tick(
    house: House, site: Path, publisher: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    publisher.publish_all()
    _rename(house, "Renamed house")
    with monkeypatch.context() as broken:
        _full_disk(broken)
        assert publisher.tick(NOW) == [house.project]
    assert publisher.tick(NOW) == [] and "Renamed house" in _page(site, house)


def test_a_page_is_stale_after_midnight_at_the_house(house: House, site: Path, publisher: Publisher) -> None:
    with freeze_time(MORNING):
        publisher.publish_all()
    assert publisher.stale(at("2026-12-02T23:59")) == []
    assert publisher.stale(at("2026-12-03T00:00")) == [house.project, house.other_project]
    publisher.tick(at("2026-12-03T00:01"))
    assert "As of Thu\u00a0Dec\u00a03" in _page(site, house)
    assert publisher.stale(at("2026-12-03T00:02")) == []


def test_a_page_is_stale_after_a_change_that_nobody_published(house: House, publisher: Publisher) -> None:
    with freeze_time(MORNING):
        publisher.publish_all()
    _rename(house, "Renamed house")
    assert publisher.stale(NOW) == [house.project]


def test_a_page_that_was_never_written_is_stale(house: House, publisher: Publisher) -> None:
    assert publisher.stale(NOW) == [house.project, house.other_project]


def _close(house: House) -> None:
    with write():
        touch(house.project)
        tables.Project.update(closed_at=NOW).where(tables.Project.id == house.project).execute()
        tables.Visit.update(cancelled_at=NOW).execute()


def test_a_closed_project_keeps_its_page_over_midnight(house: House, publisher: Publisher) -> None:
    _close(house)
    with freeze_time(MORNING):
        publisher.publish_all()
    assert publisher.stale(at("2026-12-09T00:00")) == [house.other_project]


def test_while_somebody_comes_to_a_closed_house_its_page_is_of_today(house: House, publisher: Publisher) -> None:
    """Else it would say “Tomorrow: Tile setter” of a fault for good."""
    _close(house)
    with write():
        touch(house.project)
        tables.Visit.create(project=house.project, crew="Tile setter", purpose="The loose tile", changed_at=NOW,
                            starts_at=at("2026-12-08T09:00"), ends_at=at("2026-12-08T10:00"))
    page = publisher.page_path(house.project)
    said = {7: "Tomorrow , Tue Dec 8 : Tile setter", 8: "Today , Tuesday : Tile setter", 9: "This job has ended"}
    for day, words in said.items():
        now = at(f"2026-12-0{day}T06:00")
        with freeze_time(datetime.fromtimestamp(now, UTC)):
            assert house.project in publisher.stale(now) and publisher.tick(now) == []
        text = words_of(parsed(page.read_text()).root).replace("\u00a0", " ")
        assert words in text, day
    assert house.project not in publisher.stale(at("2026-12-20T06:00"))


@freeze_time(MORNING)
def test_a_page_that_is_true_is_not_written_again(house: House, site: Path, publisher: Publisher) -> None:
    publisher.publish(house.project)
    before = (site / "pages" / "7" / "index.html").stat()
    publisher.soon([house.project])
    after = (site / "pages" / "7" / "index.html").stat()
    assert (before.st_ino, before.st_mtime_ns) == (after.st_ino, after.st_mtime_ns)


def test_two_pages_of_one_second_have_different_dates(house: House, site: Path, publisher: Publisher) -> None:
    page = site / "pages" / "7" / "index.html"
    dates = []
    for _ in range(3):
        publisher.publish(house.project, NOW)
        dates.append(int(page.stat().st_mtime))
        assert page.stat().st_mtime == page.with_name("index.html.gz").stat().st_mtime
    assert dates == sorted(set(dates))


def test_the_thread_starts_at_once_and_flush_waits_for_it(house: House, site: Path, background: Publisher) -> None:
    background.soon([house.project])
    assert background.flush(house.project)
    assert "Okafor house" in _page(site, house)


def test_a_stream_of_changes_costs_few_publishes(
    house: House, site: Path, background: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    rendered: list[int] = []
    really = publishing.render_page

    def slowly(*args: object) -> str:
        rendered.append(1)
        time.sleep(0.05)
        return really(*args)  # type: ignore[arg-type]

    monkeypatch.setattr(publishing, "render_page", slowly)
    for change in range(20):
        _rename(house, f"House {change}")
        background.soon([house.project])
    assert background.flush(house.project)
    assert "House 19" in _page(site, house)
    assert len(rendered) < 10


def test_one_page_that_fails_does_not_stop_the_others(
    house: House, site: Path, background: Publisher, monkeypatch: pytest.MonkeyPatch
) -> None:
    really = publishing.render_page

    def fails_for_one(snapshot, *rest) -> str:  # type: ignore[no-untyped-def]
        if snapshot.project.id == house.project:
            raise RuntimeError("a fault of ours")
        return really(snapshot, *rest)

    monkeypatch.setattr(publishing, "render_page", fails_for_one)
    background.soon([house.project, house.other_project])
    assert background.flush(house.other_project)
    assert not background.flush(house.project)
    assert (site / "pages" / str(house.other_project) / "index.html").exists()


def test_an_older_page_never_replaces_a_newer_one(
    house: House, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The snapshot is read under the lock: a publisher that was slow to render can't come last with old facts."""
    entered, go_on = threading.Event(), threading.Event()
    really = publishing.render_page
    first = Publisher(site, SECRET)

    def slowly(*args: object) -> str:
        if not entered.is_set():
            entered.set()
            go_on.wait(5)
        return really(*args)  # type: ignore[arg-type]

    monkeypatch.setattr(publishing, "render_page", slowly)
    first.soon([house.project])
    assert entered.wait(5)
    _rename(house, "Renamed house")
    second = Publisher(site, SECRET)  # as in another process
    second.soon([house.project])
    go_on.set()
    assert first.flush(house.project) and second.flush(house.project)
    first.close()
    second.close()
    assert "Renamed house" in _page(site, house)


def test_a_reader_never_meets_half_a_page(house: House, site: Path, publisher: Publisher) -> None:
    publisher.publish(house.project, NOW)
    stop, broken = threading.Event(), []

    def reads() -> None:
        while not stop.is_set():
            page = _page(site, house)
            if not page.rstrip().endswith("</html>"):
                broken.append(page)

    reader = threading.Thread(target=reads)
    reader.start()
    for _ in range(20):
        publisher.publish(house.project, NOW)
    stop.set()
    reader.join()
    assert broken == []
