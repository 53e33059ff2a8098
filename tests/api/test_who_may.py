"""Closed by default, and proved: every route of the API, as each person and as nobody."""

import re
from collections.abc import Iterator

import pytest
from flask import Flask

from portal.api.access import ROLES
from tests.api.conftest import As
from tests.house import House
from tests.served import refused

PEOPLE = (None, "homeowner", "co_owner", "other_homeowner", "manager", "office")
OPEN = {"api-docs.openapi_json"}


def routes(app: Flask) -> Iterator[tuple[str, str, str]]:
    for rule in app.url_map.iter_rules():
        if rule.rule.startswith("/api/") and rule.endpoint not in OPEN:
            for method in sorted((rule.methods or set()) - {"HEAD", "OPTIONS"}):
                yield rule.endpoint, method, rule.rule.removeprefix("/api/v1/")


@pytest.mark.parametrize("who", PEOPLE)
def test_every_route_lets_in_whom_the_table_names(sending_as: As, house: House, who: str | None) -> None:
    client = sending_as(who)
    walked = 0
    for endpoint, method, rule in routes(client.client.application):
        path = re.sub(r"<int:project_id>", str(house.project), rule)
        path = re.sub(r"<int:\w+>", "1", path)
        response = client.send(method, path, json={} if method in ("POST", "PATCH") else None)
        told = f"{who}: {method} {path} -> {response.status_code}"
        if who is None:
            assert response.status_code == 401, told
        elif who == "other_homeowner" and "<int:project_id>" in rule:
            assert response.status_code == 404, told
        elif (who if who in ("manager", "office") else "homeowner") not in ROLES[endpoint]:
            assert response.status_code == 403, told
        else:
            assert response.status_code not in (401, 403, 500), told
        if response.status_code >= 400:
            refused(response, response.status_code)
        walked += 1
    assert walked >= len(ROLES)


def test_every_route_is_in_the_table_and_the_table_names_no_other(sending_as: As) -> None:
    assert {endpoint for endpoint, _, _ in routes(sending_as(None).client.application)} == set(ROLES)


def test_a_wrong_token_is_nobody(sending_as: As) -> None:
    client = sending_as(None)
    client.bearer = "not a token"
    assert refused(client.get("projects"), 401)["type"] == "/problems/not-signed-in"


def test_what_is_read_of_a_house_that_is_not_there_is_not_there(sending_as: As, house: House) -> None:
    """It must not pass for a house in which there is nothing yet."""
    client = sending_as("manager")
    read = [rule for _, method, rule in routes(client.client.application) if method == "GET" and "project_id" in rule]
    assert len(read) > 30
    for rule in read:
        path = re.sub(r"<int:\w+>", "1", rule.replace("<int:project_id>", "9999"))
        path += "?first=0&second=0" if path.endswith("/consistency") else ""
        assert refused(client.get(path), 404)["detail"] == "There is no such project here.", path


def test_a_missing_project_is_not_told_apart_from_a_strange_one(sending_as: As, house: House) -> None:
    client = sending_as("other_homeowner")
    strange = refused(client.get(f"projects/{house.project}/rooms"), 404)
    missing = refused(client.get("projects/9999/rooms"), 404)
    assert strange["detail"] == missing["detail"]
