"""A phase as one plain value has each column in its place, and the links and holds of no other phase."""

from typing import Any

import pytest

from portal.store import tables
from portal.store.engine.database import database
from portal.store.reading.phase_views import Follows, PhaseView, Work, phase_view, phase_views
from tests.house import House
from tests.store.reading.one_of_each import one_of_each


def test_each_field_comes_from_its_own_column(house: House) -> None:
    mine = one_of_each(2)
    row = tables.Phase.get_by_id(mine.phases[1].id)
    assert phase_view(row) == PhaseView(
        id=row.id, version=row.version, name="Sand 2", room=mine.room.id, crew="Crew of Sand 2", position=row.position,
        work_hours=row.work_likely, work=Work(row.work_low, row.work_likely, row.work_high),
        after=[Follows(mine.phases[0].id, mine.link.wait)], not_before=row.not_before, held_by=[mine.decision.id],
        note="Note of Sand 2", takes=["takes of Sand 2"], remaining=row.remaining, state="state of Sand",
        started_at=row.started_at, finished_at=row.finished_at, inspection_at=row.inspection_at,
        stopped_at=row.stopped_at, resumes_at=row.resumes_at, stopped_reason=row.stopped_reason,
    )  # fmt: skip


def test_what_a_phase_need_not_have_is_none_or_empty(house: House) -> None:
    row = tables.Phase.create(project=house.other_project, name="Demolish", work_low=1, work_likely=2, work_high=3)
    assert phase_view(tables.Phase.get_by_id(row.id)) == PhaseView(
        id=row.id, version=1, name="Demolish", room=None, crew="", position=0, work_hours=2, work=Work(1, 2, 3),
        after=[], not_before=None, held_by=[], note="", takes=[], remaining=None, state="waiting", started_at=None,
        finished_at=None, inspection_at=None, stopped_at=None, resumes_at=None, stopped_reason="",
    )  # fmt: skip


def test_links_and_holds_are_each_phases_own_in_the_order_in_which_they_were_made(house: House) -> None:
    ids, decisions = house.phases, house.decisions
    for decision in (5, 1):
        tables.PhaseHold.create(phase=ids["walk"], decision=decisions[decision])
    keys = ("walk", "out", "drill")
    walk, out, drill = phase_views(house.project, [tables.Phase.get_by_id(ids[key]) for key in keys])
    assert [view.id for view in (walk, out, drill)] == [ids[key] for key in keys], "in the order that was asked for"
    assert walk.after == [Follows(ids[key], 0) for key in ("sink", "grout", "vanity", "shelves")]
    assert walk.held_by == [decisions[5], decisions[1]]
    assert (out.after, out.held_by) == ([], [])
    assert (drill.after, drill.held_by) == ([Follows(ids["top"], 16 * 60)], [decisions[1]])


def test_of_no_phases_there_are_no_views(house: House) -> None:
    assert phase_views(house.project, []) == []


def test_a_whole_page_of_phases_costs_two_queries(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    rows = list(tables.Phase.select().where(tables.Phase.project == house.project))
    asked: list[str] = []
    really = database.obj.execute_sql

    def counted(sql: str, *more: Any, **options: Any) -> Any:
        asked.append(sql)
        return really(sql, *more, **options)

    monkeypatch.setattr(database.obj, "execute_sql", counted)
    assert len(phase_views(house.project, rows)) == 15
    assert len([sql for sql in asked if sql.startswith("SELECT")]) == 2
