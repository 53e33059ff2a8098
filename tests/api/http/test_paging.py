"""Pages of a list, joined by links (RFC 8288)."""

import re
from typing import Any

import pytest
from flask import Flask
from marshmallow import ValidationError

from portal.api.http.paging import PageQuery, offset, pages, reads_on

LINK = re.compile(r'<([^>]*)>; rel="(\w+)"')


def sent(view: Any, query: dict[str, Any]) -> tuple[Any, dict[str, str], str]:
    """The rows, the links by their relation, and the Total-Count."""
    with Flask("test").test_request_context("/api/v1/projects/7/rooms"):
        rows, status, headers = view(query, project_id=7)
    assert status == 200
    return rows, {rel: address for address, rel in LINK.findall(headers["Link"])}, headers["Total-Count"]


def page(number: int, total: int, per_page: int = 10) -> dict[str, str]:
    @pages
    def view(query: dict[str, Any], project_id: int) -> tuple[list[int], int]:
        assert project_id == 7
        return [query["page"]], total

    rows, links, count = sent(view, {"page": number, "per_page": per_page})
    assert (rows, count) == ([number], str(total))
    assert all(address.startswith("/api/v1/projects/7/rooms?") for address in links.values())
    return {rel: re.search(r"page=(\d+)", address)[1] for rel, address in links.items()}  # type: ignore[index]


def test_the_first_page_has_none_before_it_and_the_last_none_behind() -> None:
    assert page(1, 35) == {"first": "1", "next": "2", "last": "4"}
    assert page(2, 35) == {"first": "1", "prev": "1", "next": "3", "last": "4"}
    assert page(4, 35) == {"first": "1", "prev": "3", "last": "4"}


@pytest.mark.parametrize(("total", "last"), [(0, "1"), (1, "1"), (10, "1"), (11, "2"), (20, "2"), (21, "3")])
def test_the_last_page_is_as_full_as_there_is_to_show(total: int, last: str) -> None:
    assert page(1, total)["last"] == last


def test_behind_the_last_page_there_is_a_way_back() -> None:
    assert page(5, 35) == {"first": "1", "prev": "4", "last": "4"}
    assert page(9, 35) == {"first": "1", "last": "4"}


def test_a_link_keeps_the_size_of_the_page() -> None:
    @pages
    def view(query: dict[str, Any], project_id: int) -> tuple[list[int], int]:
        return [], 35

    _, links, _ = sent(view, {"page": 1, "per_page": 20})
    assert links["next"] == "/api/v1/projects/7/rooms?page=2&per_page=20"


def test_a_list_that_only_grows_is_read_on_from_the_last_that_was_shown() -> None:
    @reads_on
    def view(query: dict[str, Any], project_id: int) -> tuple[str, int, int]:
        return "entries", query["after"] + 2, 5

    body, links, total = sent(view, {"after": 1, "limit": 2})
    assert (body, total) == ("entries", "5")
    assert links == {
        "first": "/api/v1/projects/7/rooms?after=0&limit=2", "next": "/api/v1/projects/7/rooms?after=3&limit=2"
    }  # fmt: skip
    _, links, _ = sent(view, {"after": 3, "limit": 2})
    assert set(links) == {"first"}


def test_a_page_is_counted_from_one() -> None:
    assert [offset({"page": number, "per_page": 50}) for number in (1, 2, 5)] == [0, 50, 200]
    assert PageQuery().load({}) == {"page": 1, "per_page": 50}


@pytest.mark.parametrize(
    "wrong", [{"page": 0}, {"page": 1_000_001}, {"per_page": 0}, {"per_page": 201}, {"sort": "name"}]
)
def test_a_page_that_can_not_be_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(ValidationError) as refused:
        PageQuery().load(wrong)
    assert set(refused.value.normalized_messages()) == set(wrong)
    assert PageQuery().load({"page": 1_000_000, "per_page": 200})
