"""What a publisher asks: which change each project is at, the project whole with its links, and what it keeps."""

import threading

import pytest

from portal.store import tables
from portal.store.engine.database import close_database, database, touch, write
from portal.store.facts import Snapshot
from portal.store.reading import published
from portal.store.reading.desk_lines import DeskLine, line_of
from portal.store.reading.finish.moves import MovedFinish, moved_finish
from portal.store.reading.forecasts import Foreseen, foresee
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.published import Marked
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import NotFound
from tests.house import NOW, House


def computed(house: House) -> tuple[Foreseen, MovedFinish, DeskLine]:
    snapshot = read_snapshot(house.project)
    schedule = schedule_of(snapshot, NOW)
    return foresee(snapshot, schedule), moved_finish(snapshot, schedule), line_of(snapshot, schedule)


def kept() -> tuple[int, int, int]:
    """How many forecasts, replays and lines."""
    return tuple(one.select().count() for one in (tables.Forecast, tables.FinishMoves, tables.DeskLine))  # type: ignore[return-value]


def test_each_project_is_at_its_own_change_closed_or_not(house: House) -> None:
    with write():
        touch(house.project)
    tables.Project.update(closed_at=NOW, timezone="America/Denver", changed=17).where(
        tables.Project.id == house.other_project
    ).execute()
    mine, other = published.marks()
    assert mine == Marked(house.project, "America/Chicago", read_snapshot(house.project).project.changed, None)
    assert other == Marked(house.other_project, "America/Denver", 17, NOW)
    with write():
        touch(house.project)
    assert published.marks() == [mine._replace(changed=mine.changed + 1), other]


def test_a_project_comes_with_the_links_that_open_it_and_no_others(house: House) -> None:
    tables.Link.update(revoked_at=NOW).where(tables.Link.person == house.co_owner.id).execute()
    tables.Link.create(person=house.co_owner.id, salt="a newer one", digest="0" * 64, made_at=NOW)
    snapshot, live, _ = published.read_for_publishing(house.project)
    assert snapshot == read_snapshot(house.project)
    assert [one.person_id for one in live] == [house.homeowner.id, house.co_owner.id]
    assert [one.salt for one in live] == [f"salt of {house.homeowner.id}", "a newer one"]
    (others,) = published.read_for_publishing(house.other_project)[1]
    assert others == (f"salt of {house.other_homeowner.id}", house.other_homeowner.id)


def test_a_project_without_links_has_none_and_one_that_is_not_there_is_refused(house: House) -> None:
    tables.Link.delete().execute()
    assert published.read_for_publishing(house.project)[1] == []
    with pytest.raises(NotFound):
        published.read_for_publishing(house.other_project + 1)


def test_snapshot_and_links_are_of_one_moment(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    """Someone revokes all links after the snapshot was read, and before the links are."""

    def revoke() -> None:
        with write():
            tables.Link.update(revoked_at=NOW).execute()
        close_database()

    def read_and_then_revoked(project: int) -> Snapshot:
        snapshot = read_snapshot(project)
        other = threading.Thread(target=revoke)
        other.start()
        other.join()
        return snapshot

    monkeypatch.setattr(published, "read_snapshot", read_and_then_revoked)
    assert len(published.read_for_publishing(house.project)[1]) == 2
    assert published.read_for_publishing(house.project)[1] == []


def test_a_forecast_and_a_line_are_kept_in_one_commit(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    foreseen, moved, line = computed(house)

    def breaks(line: DeskLine) -> None:
        raise RuntimeError("the lights went out")

    with monkeypatch.context() as patched, pytest.raises(RuntimeError):
        patched.setattr(published.desk_lines, "keep", breaks)
        published.keep_computed(foreseen, moved, line, house.project, 0, "2026-12-02")
    assert kept() == (0, 0, 0), "forecast and replay went with the line"
    published.keep_computed(foreseen, moved, line, house.project, 0, "2026-12-02")
    assert kept() == (1, 1, 1)


def test_without_a_line_forecast_and_replay_are_kept(house: House) -> None:
    foreseen, moved, _ = computed(house)
    published.keep_computed(foreseen, moved, None, house.project, 0, "2026-12-02")
    assert kept() == (1, 1, 0)


def test_nothing_is_written_where_all_are_kept(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    published.keep_computed(*computed(house), house.project, 0, "2026-12-02")
    again, moved, _ = computed(house)
    monkeypatch.setattr(published, "write", lambda: pytest.fail("nothing is to be written"))
    published.keep_computed(again, moved, None, house.project, 0, "2026-12-02")
    assert kept() == (1, 1, 1)


def test_a_line_is_kept_beside_a_forecast_that_was_kept_before(house: House) -> None:
    published.keep_computed(*computed(house), house.project, 0, "2026-12-02")
    tables.DeskLine.delete().execute()
    published.keep_computed(*computed(house), house.project, 0, "2026-12-02")
    assert kept() == (1, 1, 1)


def test_a_connection_that_was_given_back_is_closed_and_the_next_question_opens_one(house: House) -> None:
    published.marks()
    published.give_back()
    assert database.is_closed()
    published.give_back()
    assert len(published.marks()) == 2
