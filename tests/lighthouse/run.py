"""The median of three runs for each screen, on Lighthouse's phone: performance, accessibility, best practices.

Exits 1 where one is below 100, and names the audits that cost it. Names of screens as arguments: only those.
Performance is that of the machine, too: Lighthouse's own measure of it is told, and below SLOW nothing follows from a
lower figure.
"""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from typing import Any

from playwright.sync_api import Browser, sync_playwright

from tests.browser.demo import running_demo
from tests.browser.pictures import sign_in
from tests.browser.window import CHROMIUM, CHROMIUM_ARGUMENTS, DESK, PHONE, open_window

PROGRAM = Path(__file__).parent / "node_modules/.bin/lighthouse"
KINDS = ("performance", "accessibility", "best-practices")
RUNS = 3
SLOW = 1000
"""Lighthouse's own bound for its benchmark index, under which it warns of a slow machine (from memory)."""
NAME = "Maren Okafor"


@dataclass(frozen=True)
class Screen:
    """Where it is; `cookie`: the session of whoever is signed in at the desk."""

    name: str
    address: str
    cookie: str = ""


def main(only: list[str]) -> int:
    with tempfile.TemporaryDirectory() as folder, running_demo(Path(folder) / "data") as demo:
        asked = [one for one in screens(demo) if not only or one.name in only]
        perfect = [_is_perfect(one) for one in asked]
    return 0 if perfect and all(perfect) else 1


def screens(demo: dict[str, Any]) -> list[Screen]:
    """Of the household, who have approved one question; then of the desk."""
    home, house = demo["pages"][0], f"{demo['desk']}projects/{demo['project']}/"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=CHROMIUM_ARGUMENTS)
        receipt, cookie = _approved(browser, demo), _signed_in(browser, demo)
        browser.close()
    return [
        Screen("page", home), Screen("decision", f"{home}decisions/1/"),
        Screen("review", f"{home}decisions/1/review?revision=1&option=a"), Screen("receipt", receipt),
        Screen("today", demo["desk"], cookie), Screen("house", house, cookie),
    ]  # fmt: skip


def _approved(browser: Browser, demo: dict[str, Any]) -> str:
    """Where the receipt is that follows the answer about the grout."""
    page = open_window(browser, demo["base"], PHONE).page
    page.goto(f"{demo['pages'][0]}decisions/2/")
    page.get_by_role("radio").first.check()
    page.get_by_role("button", name="look once more").click()
    page.get_by_label("type your full name").fill(NAME)
    page.get_by_role("button", name="Approve").first.click()
    page.wait_for_url("**/record/**")
    return page.url


def _signed_in(browser: Browser, demo: dict[str, Any]) -> str:
    """The head by which the desk knows its manager: Lighthouse begins each run in a browser that knows nothing."""
    window = open_window(browser, demo["base"], DESK)
    sign_in(window.page, demo)
    window.page.get_by_role("heading", name="Find a house").wait_for()
    return "; ".join(f"{one['name']}={one['value']}" for one in window.context.cookies())


def _is_perfect(screen: Screen) -> bool:
    reports = [_report(screen) for _ in range(RUNS)]
    scores = {kind: round(100 * median(one["categories"][kind]["score"] for one in reports)) for kind in KINDS}
    machine = round(min(one["environment"]["benchmarkIndex"] for one in reports))
    told = ", ".join(f"{kind} {score}" for kind, score in scores.items())
    print(f"{screen.name}: {told} ({'slow ' if machine < SLOW else ''}machine {machine})", flush=True)
    for audit in sorted({audit for one in reports for audit in _failed(one)}):
        print(f"    {audit}")
    return set(scores.values()) == {100}


def _report(screen: Screen) -> dict[str, Any]:
    flags = " ".join(["--headless", *CHROMIUM_ARGUMENTS])
    heads = [f"--extra-headers={json.dumps({'Cookie': screen.cookie})}"] if screen.cookie else []
    said = subprocess.run(
        [PROGRAM, screen.address, "--quiet", f"--chrome-flags={flags}", f"--only-categories={','.join(KINDS)}",
         "--output=json", *heads],
        env=os.environ | {"CHROME_PATH": str(CHROMIUM)}, capture_output=True, timeout=180, check=True,
    )  # fmt: skip
    found: dict[str, Any] = json.loads(said.stdout)
    assert found["finalDisplayedUrl"] == screen.address, f"{screen.name} led to {found['finalDisplayedUrl']}"
    return found


def _failed(report: dict[str, Any]) -> Iterator[str]:
    for kind in KINDS:
        for one in report["categories"][kind]["auditRefs"]:
            audit = report["audits"][one["id"]]
            if one["weight"] and audit["score"] not in (1, None):
                yield f"{kind}: {audit['id']} {audit.get('displayValue', '')}".rstrip()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
