"""The guidance under a private link: the same words as for everyone, with the way back to the house."""

import re
from collections.abc import Callable

import pytest
from flask import Flask

from portal.content import pieces
from tests.house import House
from tests.web.signed_in import Desk

Opened = Callable[[str], Desk]
NAMES = [piece.name for folder in ("guide", "care") for piece in pieces(folder)]


@pytest.mark.parametrize("name", NAMES)
def test_each_piece_leads_back_to_the_house_and_on_to_the_others(opened: Opened, name: str) -> None:
    reader = opened("homeowner")
    html = reader.client.get(f"{reader.path}guide/{name}/").get_data(as_text=True)  # one of them shows a program
    assert 'class="plate" href="../../"' in html and "Okafor house" in html
    assert set(re.findall(r'href="(/[^"]*)"', html)) <= {"/check/"}, "it stays below the link"


@pytest.mark.parametrize("way", ["guide/", "guide/checks/"])
def test_so_do_the_list_and_the_checks(opened: Opened, way: str) -> None:
    assert "Okafor house" in opened("homeowner").open(way).says


def test_for_everyone_it_knows_no_house(app: Flask) -> None:
    for name in (*NAMES, "", "checks"):
        html = app.test_client().get(f"/guide/{name}/".replace("//", "/")).get_data(as_text=True)
        assert 'class="plate"' not in html and "browser’s back" not in html


def test_what_there_is_not_is_not_found(app: Flask, house: House) -> None:
    link = house.links["homeowner"]
    assert app.test_client().get(f"/p/{link}/guide/nothing/").status_code == 404
    assert app.test_client().get("/p/wrong/guide/how-to-answer/").status_code == 404


def test_from_the_page_at_the_desk_it_is_the_one_for_everyone(manager: Desk, house: House) -> None:
    manager.open(f"/desk/projects/{house.project}/page/guide/how-to-answer/")
    assert manager.path == "/guide/how-to-answer/"
