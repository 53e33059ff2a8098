"""What is made of all houses between changes: handed out again while it is true, made anew when it may not be."""

from pathlib import Path

import pytest

from portal.acts.crews.crews import add_crew, change_crew
from portal.acts.firm.projects import change_project
from portal.store import tables
from portal.store.between_views import NEVER, BetweenViews
from portal.store.engine.database import open_database, write
from portal.store.engine.opening import open_or_make
from portal.store.reading import desk_lines
from portal.store.reading.crews.week import crews_ahead, crews_between_views
from portal.store.rows.project_rows import stamp
from tests.house import NOW, House

SINCE, UNTIL = NOW - 86400, NOW + 14 * 86400


class Counted:
    """Makes a list of its own each time, good for a minute."""

    def __init__(self, until: int = NOW + 60) -> None:
        self.made, self.until = 0, until

    def __call__(self, now: int, *also: object) -> tuple[list[object], int]:
        self.made += 1
        return [now, *also], self.until


@pytest.mark.parametrize(("later", "made"), [(0, 1), (59, 1), (60, 2), (-1, 2)])
def test_it_is_made_anew_when_its_time_is_over_or_the_clock_went_back(house: House, later: int, made: int) -> None:
    make = Counted()
    views = BetweenViews(make)
    first = views.at(NOW, "a")
    assert (views.at(NOW + later, "a") is first) is (made == 1)
    assert make.made == made


def test_it_is_made_anew_of_something_else(house: House) -> None:
    views = BetweenViews(Counted(NEVER))
    assert views.at(NOW, "a") == [NOW, "a"]
    assert views.at(NOW + 1, "b") == [NOW + 1, "b"]
    assert views.at(NOW + 2, "a") == [NOW + 2, "a"], "one is kept, the last"


def test_it_is_made_anew_after_a_change_of_any_house_and_of_another_database(house: House, tmp_path: Path) -> None:
    views = BetweenViews(Counted(NEVER))
    first = views.at(NOW)
    assert views.at(NOW + 1) is first
    row = tables.Project.get_by_id(house.other_project)
    change_project(house.manager, row.id, row.version, {"name": "Sorensen attic"}, NOW)
    second = views.at(NOW + 2)
    assert second == [NOW + 2]
    tables.Project.create(name="A new one", address="", timezone="UTC", calendar={}, starts_on="2026-11-16")
    assert views.at(NOW + 3) == [NOW + 3]
    open_or_make(str(tmp_path / "other.db"))
    assert views.at(NOW + 4) == [NOW + 4]


def test_a_change_that_is_taken_back_leaves_the_stamp(house: House) -> None:
    before = stamp()
    with pytest.raises(ZeroDivisionError), write():
        tables.Project.update(changed=tables.Project.changed + 1).execute()
        assert stamp() != before
        raise ZeroDivisionError
    assert stamp() == before
    open_database(before[0])
    assert stamp() == before


def test_the_open_houses_are_those_that_are_read_until_a_line_is_no_longer_good(house: House) -> None:
    found = desk_lines.open_between_views(NOW)
    assert found == desk_lines.open_projects(NOW)
    until = min(one.good_until for one in found)
    assert desk_lines.open_between_views(until - 1) is found
    after = desk_lines.open_between_views(until)
    assert after is not found and after == desk_lines.open_projects(until)


def test_the_crews_are_those_that_are_read_until_somebodys_work_ends(house: House) -> None:
    found = crews_between_views(NOW, SINCE, UNTIL)
    assert found.clashes == crews_ahead(NOW, SINCE, UNTIL).clashes
    ends = min(one.ends * 60 for one in found.stretches if one.ends * 60 > NOW)
    until = min(ends, (NOW // 900 + 1) * 900)
    assert crews_between_views(until - 1, SINCE, UNTIL) is found
    assert crews_between_views(until, SINCE, UNTIL) is not found


def test_a_crew_of_the_list_that_is_changed_is_read_anew(house: House) -> None:
    found = crews_between_views(NOW, SINCE, UNTIL)
    crew = add_crew(house.office, {"name": "Stone crew"}, NOW)
    known = crews_between_views(NOW, SINCE, UNTIL)
    assert known is not found and [one.phone for one in known.crews.values()] == [""]
    change_crew(house.office, crew.id, crew.version, {"phone": "218-555-0164"}, NOW)
    assert [one.phone for one in crews_between_views(NOW, SINCE, UNTIL).crews.values()] == ["218-555-0164"]
