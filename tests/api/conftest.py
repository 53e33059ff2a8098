"""The API over the invented house, as each of its people."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from freezegun import freeze_time

from tests.house import NOW, House
from tests.served import ApiClient, bearer_for, serve_house

As = Callable[[str | None], ApiClient]


@pytest.fixture
def sending_as(house: House, tmp_path: Path) -> Iterator[As]:
    """`sending_as("manager")` is a client of the manager's; the clock stands at NOW."""
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        client = serve_house(tmp_path).test_client()
        yield lambda who: ApiClient(client, bearer_for(house, who))


@pytest.fixture
def manager(sending_as: As) -> ApiClient:
    return sending_as("manager")


@pytest.fixture
def office(sending_as: As) -> ApiClient:
    return sending_as("office")


@pytest.fixture
def homeowner(sending_as: As) -> ApiClient:
    return sending_as("homeowner")


@pytest.fixture
def co_owner(sending_as: As) -> ApiClient:
    return sending_as("co_owner")
