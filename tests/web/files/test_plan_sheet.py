"""The plan on one sheet, under the private link and at the desk."""

from collections.abc import Callable

from tests.house import House
from tests.web.signed_in import Desk

Opened = Callable[[str], Desk]


def test_the_page_leads_to_it_and_it_leads_back(opened: Opened) -> None:
    reader = opened("homeowner")
    assert "plan/" in reader.ways
    reader.open("plan/")
    assert "The plan on one sheet" in reader.says and "../" in reader.ways


def test_it_changes_nothing_and_a_wrong_link_finds_nothing(opened: Opened, house: House, stranger: Desk) -> None:
    reader = opened("homeowner")
    assert reader.client.post(f"/p/{house.links['homeowner']}/plan/").status_code == 405
    assert stranger.client.get("/p/not-a-link/plan/").status_code == 404


def test_the_desk_shows_the_same(opened: Opened, manager: Desk, house: House) -> None:
    theirs = opened("homeowner").open("plan/")
    ours = manager.open(f"/desk/projects/{house.project}/chart/")
    assert theirs.answer and ours.answer and theirs.answer.data == ours.answer.data
    manager.open("../")
    assert manager.path == f"/desk/projects/{house.project}/"


def test_the_link_of_the_page_works_at_the_desk_too(office: Desk, house: House) -> None:
    office.open(f"/desk/projects/{house.project}/page/plan/")
    assert "The plan on one sheet" in office.says
