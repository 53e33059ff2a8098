"""The median of three runs for each screen, on Lighthouse's phone: performance, accessibility, best practices.

Exits 1 where one is below 100, and names the audits that cost it.
"""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from statistics import median
from threading import Thread
from typing import Any

from playwright.sync_api import sync_playwright

from tests.browser.demo import running_demo
from tests.browser.window import CHROMIUM, CHROMIUM_ARGUMENTS, PHONE, open_window

PROGRAM = Path(__file__).parent / "node_modules/.bin/lighthouse"
KINDS = ("performance", "accessibility", "best-practices")
RUNS = 3
NAME = "Maren Okafor"


def main() -> int:
    with (
        tempfile.TemporaryDirectory() as folder,
        running_demo(Path(folder) / "data") as demo,
        screens(demo, Path(folder)) as found,
    ):
        perfect = [_is_perfect(name, address) for name, address in found.items()]
    return 0 if all(perfect) else 1


@contextmanager
def screens(demo: dict[str, Any], folder: Path) -> Iterator[dict[str, str]]:
    """Addresses by name. The second step is the answer to a form, so its HTML is served from a folder."""
    home = demo["pages"][0]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=CHROMIUM_ARGUMENTS)
        page = open_window(browser, demo["base"], PHONE).page
        page.goto(f"{home}decisions/1/")
        page.get_by_role("radio").first.check()
        page.locator("button[formaction=choose]").click()
        page.get_by_role("textbox").first.fill(NAME)
        served = folder / "served"
        served.mkdir()
        (served / "review.html").write_text(page.content(), encoding="utf-8")
        page.get_by_role("button", name="Approve").first.click()
        page.wait_for_url("**/record/**")
        receipt = page.url
        browser.close()
    with _serving(served) as base:
        yield {
            "page": home, "decision": f"{home}decisions/5/", "review": f"{base}/review.html", "receipt": receipt,
        }  # fmt: skip


@contextmanager
def _serving(folder: Path) -> Iterator[str]:
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder)))
    Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        pass


def _is_perfect(name: str, address: str) -> bool:
    reports = [_report(address) for _ in range(RUNS)]
    scores = {kind: round(100 * median(one["categories"][kind]["score"] for one in reports)) for kind in KINDS}
    print(f"{name}: " + ", ".join(f"{kind} {score}" for kind, score in scores.items()), flush=True)
    for audit in sorted({audit for one in reports for audit in _failed(one)}):
        print(f"    {audit}")
    return set(scores.values()) == {100}


def _report(address: str) -> dict[str, Any]:
    flags = " ".join(["--headless", *CHROMIUM_ARGUMENTS])
    said = subprocess.run(
        [PROGRAM, address, "--quiet", f"--chrome-flags={flags}", f"--only-categories={','.join(KINDS)}",
         "--output=json"],
        env=os.environ | {"CHROME_PATH": str(CHROMIUM)}, capture_output=True, timeout=180, check=True,
    )  # fmt: skip
    found: dict[str, Any] = json.loads(said.stdout)
    return found


def _failed(report: dict[str, Any]) -> Iterator[str]:
    for kind in KINDS:
        for one in report["categories"][kind]["auditRefs"]:
            audit = report["audits"][one["id"]]
            if one["weight"] and audit["score"] not in (1, None):
                yield f"{kind}: {audit['id']} {audit.get('displayValue', '')}".rstrip()


if __name__ == "__main__":
    sys.exit(main())
