"""The pictures of README.md: `bash tests/pictures` starts the demo at MOMENT and looks at it as its people do."""

import io
import json
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

import pypdfium2
from PIL import Image
from playwright.sync_api import Browser, Page, ViewportSize, sync_playwright

from tests.browser.demo import running_demo
from tests.browser.window import CHROMIUM, CHROMIUM_ARGUMENTS, PHONE
from tests.deploy.site import CHECKOUT
from tests.moments import HOUSE, at_moment

MOMENT = datetime(2026, 12, 2, 7, 10, tzinfo=HOUSE)  # a Wednesday, before the crew comes
PICTURES = CHECKOUT / "static/pictures"
DESK = 700  # as wide as what stands on a page of the desk, and a little paper around it
_HEIGHTS = {PHONE: 1000, DESK: 1000}
_SCALES = {PHONE: 1.5, DESK: 1.25}  # pixels for one of the page: sharp enough, and small files
_GAP, _BETWEEN = 30, (224, 219, 208)
_PAPER_DPI = 110
_COLOURS = 64  # enough for words and lines, in a third of the bytes


def make_pictures(browser: Browser, demo: dict[str, Any], folder: Path) -> None:
    """Write page.png, desk.png and sheet.png."""
    home = demo["pages"][0]
    phone, desk = window(browser, PHONE), window(browser, DESK)
    needs = "h2:has-text('What we need from you')"
    shots = [look(phone, home), look(phone, home, needs), look(phone, f"{home}decisions/1/", "figure")]
    keep(folder / "page.png", beside(shots))
    sign_in(desk, demo)
    house = f"{demo['desk']}projects/{demo['project']}/"
    keep(folder / "desk.png", beside([look(desk, demo["desk"]), look(desk, house)]))
    approve(demo)
    sheet = phone.request.get(f"{home}decisions/1/sheet.pdf").body()
    keep(folder / "sheet.png", pypdfium2.PdfDocument(sheet)[0].render(scale=_PAPER_DPI / 72).to_pil())


def window(browser: Browser, width: int) -> Page:
    size = ViewportSize(width=width, height=_HEIGHTS[width])
    return browser.new_context(viewport=size, device_scale_factor=_SCALES[width], locale="en-US").new_page()


def approve(demo: dict[str, Any]) -> None:
    """As the first homeowner: a sheet that is not approved says so across the page."""
    address = f"{demo['base']}/api/v1/projects/{demo['project']}/decisions/1"
    headers = {"Authorization": f"Bearer {demo['pages'][0].split('/')[-2]}", "Content-Type": "application/json"}
    with urlopen(Request(address, headers=headers), timeout=30) as answer:
        shown = json.load(answer)
    option = next(one["key"] for one in shown["options"] if one["recommended"])
    approval = {"revision": shown["revision"], "option": option, "name": "Maren Okafor"}
    urlopen(Request(f"{address}/approvals", json.dumps(approval).encode(), headers), timeout=30).close()


def sign_in(page: Page, demo: dict[str, Any]) -> None:
    account = demo["sign_in"][0]
    page.goto(demo["desk"])
    page.get_by_label("E-mail address").fill(account["email"])
    page.get_by_label("Password").fill(account["password"])
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_load_state()


def look(page: Page, address: str, at: str = "") -> Image.Image:
    """What the window shows of the page, scrolled to the first thing that `at` selects."""
    page.goto(address)
    if at:
        page.locator(at).first.evaluate("thing => window.scrollTo(0, thing.getBoundingClientRect().top - 24)")
    return Image.open(io.BytesIO(page.screenshot()))


def beside(pictures: list[Image.Image]) -> Image.Image:
    width = sum(one.width for one in pictures) + _GAP * (len(pictures) - 1)
    whole, x = Image.new("RGB", (width, pictures[0].height), _BETWEEN), 0
    for one in pictures:
        whole.paste(one, (x, 0))
        x += one.width + _GAP
    return whole


def keep(path: Path, picture: Image.Image) -> None:
    picture.convert("RGB").quantize(_COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)
    print(f"{path}: {picture.width} x {picture.height}, {path.stat().st_size // 1024} KB")


def main() -> None:
    clock = [f"{name}={value}" for name, value in at_moment(MOMENT, datetime.now(UTC)).items()]
    portal = ["env", *clock, str(Path(sys.executable).with_name("portal"))]
    with tempfile.TemporaryDirectory() as data, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=CHROMIUM_ARGUMENTS)
        with running_demo(Path(data) / "demo", portal, port=8080) as demo:
            make_pictures(browser, demo, PICTURES)
        browser.close()


if __name__ == "__main__":
    main()
