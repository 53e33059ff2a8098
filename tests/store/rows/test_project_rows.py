"""Projects are found as callers say them, and come page by page."""

import pytest

from portal.store import tables
from portal.store.rows import project_rows
from tests.house import NOW, House


def names(found: list[tables.Project]) -> list[str]:
    return [one.name for one in found]


def test_a_page_counts_all_of_them(house: House) -> None:
    found, count = project_rows.page(1, 5)
    assert (names(found), count) == (["Sorensen bath"], 2)
    assert project_rows.page(2, 5) == ([], 2) and names(project_rows.page(0, 1)[0]) == ["Okafor house"]


def test_a_plan_to_copy_is_of_a_project_with_phases_the_newest_first(house: House) -> None:
    assert names(project_rows.with_phases()) == ["Okafor house"]
    tables.Phase.create(project=house.other_project, name="Tile", work_low=1, work_likely=1, work_high=1)
    assert names(project_rows.with_phases()) == ["Sorensen bath", "Okafor house"]


def test_all_are_known_by_id(house: House) -> None:
    assert project_rows.all_ids() == [house.project, house.other_project]


def test_the_usual_timezone_is_that_of_the_newest_project(house: House) -> None:
    tables.Project.update(timezone="America/Denver").where(tables.Project.id == house.other_project).execute()
    assert project_rows.usual_timezone() == "America/Denver"


@pytest.mark.parametrize(
    "said", ["okafor", "Tamarack", "14 tamarack", "Jonas", "maren@example.org", "555-0161", "0162"]
)
def test_a_house_is_found_by_what_is_said_of_it(house: House, said: str) -> None:
    assert names(project_rows.find(said)) == ["Okafor house"]


@pytest.mark.parametrize("said", ["Okafor Quarry", "lindqvist", "555-0199", "", " ", "?"])
def test_each_word_must_be_found(house: House, said: str) -> None:
    assert project_rows.find(said) == []


def test_a_phone_number_with_a_word_in_it_is_no_phone_number(house: House) -> None:
    assert names(project_rows.find("Ida 0163")) == ["Sorensen bath"] and project_rows.find("Ida 0161") == []


def test_the_projects_own_phone_counts_too(house: House) -> None:
    tables.Project.update(phone="218-555-0177").where(tables.Project.id == house.other_project).execute()
    assert names(project_rows.find("2185550177")) == ["Sorensen bath"]


def test_closed_houses_come_last_and_no_more_than_asked_for(house: House) -> None:
    assert names(project_rows.find("example.org")) == ["Okafor house", "Sorensen bath"]
    tables.Project.update(closed_at=NOW).where(tables.Project.id == house.project).execute()
    assert names(project_rows.find("example.org")) == ["Sorensen bath", "Okafor house"]
    assert names(project_rows.find("example.org", most=1)) == ["Sorensen bath"]


def test_where_nothing_is_found_what_sounds_like_it_is_offered(house: House) -> None:
    assert project_rows.find("Sorrensen") == [] and names(project_rows.near("Sorrensen")) == ["Sorensen bath"]
    assert project_rows.near("Xylophone") == []
