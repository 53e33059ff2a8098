"""The page by nginx from deploy/'s own site, against a plain file of the same size by the same nginx.

The plain file has nginx's own defaults: no headers added, no compression looked for, the `combined` log.
"""

import gzip
import random
import re
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path

from tests.bench.ratios import at_least, closing, in_turn
from tests.deploy.published import LINK, lay_out_page
from tests.deploy.site import free_port, running_site

ROUNDS = 9
PAGE_BYTES = 24_000  # what a page with its styles weighs


def page() -> bytes:
    """Text that compresses about as much as a page does: a few hundred words, over and over."""
    dice = random.Random(2)
    words = ["".join(dice.choices("aeionrst", k=dice.randint(2, 9))) for _ in range(400)]
    text = " ".join(dice.choices(words, k=PAGE_BYTES // 5))
    return f"<!doctype html><title>Elm Street</title><main><h1>Elm Street</h1><p>{text}".encode()[:PAGE_BYTES]


def requests_per_second(address: str, *headers: str) -> float:
    wrk = ["wrk", "--threads", "1", "--connections", "8", "--duration", "1s"]
    sent = [f"-H{header}" for header in headers]
    said = subprocess.run([*wrk, *sent, address], capture_output=True, text=True, check=True).stdout
    assert "Non-2xx" not in said and "Socket errors" not in said, said
    rate = re.search(r"Requests/sec: +([\d.]+)", said)
    assert rate, said
    return float(rate[1])


def measures(site: str, plain: str) -> dict[str, Callable[[], float]]:
    return {
        "page": partial(requests_per_second, f"{site}/p/{LINK}/"),
        "plain": partial(requests_per_second, f"{plain}/plain.html"),
        "page, gzip": partial(requests_per_second, f"{site}/p/{LINK}/", "Accept-Encoding: gzip"),
        "plain, size of the gzip": partial(requests_per_second, f"{plain}/small.html"),
    }


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        data, run = Path(folder) / "data", Path(folder) / "run"
        run.mkdir()
        lay_out_page(data, page())
        (data / "plain.html").write_bytes(page())
        (data / "small.html").write_bytes(gzip.compress(page(), 9, mtime=0))
        port = free_port()
        plain = f"server {{ listen 127.0.0.1:{port}; root {data}; access_log {run}/plain.log combined; }}"
        with running_site(data, free_port(), run, beside=plain) as site:
            rates = in_turn(ROUNDS, measures(site.base, f"http://127.0.0.1:{port}"))
    return closing(
        [
            at_least("page by nginx / plain file", rates["page"] / rates["plain"], 0.95),
            at_least("page by nginx, gzip / plain file", rates["page, gzip"] / rates["plain, size of the gzip"], 0.95),
        ]
    )


if __name__ == "__main__":
    sys.exit(main())
