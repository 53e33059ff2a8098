"""The crew as one more kind of visitor: with the links that it has, every address of the service but its own is closed,
as it is to a stranger."""

from datetime import date

import pytest
from flask import Flask

from portal.acts.crews.crew_links import make_crew_link
from portal.acts.crews.crews import add_crew
from tests.house import NOW, SECRET, House
from tests.web.test_who_may import ids

FOR_ANYBODY = {"desk.sign_in", "desk.worker", "desk.standing"}
"""At the desk: the door, its service worker, and whether one is signed in."""
OPEN_TO_ALL = ("public.", "check.", "up.", "stop_mail.", "Docs.", "api-docs.")


@pytest.mark.parametrize("day", [date(2026, 12, 3), None], ids=["of a day", "of the calendar"])
def test_its_link_opens_nothing_but_its_own(app: Flask, house: House, day: date | None) -> None:
    """Put in each place of an address where a link can stand, and sent as a token of the API."""
    crew = add_crew(house.office, {"name": "Stone crew"}, NOW).id
    link = make_crew_link(house.office, crew, day=day, secret=SECRET, now=NOW)
    client, routes = app.test_client(), app.url_map.bind("localhost")
    given = {"link": link, "number": 1, "house_id": house.project, "crew_id": crew} | ids(house)
    opened, tried = set(), 0
    for rule in app.url_map.iter_rules():
        if rule.endpoint.startswith(OPEN_TO_ALL):
            continue
        values = {one: given.get(one, 1 if f"int:{one}" in rule.rule else "x") for one in rule.arguments}
        for method in {"GET", "POST", "DELETE"} & (rule.methods or set()):
            address = routes.build(rule.endpoint, values)
            answer = client.open(address, method=method, headers={"Authorization": f"Bearer {link}"})
            tried += 1
            if answer.status_code < 300:
                opened.add(rule.endpoint)
    mine = {"crew.day"} if day else {"crew.visits"}
    assert opened <= mine | FOR_ANYBODY and mine <= opened
    assert tried > 150
