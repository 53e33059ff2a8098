"""The rig: one Chromium and one demo for the session, a new window for each visitor."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, sync_playwright

from tests.browser.demo import running_demo
from tests.browser.own_house import OwnHouse, own_house
from tests.browser.window import CHROMIUM, CHROMIUM_ARGUMENTS, DESK, PHONE, Window, open_window

# How people look at a page: pytest.mark.parametrize(("width", "javascript"), WAYS) or the fixture `way`.
WAYS = [(PHONE, True), (PHONE, False), (DESK, True), (DESK, False)]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    assert CHROMIUM.exists(), "Chromium is missing: bash tests/run brings it (Debian's package chromium)"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=CHROMIUM_ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Any]]:
    """What `portal demo --json` said, while it runs. Tests that change it must not rely on each other's changes."""
    with running_demo(tmp_path_factory.mktemp("demo") / "data") as said:
        yield said


OpenWindow = Callable[..., Window]


@pytest.fixture
def window_onto(chromium: Browser) -> Iterator[OpenWindow]:
    """`window_onto(base, width=PHONE, javascript=True)`: closed after the test, which fails on any of its faults."""
    opened: list[Window] = []

    def open_one(base: str, width: int = PHONE, javascript: bool = True) -> Window:
        opened.append(open_window(chromium, base, width, javascript))
        return opened[-1]

    yield open_one
    for window in opened:
        window.context.close()
    assert [fault for window in opened for fault in window.faults] == []


@pytest.fixture(params=WAYS, ids=["phone", "phone-no-script", "desk", "desk-no-script"])
def way(request: pytest.FixtureRequest) -> tuple[int, bool]:
    """(width, javascript), one after the other."""
    way: tuple[int, bool] = request.param
    return way


@pytest.fixture(params=[(PHONE, False), (DESK, True)], ids=["phone-no-script", "desk"])
def either_way(request: pytest.FixtureRequest) -> tuple[int, bool]:
    """The two ways that differ most, for what is less than a main path."""
    way: tuple[int, bool] = request.param
    return way


@pytest.fixture
def own(demo: dict[str, Any]) -> OwnHouse:
    """A house in the demo that only this test changes."""
    return own_house(demo)


@pytest.fixture(scope="session")
def signed_in() -> dict[str, Any]:
    """The cookies of who has signed in before, by role."""
    return {}


@pytest.fixture
def desk_of(demo: dict[str, Any], window_onto: OpenWindow, signed_in: dict[str, Any]) -> OpenWindow:
    """`desk_of("manager", width, javascript)`: a window of this member of staff, who signs in once for all tests."""

    def sign_in(role: str, width: int = PHONE, javascript: bool = True) -> Window:
        window = window_onto(demo["base"], width, javascript)
        page, account = window.page, next(one for one in demo["sign_in"] if one["role"] == role)
        window.context.add_cookies(signed_in.get(role, []))
        page.goto(demo["desk"])
        if page.get_by_label("Password").count():
            page.get_by_label("E-mail address").fill(account["email"])
            page.get_by_label("Password").fill(account["password"])
            page.get_by_role("button", name="Sign in").click()
        page.get_by_role("heading", name="Find a house").wait_for()
        signed_in[role] = window.context.cookies()
        return window

    return sign_in
