"""The rig itself, on pages of its own: what it is meant to see, it sees."""

import threading
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

from tests.browser.axe import assert_accessible, violations
from tests.browser.conftest import OpenWindow
from tests.browser.demo import running_demo
from tests.browser.window import PHONE, open_window


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *arguments: object) -> None:
        pass


@pytest.fixture(scope="module")
def own_pages() -> Iterator[str]:
    handler = partial(Quiet, directory=str(Path(__file__).parent / "rig"))
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


def test_a_window_has_the_width_and_the_javascript_it_was_asked_for(
    window_onto: OpenWindow, own_pages: str, way: tuple[int, bool]
) -> None:
    width, javascript = way
    page = window_onto(own_pages, width, javascript).page
    page.goto("/")
    assert page.inner_text("#script") == ("Script is on" if javascript else "Script is off")
    assert page.evaluate("window.innerWidth") == width


def test_each_window_has_cookies_of_its_own(window_onto: OpenWindow, own_pages: str) -> None:
    one, other = window_onto(own_pages), window_onto(own_pages)
    one.page.goto("/")
    one.page.evaluate("document.cookie = 'mine=1'")
    other.page.goto("/")
    assert other.page.evaluate("document.cookie") == ""


def test_a_fault_is_seen_and_a_sound_page_passes(chromium: Browser, own_pages: str, way: tuple[int, bool]) -> None:
    window = open_window(chromium, own_pages, *way)
    window.page.goto("/")
    assert_accessible(window)
    assert (window.faults, window.overflow()) == ([], 0)
    window.page.click("a")
    window.page.wait_for_url("**/wrong.html")
    rules = {line.split(":")[0] for line in violations(window)}
    assert {"html-has-lang", "label", "color-contrast"} <= rules
    assert window.overflow() > 0
    assert "request to elsewhere.example.org" in window.faults
    assert ("script error: a fault on purpose" in window.faults) is way[1]
    window.context.close()


def test_paper_is_what_prints(window_onto: OpenWindow, own_pages: str) -> None:
    window = window_onto(own_pages)
    window.page.goto("/")
    sheets = PdfReader(BytesIO(window.paper())).pages
    assert len(sheets) == 1
    assert "Only on paper" in sheets[0].extract_text()
    assert "Script is on" not in sheets[0].extract_text()


def test_shots_are_taken_only_where_a_folder_is_named(
    window_onto: OpenWindow, own_pages: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = window_onto(own_pages, PHONE)
    window.page.goto("/")
    monkeypatch.delenv("PORTAL_SHOTS", raising=False)
    window.shot("page")
    monkeypatch.setenv("PORTAL_SHOTS", str(tmp_path / "shots"))
    window.shot("page")
    assert [path.name for path in (tmp_path / "shots").iterdir()] == ["page.png"]
    assert (tmp_path / "shots/page.png").read_bytes().startswith(b"\x89PNG")


def test_the_demo_is_read_and_stopped(tmp_path: Path) -> None:
    demo = ["/bin/bash", "-c", """echo "{\\"said\\": \\"$*\\"}"; exec sleep 60""", "portal"]
    with running_demo(tmp_path / "data", demo) as said:
        assert said["said"].startswith("demo --json --port ")
        assert said["said"].endswith(f"--data {tmp_path / 'data'}")


def test_a_demo_that_stops_says_why(tmp_path: Path) -> None:
    demo = ["/bin/bash", "-c", "echo no disk left >&2", "portal"]
    with pytest.raises(AssertionError, match="no disk left"), running_demo(tmp_path / "data", demo):
        raise AssertionError("it can not have started")
