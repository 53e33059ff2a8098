"""What every test may ask for: a fresh copy of the invented house, and its people."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import freezegun
import pytest
from hypothesis import HealthCheck, is_hypothesis_test, settings
from markdown import Markdown

from portal.store.engine.database import close_database, is_writing, stop_listening
from portal.store.engine.tallies import close_tallies
from tests.demo_house import DemoHouse, demo_house
from tests.house import House, make_house
from tests.in_memory import lie_in_memory
from tests.together import Together

# A machine is noisy, and in a fresh checkout the first text takes Hypothesis seconds: no example is timed.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")


# Of each module, freezegun looks at all names whenever a clock is stopped: these, half of all, ask for no time of ours.
freezegun.configure(extend_ignore_list=["scipy", "networkx", "openpyxl", "numpy", "schemathesis", "playwright"])


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Together:
    return Together(config, log)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--examples", type=int, help="run only the properties, each with so many examples")


def pytest_configure(config: pytest.Config) -> None:
    folder = lie_in_memory()
    if folder:
        config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """A test says how many examples are enough for every day; `bash tests/long examples` asks for more."""
    wanted = config.getoption("--examples")
    if not wanted:
        return
    properties = [item for item in items if is_hypothesis_test(getattr(item, "obj", None))]
    config.hook.pytest_deselected(items=[item for item in items if item not in properties])
    items[:] = properties
    for item in properties:
        test = item.obj  # type: ignore[attr-defined]
        own = test._hypothesis_internal_use_settings
        test._hypothesis_internal_use_settings = settings(own, max_examples=wanted, deadline=None)


@pytest.fixture(scope="session", autouse=True)
def texts_become_html_before_a_turn() -> Iterator[None]:
    """Whatever a test does: a text that becomes HTML while others wait for their turn to write fails it."""
    convert = Markdown.convert

    def watched(self: Markdown, source: str) -> str:
        assert not is_writing(), "a text became HTML within write(): all others wait for it"
        return convert(self, source)

    Markdown.convert = watched  # type: ignore[method-assign]
    yield
    Markdown.convert = convert  # type: ignore[method-assign]


@pytest.fixture(autouse=True)
def nobody_listens() -> Iterator[None]:
    """No publisher of one test writes into the database of the next, and no try of it counts there."""
    yield
    stop_listening()
    close_tallies()


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    """The invented house in a database of its own."""
    yield make_house(tmp_path / "portal.db")
    close_database()


@pytest.fixture
def demo(tmp_path: Path) -> Iterator[DemoHouse]:
    """The demo's project in a database of its own."""
    yield demo_house(tmp_path / "demo")
    close_database()
