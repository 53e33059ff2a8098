"""The invented house in a PostgreSQL database: what tests ask for elsewhere on SQLite, they are given here on this."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

import pytest
from freezegun import freeze_time

from portal.store.engine.database import close_database, open_database, stop_listening, write
from portal.store.engine.migrate import migrate
from tests.house import NOW, House, fill_house
from tests.postgresql.again import Again
from tests.postgresql.server import Server, running_server
from tests.served import ApiClient, bearer_for, serve_house

_HERE = Path(__file__).parent
_numbers = count(1)


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> pytest.Collector | None:
    return Again.from_parent(parent, path=file_path) if file_path == _HERE / "again.py" else None


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """What asks no server for anything is tried elsewhere."""
    same = [item for item in items if any(isinstance(one, Again) for one in item.iter_parents()) and not _asks(item)]
    config.hook.pytest_deselected(items=same)
    gone = set(same)
    items[:] = [item for item in items if item not in gone]


def _asks(item: pytest.Item) -> bool:
    """Whether any fixture of this test leads to the server."""
    return "server" in getattr(item, "fixturenames", ())


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    with running_server() as server:
        yield server


@pytest.fixture(scope="session")
def built_house(server: Server) -> House:
    """The database `house`, from which the others are copied: that takes a thirtieth of a second."""
    open_database(server.make("house"))
    migrate()
    with write():
        house = fill_house()
    close_database()
    return house


@pytest.fixture
def empty(server: Server) -> Iterator[str]:
    """The URL of an empty database."""
    name = f"empty{next(_numbers)}"
    yield server.make(name)
    close_database()
    server.drop(name)


@pytest.fixture
def url(server: Server, built_house: House) -> Iterator[str]:
    """The URL of a database with the invented house in it."""
    name = f"house{next(_numbers)}"
    yield server.make(name, "house")
    stop_listening()
    close_database()
    server.drop(name)


@pytest.fixture
def house(url: str, built_house: House) -> House:
    open_database(url)
    return built_house


@pytest.fixture
def sending_as(house: House, url: str, tmp_path: Path) -> Iterator[Callable[[str | None], ApiClient]]:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        client = serve_house(tmp_path, url).test_client()
        yield lambda who: ApiClient(client, bearer_for(house, who))


@pytest.fixture
def manager(sending_as: Callable[[str | None], ApiClient]) -> ApiClient:
    return sending_as("manager")


@pytest.fixture
def office(sending_as: Callable[[str | None], ApiClient]) -> ApiClient:
    return sending_as("office")


@pytest.fixture
def homeowner(sending_as: Callable[[str | None], ApiClient]) -> ApiClient:
    return sending_as("homeowner")
