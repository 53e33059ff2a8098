"""The desk over the invented house, as each of its people; the clock stands at NOW."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from flask import Flask
from freezegun import freeze_time

from tests.house import NOW, House
from tests.served import serve_house
from tests.web.signed_in import Desk

Signing = Callable[[str], Desk]


@pytest.fixture
def app(house: House, tmp_path: Path) -> Iterator[Flask]:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        yield serve_house(tmp_path)


@pytest.fixture
def opened(app: Flask, house: House) -> Callable[[str], Desk]:
    """`opened("homeowner")`: a browser that has opened this person's private link."""
    return lambda who: Desk(app).open(f"/p/{house.links[who]}/")


@pytest.fixture
def stranger(app: Flask) -> Desk:
    return Desk(app)


@pytest.fixture
def manager(app: Flask) -> Desk:
    return Desk(app).sign_in("dana")


@pytest.fixture
def office(app: Flask) -> Desk:
    return Desk(app).sign_in("lou")
