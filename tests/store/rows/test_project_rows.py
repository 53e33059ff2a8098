"""Projects are found as callers say them, and come page by page."""

import pytest

from portal.store import tables
from portal.store.finding import said_houses
from portal.store.rows import project_rows
from tests.house import NOW, House
from tests.unguarded import unguard


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
    assert names(said_houses.find(said)) == ["Okafor house"]


@pytest.mark.parametrize("said", ["Okafor Quarry", "lindqvist", "555-0199", "", " ", "?"])
def test_each_word_must_be_found(house: House, said: str) -> None:
    assert said_houses.find(said) == []


def test_a_phone_number_with_a_word_in_it_is_no_phone_number(house: House) -> None:
    assert names(said_houses.find("Ida 0163")) == ["Sorensen bath"] and said_houses.find("Ida 0161") == []


def test_the_projects_own_phone_counts_too(house: House) -> None:
    tables.Project.update(phone="218-555-0177").where(tables.Project.id == house.other_project).execute()
    assert names(said_houses.find("2185550177")) == ["Sorensen bath"]


def test_closed_houses_come_last_and_no_more_than_asked_for(house: House) -> None:
    assert names(said_houses.find("example.org")) == ["Okafor house", "Sorensen bath"]
    tables.Project.update(closed_at=NOW).where(tables.Project.id == house.project).execute()
    assert names(said_houses.find("example.org")) == ["Sorensen bath", "Okafor house"]
    assert names(said_houses.find("example.org", most=1)) == ["Sorensen bath"]


def test_where_nothing_is_found_what_sounds_like_it_is_offered(house: House) -> None:
    assert said_houses.find("Sorrensen") == [] and names(said_houses.near("Sorrensen")) == ["Sorensen bath"]
    assert said_houses.near("Xylophone") == []


def test_a_word_of_any_of_its_people_or_its_street_is_said_with_any_other(house: House) -> None:
    for said in ("Jonas Tamarack", "maren 0162", "lane OKAFOR 14"):
        assert names(said_houses.find(said)) == ["Okafor house"], said
    assert said_houses.find("Jonas Quarry") == [], "one word of each house"


def test_numbers_are_said_with_or_without_their_signs(house: House) -> None:
    for said in ("218-555-0163", "(218) 555-0163", "218.555.0163", "5550163"):
        assert names(said_houses.find(said)) == ["Sorensen bath"], said
    assert names(said_houses.find("555-01")) == ["Okafor house", "Sorensen bath"]


def test_houses_of_one_name_come_as_they_were_added(house: House) -> None:
    values = {"timezone": "UTC", "calendar": {}, "starts_on": "2026-11-16", "address": "5 Alder Row"}
    made = [tables.Project.create(name="Lindqvist porch", **values).id for _ in range(3)]
    tables.Project.update(phone="").where(tables.Project.id == made[0]).execute()
    assert [one.id for one in said_houses.find("Alder")] == made
    assert [one.id for one in said_houses.find("Alder", most=2)] == made[:2]


def test_what_sounds_nearest_comes_first_and_no_more_than_three(house: House) -> None:
    values = {"timezone": "UTC", "calendar": {}, "starts_on": "2026-11-16", "address": "5 Alder Row"}
    for name in ("Sorenson porch", "Sorens garage", "Sorenzen attic"):
        tables.Project.create(name=name, **values)
    found = names(said_houses.near("Sorensan"))
    assert len(found) == 3 and set(found) < {"Sorensen bath", "Sorenson porch", "Sorens garage", "Sorenzen attic"}
    assert names(said_houses.near("Sorensan", most=1)) == found[:1]
    assert names(said_houses.near("Okaford")) == ["Okafor house"]


def test_where_there_is_no_house_there_is_no_usual_timezone(house: House) -> None:
    unguard("phase_hold")
    for table in (tables.Approval, tables.Revision):
        unguard(table._meta.table_name)
        table.delete().execute()
    for row in (tables.QuestionBack, tables.Decision, tables.Phase, tables.Project):
        row.delete().execute()
    assert project_rows.usual_timezone() == "" and project_rows.all_ids() == [] and project_rows.page(0, 9) == ([], 0)


def test_a_page_comes_as_the_projects_were_added(house: House) -> None:
    tables.Project.update(phone="218-555-0177").where(tables.Project.id == house.project).execute()
    assert names(project_rows.page(0, 9)[0]) == ["Okafor house", "Sorensen bath"]
    assert project_rows.all_ids() == [house.project, house.other_project]
