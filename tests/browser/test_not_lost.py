"""Nothing typed at the desk is lost: the line is cut, the server killed, the session ended, the form refused later."""

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import Any
from urllib.request import urlopen

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenWindow
from tests.browser.line import Line, line_to
from tests.browser.own_house import OwnHouse
from tests.deploy.site import free_port

AWAY = "No network just now"
OLD_WORKER = """
self.addEventListener("install", (event) => event.waitUntil(caches.open("pages").then((kept) => kept.add("/desk/"))));
self.addEventListener("fetch", (event) => event.respondWith(
  caches.match("/desk/").then((page) => page || fetch(event.request))));
"""
"""Of a version that kept pages, and gives them in place of new ones."""

Opened = Callable[..., Page]


@pytest.fixture
def line(demo: dict[str, Any]) -> Iterator[Line]:
    with line_to(demo["base"]) as line:
        yield line


@pytest.fixture
def opened(line: Line, demo: dict[str, Any], window_onto: OpenWindow) -> Opened:
    """A phone of a member of staff who is signed in, behind the line, with its worker at work."""

    def open_one(role: str = "manager", page: Page | None = None) -> Page:
        page = page or window_onto(line.base).page
        account = next(one for one in demo["sign_in"] if one["role"] == role)
        page.goto("/desk/sign-in")
        page.get_by_label("E-mail address").fill(account["email"])
        page.get_by_label("Password").fill(account["password"])
        page.get_by_role("button", name="Sign in").click()
        page.locator(".desk-ways").wait_for()
        page.evaluate("navigator.serviceWorker.ready.then(() => 1)")
        return page

    return open_one


def photo() -> dict[str, Any]:
    data = BytesIO()
    Image.effect_noise((900, 700), 90).convert("RGB").save(data, "JPEG", quality=95)
    return {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": data.getvalue()}


def write_update(page: Page, own: OwnHouse, text: str, photos: list[dict[str, Any]] | None = None) -> None:
    page.goto(f"/desk/projects/{own.project}/updates/new")
    page.locator("textarea[name=text]").fill(text)
    if photos:
        page.locator("input[type=file]").set_input_files(photos)  # type: ignore[arg-type]


def press(page: Page) -> None:
    page.locator(".foot .go").click(no_wait_after=True)


def updates(own: OwnHouse) -> list[tuple[str, int]]:
    return [(one["text"], len(one["photos"])) for one in own.send("GET", "/updates")]


def waits(page: Page) -> list[str]:
    found: list[str] = page.evaluate("Waiting.all().then((all) => all.map((one) => one.state))")
    return found


def nothing_waits(page: Page) -> None:
    """What was answered is dropped by the page that answers, a moment after it stands."""
    for _ in range(50):
        if not waits(page):
            return
        page.wait_for_timeout(100)
    assert waits(page) == []


def became(page: Page, state: str) -> None:
    expect(page.locator(f"#waiting li [data-state={state}]")).to_be_visible(timeout=15_000)


def lie(page: Page, hours: int) -> None:
    """As if the phone had lain without a network for so long: what waits was pressed that much earlier."""
    page.evaluate("""(seconds) => new Promise((done) => {
      indexedDB.open("desk").onsuccess = ({ target: { result: base } }) => {
        const turn = base.transaction("forms", "readwrite"), forms = turn.objectStore("forms");
        forms.getAll().onsuccess = ({ target: { result: all } }) => {
          for (const one of all) {
            one.fields = one.fields.map(([name, text]) => [name, name === "pressed_at" ? `${text - seconds}` : text]);
            forms.put(one);
          }
        };
        turn.oncomplete = () => done(base.close());
      };
    })""", hours * 3600)


def test_a_line_cut_in_the_middle_of_an_upload(own: OwnHouse, line: Line, opened: Opened) -> None:
    page = opened()
    write_update(page, own, "The top is in", [photo()])
    line.cut_after = 50_000
    press(page)
    page.get_by_role("heading", name=AWAY).wait_for()
    expect(page.get_by_text("kept here, with its photos")).to_be_visible()
    expect(page.get_by_role("listitem")).to_contain_text("Post an update")
    assert updates(own) == []
    line.cut_after = None
    page.goto("/desk/")  # still dead: the worker's sentence, and no page that was kept
    page.get_by_role("heading", name=AWAY).wait_for()
    lie(page, hours=3)
    line.dead = False
    page.get_by_role("link", name="Try again").click()
    became(page, "sent")
    assert updates(own) == [("The top is in", 1)]
    at = datetime.fromisoformat(own.send("GET", "/updates")[0]["at"]).timestamp()
    assert 3 * 3600 - 60 < time.time() - at < 3 * 3600 + 60, "it happened when it was pressed"
    nothing_waits(page)


def test_an_answer_that_was_lost_and_what_is_pressed_without_a_network(
    own: OwnHouse, line: Line, opened: Opened
) -> None:
    page = opened()
    write_update(page, own, "Done once")
    line.loses_answers = True
    press(page)
    page.get_by_role("heading", name=AWAY).wait_for()
    line.dead = line.loses_answers = False
    page.get_by_role("link", name="Try again").click()
    became(page, "sent")
    assert updates(own) == [("Done once", 0)]

    page.goto(f"/desk/projects/{own.project}/")
    page.context.set_offline(True)
    shots = page.locator("form.shot")
    for number in (0, 1):  # from one page, with the same words
        shots.nth(number).locator("input[type=file]").set_input_files([photo()])  # type: ignore[list-item]
        shots.nth(number).locator("button").click(no_wait_after=True)
        expect(page.locator("#waiting-many")).to_have_text(str(number + 1))
        expect(shots.nth(number).get_by_text(("Photo for the page", "Gallery")[number])).to_be_visible()  # for the next
        expect(page.locator("#waiting canvas")).to_have_count(number + 1)
    page.context.set_offline(False)
    expect(page.locator("#waiting li [data-state=sent]:visible")).to_have_count(2)
    assert [photos for _, photos in updates(own)] == [1, 1, 0]


def test_a_refusal_waits_with_its_reason_and_opens_with_what_was_typed(
    own: OwnHouse, line: Line, opened: Opened
) -> None:
    held = own.add_phase("Drill the holes")
    own.ask(holds=[held])
    page = opened()
    page.goto(f"/desk/projects/{own.project}/phases/{held}/start")
    page.get_by_label("When it started").fill("2026-01-02T09:30")
    line.dead = True
    press(page)
    page.get_by_role("heading", name=AWAY).wait_for()
    line.dead = False
    page.goto("/desk/")
    waiting = page.locator("#waiting")
    became(page, "refused")
    expect(waiting).to_contain_text("held until decision 1 is approved")
    page.reload()
    became(page, "refused")
    waiting.get_by_role("link", name="Open the form").click()
    expect(page.get_by_label("When it started")).to_have_value("2026-01-02T09:30")
    expect(page.get_by_role("main").get_by_role("alert")).to_contain_text("held until decision 1 is approved")
    assert own.send("GET", f"/phases/{held}")["started_at"] is None
    expect(waiting).to_be_hidden()
    nothing_waits(page)


def end_session(page: Page) -> None:
    """From another browser that holds the same cookie."""
    browser = page.context.browser
    assert browser is not None
    other = browser.new_context(storage_state=page.context.storage_state())
    base = page.url.partition("/desk")[0]
    mark = re.findall(r'name="mark" value="([^"]+)"', other.request.get(f"{base}/desk/account/").text())[0]
    other.request.post(f"{base}/desk/sign-out", form={"mark": mark})
    other.close()


def test_a_session_that_ended_and_signing_out(
    own: OwnHouse, line: Line, opened: Opened, demo: dict[str, Any]
) -> None:
    page = opened()
    write_update(page, own, "Beside the form", [photo()])
    end_session(page)
    press(page)
    page.get_by_label("Password").fill(demo["sign_in"][0]["password"])
    expect(page.get_by_text("The photos are kept, too")).to_be_visible()
    page.get_by_role("button", name="Sign in and go on").click()
    page.locator(".desk-ways").wait_for()
    assert updates(own) == [("Beside the form", 1)]
    nothing_waits(page)

    write_update(page, own, "Mine alone")
    line.dead = True
    press(page)
    page.get_by_role("heading", name=AWAY).wait_for()
    line.dead = False
    page.context.clear_cookies()
    opened("office", page)
    expect(page.locator("#waiting")).to_contain_text("Something of somebody else waits here")
    page.get_by_role("button", name="Sign out").click()
    page.get_by_role("heading", name="Sign in").wait_for()
    assert page.evaluate("indexedDB.databases().then((all) => all.length)") == 0, "emptied at sign-out"
    assert page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
    assert len(updates(own)) == 1, "and nobody has sent what was another's"


def test_who_signs_out_is_told_what_would_be_dropped(own: OwnHouse, line: Line, opened: Opened) -> None:
    page = opened()
    write_update(page, own, "Not yet")
    page.context.set_offline(True)
    press(page)
    expect(page.locator("#waiting-many")).to_have_text("1")
    page.get_by_role("button", name="Sign out").click()
    expect(page.locator("#waiting-leave")).to_be_visible()
    assert waits(page) == ["waiting"]


def test_a_worker_of_a_former_version_is_replaced(line: Line, opened: Opened) -> None:
    line.worker = OLD_WORKER
    page = opened()
    page.reload()
    assert page.evaluate("caches.keys()") == ["pages"]
    line.worker = ""
    page.goto("/desk/account/")
    page.evaluate("navigator.serviceWorker.getRegistration('/desk/').then((one) => one.update())")
    for _ in range(50):
        if page.evaluate("caches.keys()") == []:
            break
        page.wait_for_timeout(100)
    assert page.evaluate("caches.keys()") == []
    page.goto("/desk/account/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Your account")


def test_a_photo_of_80_mb_is_left_out_with_a_sentence_and_a_large_one_made_small(
    own: OwnHouse, line: Line, opened: Opened, tmp_path: Path
) -> None:
    page = opened()
    write_update(page, own, "Two good ones")
    good, large, none = tmp_path / "good.jpg", tmp_path / "large.png", tmp_path / "huge.jpg"
    good.write_bytes(photo()["buffer"])
    Image.effect_noise((1300, 1000), 120).convert("RGB").save(large)
    with none.open("wb") as file:
        file.truncate(80 * 1024 * 1024)
    assert large.stat().st_size > 1024 * 1024
    page.locator("input[type=file]").set_input_files([good, large, none])
    expect(page.get_by_role("alert")).to_contain_text("huge.jpg: larger than 20 MB")
    chosen = page.locator("input[type=file]")
    sizes = chosen.evaluate("(field) => [...field.files].map((one) => [one.name, one.size])")
    assert [name for name, _ in sizes] == ["good.jpg", "large.jpg"] and sizes[1][1] < large.stat().st_size
    press(page)
    page.wait_for_url(re.compile(r"projects/\d+/$"))
    assert updates(own) == [("Two good ones", 2)]


@contextmanager
def served(data: Path, port: int) -> Iterator[subprocess.Popen[bytes]]:
    """The service on the demo's data, as a process that can be killed."""
    portal = Path(sys.executable).parent / "portal"
    settings = os.environ | {"PORTAL_DATA": str(data), "PORTAL_BASE_URL": f"http://127.0.0.1:{port}"}
    process = subprocess.Popen(
        [portal, "serve", "--port", str(port), "--workers", "1"], env=settings, stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL, start_new_session=True,
    )
    try:
        for _ in range(200):
            try:
                urlopen(f"http://127.0.0.1:{port}/guide/", timeout=5).close()
                break
            except OSError:
                time.sleep(0.1)
        yield process
    finally:
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()


def test_the_server_is_killed_and_started_again(
    own: OwnHouse, line: Line, opened: Opened, tmp_path_factory: pytest.TempPathFactory
) -> None:
    data, port = tmp_path_factory.getbasetemp() / "demo0/data", free_port()
    target = line.target
    line.target = f"127.0.0.1:{port}"
    with served(data, port) as process:
        page = opened()
        write_update(page, own, "Through the crash", [photo()])
        os.killpg(process.pid, signal.SIGKILL)
        press(page)
        page.get_by_role("heading", name=AWAY).wait_for()
    line.target = target  # up again, on the same data
    page.get_by_role("link", name="Try again").click()
    became(page, "sent")
    assert updates(own) == [("Through the crash", 1)]
