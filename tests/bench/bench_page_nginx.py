"""The page by nginx from deploy/'s own site, against a plain file of the same size by the same nginx.

The plain file has nginx's own defaults: no headers added, no compression looked for, the `combined` log.
"""

import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path
from urllib.parse import urlsplit

from tests.bench.ratios import at_least, closing, in_turn
from tests.browser.demo import running_demo
from tests.deploy.site import free_port, running_site

ROUNDS = 9


def requests_per_second(address: str, *headers: str) -> float:
    wrk = ["wrk", "--threads", "1", "--connections", "8", "--duration", "1s"]
    sent = [f"-H{header}" for header in headers]
    said = subprocess.run([*wrk, *sent, address], capture_output=True, text=True, check=True).stdout
    assert "Non-2xx" not in said and "Socket errors" not in said, said
    rate = re.search(r"Requests/sec: +([\d.]+)", said)
    assert rate, said
    return float(rate[1])


def measures(page: str, plain: str) -> dict[str, Callable[[], float]]:
    return {
        "page": partial(requests_per_second, page),
        "plain": partial(requests_per_second, f"{plain}/plain.html"),
        "page, gzip": partial(requests_per_second, page, "Accept-Encoding: gzip"),
        "plain, as small": partial(requests_per_second, f"{plain}/small.html"),
    }


def publish(data: Path) -> str:
    """The path of a homeowner's page in `data`, published by the demo, which has stopped again."""
    with running_demo(data) as said:
        path = urlsplit(said["pages"][0]).path
    published = data / "site" / path.strip("/")
    shutil.copy(published / "index.html", data / "plain.html")
    shutil.copy(published / "index.html.gz", data / "small.html")
    return path


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        data, run = Path(folder) / "data", Path(folder) / "run"
        run.mkdir()
        path, port = publish(data), free_port()
        plain = f"server {{ listen 127.0.0.1:{port}; root {data}; access_log {run}/plain.log combined; }}"
        with running_site(data, free_port(), run, beside=plain) as site:
            rates = in_turn(ROUNDS, measures(site.base + path, f"http://127.0.0.1:{port}"))
    return closing(
        [
            at_least("page by nginx / plain file", rates["page"] / rates["plain"], 0.95),
            at_least("page by nginx, gzip / plain file", rates["page, gzip"] / rates["plain, as small"], 0.95),
        ]
    )


if __name__ == "__main__":
    sys.exit(main())
