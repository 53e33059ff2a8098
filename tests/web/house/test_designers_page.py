"""A designer is offered what a designer can do, and nothing that would be refused."""

from urllib.parse import urljoin

import pytest
from flask import Flask

from portal import signing
from portal.store.tables import Link, Person
from tests.drawn import ask_pulls
from tests.house import NOW, SECRET, House
from tests.web.signed_in import Desk


@pytest.fixture
def link(house: House) -> str:
    row = Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    made = signing.link_for(SECRET, "salt of a designer")
    Link.create(person=row, salt="salt of a designer", digest=signing.digest(made), made_at=NOW)
    ask_pulls(house)
    return f"/p/{made}/"


def test_each_way_of_a_designers_page_opens_and_none_answers_for_the_household(app: Flask, link: str) -> None:
    reader = Desk(app).open(link)
    assert "Choose" not in reader.says
    ways = {urljoin(link, way).partition("#")[0] for way in reader.ways}
    for way in sorted(one for one in ways if one.startswith(link) and "/photos/" not in one):
        with app.test_client().get(way) as answer:
            assert answer.status_code in (200, 405), way  # 405: where its form goes
    for number in (1, 6):
        reader.open(f"{link}decisions/{number}/")
        assert not [one for one in reader.page.iter() if one.tag.endswith("form")], "no button that approves or asks"
    assert "propose" in reader.ways


def test_where_somebody_of_the_household_reads_it_too_the_rows_are_there(app: Flask, house: House, link: str) -> None:
    assert "crew/" not in Desk(app).open(link).ways
    Person.update(may_approve=False).where(Person.id == house.co_owner.id).execute()
    app.extensions["portal"].publisher.publish(house.project)
    assert {"crew/", "visits/"} <= Desk(app).open(link).ways
