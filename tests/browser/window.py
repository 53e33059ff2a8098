"""A person's browser window: their own cookies, a phone's or a desk's width, with or without JavaScript."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from re import Pattern
from urllib.parse import urlsplit

from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Error, Page, Request, expect

CHROMIUM = Path("/usr/bin/chromium")
# As root in a container there is no sandbox; the rest keeps Chromium from asking anyone but the page under test.
CHROMIUM_ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
PHONE, DESK = 390, 1280
HEIGHTS = {PHONE: 844, DESK: 800}


@dataclass
class Window:
    """`page` is Playwright's; `faults` collects what no page of ours may do: script errors, requests elsewhere, what
    the policy forbids."""

    context: BrowserContext
    page: Page
    javascript: bool
    faults: list[str] = field(default_factory=list)

    def shot(self, name: str) -> None:
        """Saves the whole page as NAME.png under $PORTAL_SHOTS, if that is set."""
        folder = os.environ.get("PORTAL_SHOTS")
        if folder:
            Path(folder).mkdir(parents=True, exist_ok=True)
            self.page.screenshot(path=Path(folder) / f"{name}.png", full_page=True)

    def paper(self, paper: str = "Letter") -> bytes:
        """The page as it prints, as PDF."""
        return self.page.pdf(format=paper)

    @contextmanager
    def scripting(self) -> Iterator[None]:
        """Lets the rig's own script run in a window without JavaScript; the page stays as it was loaded."""
        if self.javascript:
            yield
            return
        session = self.context.new_cdp_session(self.page)
        # A new session believes that scripts are on, and tells Chromium only of a change.
        for disabled in (True, False):
            session.send("Emulation.setScriptExecutionDisabled", {"value": disabled})
        yield
        session.send("Emulation.setScriptExecutionDisabled", {"value": True})

    def press(self, button: str) -> None:
        """Presses it and waits for the page that answers: the desk's script keeps a form first, so that the old page
        still stands for a moment after the click."""
        with self.page.expect_navigation():
            self.page.get_by_role("button", name=button).click()

    def overflow(self) -> int:
        """How many pixels the page is wider than the window: more than 0 means scrolling sideways."""
        wider: int = self.page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        return wider


def open_window(browser: Browser, base: str, width: int = PHONE, javascript: bool = True) -> Window:
    """A new window onto `base`; relative addresses (`page.goto("/guide/")`) are below it."""
    context = browser.new_context(
        base_url=base, viewport={"width": width, "height": HEIGHTS.get(width, 800)},
        java_script_enabled=javascript, locale="en-US", has_touch=width <= PHONE,
    )  # fmt: skip
    context.set_default_timeout(10_000)
    window = Window(context, context.new_page(), javascript)

    def note_request(request: Request) -> None:
        address = urlsplit(request.url)
        if address.scheme in ("http", "https") and address.netloc != urlsplit(base).netloc:
            window.faults.append(f"request to {address.netloc}")

    def note_console(message: ConsoleMessage) -> None:
        if "Content Security Policy" in message.text:
            window.faults.append(f"against the policy, on {message.page and message.page.url}: {message.text}")

    context.on("request", note_request)
    context.on("console", note_console)
    context.on("weberror", lambda error: window.faults.append(f"script error: {error.error}"))
    return window


def step_back(page: Page, leaving: str | Pattern[str] = "") -> None:
    """The browser's back button, once the page with the heading `leaving` stands, where the last click led to one."""
    if leaving:
        expect(page.get_by_role("heading", level=1)).to_have_text(leaving)
    page.wait_for_load_state()
    try:
        page.go_back()
    except Error as error:
        # Chromium may still be swapping the old page's process for the new one's, and then has no history to tell.
        if "Not attached to an active page" not in error.message:
            raise
        page.wait_for_timeout(500)
        page.go_back()
