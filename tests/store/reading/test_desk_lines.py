"""The desk's list is looked up, and says at every moment what would be computed."""

from collections.abc import Callable
from datetime import date

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again, change_decision
from portal.acts.decisions.asking_back import ask_back
from portal.acts.plan.starting import release_phase
from portal.acts.visiting.visits import cancel_visit
from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.engine.database import touch, write
from portal.store.reading import desk_lines
from portal.store.reading.desk_lines import DeskLine, Listed
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at
from tests.household import CALENDAR

DAY = 24 * 3600
PROJECTS = (House.project, House.other_project)


def keep_all(now: int = NOW) -> None:
    for project in PROJECTS:
        desk_lines.keep(desk_lines.computed(project, now))


def computed(now: int) -> list[tuple[int, int, date | None]]:
    """Project, number and need-by date of what waits, from the schedule that pages show."""
    found = []
    for project in PROJECTS:
        snapshot = read_snapshot(project)
        needed_by = outlook_of(snapshot, schedule_of(snapshot, now)).needed_by
        found += [(project, one.number, needed_by.get(one.id)) for one in snapshot.decisions if one.is_open]
    return sorted(found, key=str)


def listed(now: int) -> list[tuple[int, int, date | None]]:
    found = desk_lines.open_projects(now)
    return sorted(((one.id, waits.number, waits.needed_by) for one in found for waits in one.waiting), key=str)


@pytest.fixture
def nothing_is_computed(monkeypatch: pytest.MonkeyPatch) -> Callable[[], None]:
    """From this call on the list must be looked up."""

    def never(project_id: int, now: int) -> DeskLine:
        raise AssertionError(f"project {project_id} was computed")

    return lambda: monkeypatch.setattr(desk_lines, "computed", never)


def test_what_is_kept_is_looked_up(house: House, nothing_is_computed: Callable[[], None]) -> None:
    before = desk_lines.open_projects(NOW)
    keep_all()
    nothing_is_computed()
    after = desk_lines.open_projects(NOW + 60)
    assert [(one.id, one.nearest, one.waiting) for one in after] == [
        (one.id, one.nearest, one.waiting) for one in before
    ]
    assert desk_lines.not_good(NOW + 60) == []


CHANGES: dict[str, Callable[[House], object]] = {
    "approved": lambda house: approve(
        house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW),
    "asked back": lambda house: ask_back(
        house.homeowner, house.project, house.decisions[1], revision=1, text="Which side?", now=NOW),
    "asked again": lambda house: ask_again(
        house.manager, house.project, house.decisions[1], {"question": "Which holes, then?"}, NOW),
    "lead time": lambda house: change_decision(
        house.manager, house.project, house.decisions[1], 1, {"lead_days": 4}, NOW),
    "released": lambda house: release_phase(
        house.manager, house.project, house.phases["drill"], reason="By phone", now=NOW),
    "visit cancelled": lambda house: cancel_visit(
        house.office, house.project, house.visits["top"], 1, because="The crew is ill", now=NOW),
}


@pytest.mark.parametrize("change", CHANGES)
def test_after_a_change_the_list_says_what_is_true_then(house: House, change: str) -> None:
    keep_all()
    CHANGES[change](house)
    assert desk_lines.not_good(NOW) == [house.project]
    assert listed(NOW) == computed(NOW)


def test_through_days_in_which_nobody_does_anything_the_list_stays_true(house: House) -> None:
    """Visits pass, phases that are under way should be over, dates get late: every hour of three days."""
    keep_all()
    moments = range(NOW, NOW + 3 * DAY, 3600)
    assert [listed(now) for now in moments] == [computed(now) for now in moments]
    assert len({str(computed(now)) for now in moments}) > 1, "nothing moved: the test shows nothing"


def test_a_line_outlives_the_midnight_but_not_the_next_one(house: House) -> None:
    tables.Phase.update(state="waiting", started_at=None).where(tables.Phase.finished_at.is_null()).execute()
    tables.Visit.delete().execute()
    keep_all(at("2026-12-02T00:01"))
    assert desk_lines.not_good(at("2026-12-03T00:04")) == []
    assert desk_lines.not_good(at("2026-12-04T00:00")) == [house.project, house.other_project]


def test_a_clock_that_was_set_back_makes_the_lines_anew(house: House) -> None:
    keep_all()
    assert desk_lines.not_good(NOW - 3600) == [house.project, house.other_project]


def test_an_older_line_replaces_no_newer_one(house: House) -> None:
    old = desk_lines.computed(house.project, NOW)
    with write():
        touch(house.project)
    desk_lines.keep(desk_lines.computed(house.project, NOW))
    desk_lines.keep(old)
    assert desk_lines.not_good(NOW) == [house.other_project]


def test_publishing_keeps_no_line_anew_that_is_good_for_another_day(house: House) -> None:
    tables.Visit.delete().execute()
    snapshot = read_snapshot(house.other_project)
    line = desk_lines.anew(snapshot, schedule_of(snapshot, NOW))
    assert line is not None
    desk_lines.keep(line)
    assert desk_lines.anew(snapshot, schedule_of(snapshot, NOW + 3600)) is None
    assert desk_lines.anew(snapshot, schedule_of(snapshot, NOW + 13 * 3600)) is not None


def test_the_nearest_date_comes_first_then_the_name_and_the_closed_ones_last(house: House) -> None:
    values = {"timezone": "UTC", "calendar": CALENDAR, "starts_on": "2026-11-16", "address": ""}
    closed, _, first = (
        tables.Project.create(name=name, closed_at=closed, **values).id
        for name, closed in (("A closed one", NOW), ("B bath", None), ("A bath", None))
    )

    def names(found: list[Listed]) -> list[str]:
        return [one.name for one in found]

    assert names(desk_lines.open_projects(NOW)) == ["Okafor house", "A bath", "B bath", "Sorensen bath"]
    assert names(desk_lines.those([closed, house.project, first], NOW)) == ["Okafor house", "A bath", "A closed one"]
    assert desk_lines.those([], NOW) == []


def test_the_list_is_in_its_order_whether_its_lines_are_good_or_not(house: House) -> None:
    values = {"timezone": "UTC", "calendar": CALENDAR, "starts_on": "2026-11-16", "address": ""}
    made = [tables.Project.create(name=name, **values).id for name in ("b", "É", "a", "B", "_", "a b", "奥", "b")]
    for kept in (made[:0], made[::3], made, [*made, house.project, house.other_project]):
        for one in kept:
            desk_lines.keep(desk_lines.computed(one, NOW))
        every = desk_lines.open_projects(NOW)
        assert len(every) == 10
        assert every == sorted(every, key=lambda one: (one.nearest or date.max, one.name, one.id))
