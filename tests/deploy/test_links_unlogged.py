"""A private link in any place where it can be mistyped or handed on: no log of nginx and none of the service holds as
much as eight characters of it. The real nginx before the real service, past nginx, and while one of them fails."""

import contextlib
import socket
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.browser.demo import running_demo
from tests.deploy.site import RunningSite, free_port, running_site

PATHS = (
    "/c/{}/", "/c/{}", "/c/{}/visits.ics",
    "/p/{}/", "/p/{}", "//p/{}/", "/P/{}/", "/p//{}/", "/p/{}%2f..", "/p%2f{}", "/%70/{}/", "/%70%2F{}", "/x/../p/{}",
    "/./p/{}/", "/p/./{}/", "/p/{}/../{}/", "/{}", "/{}/", "/p{}", "/p/{}.html", "/p/{}/decisions/99/", "/p/{}/?a={}",
    "/p/?{}", "/p?{}", "/?link={}", "/desk/?q={}", "/desk/{}/", "/desk/projects/7/page/{}", "/check/?code={}",
    "/guide/{}/", "/static/{}.css", "/problems/{}", "/api/v1/projects/{}", "/api/v1/{}/p/{}", "/p/{}/photos/{}.jpg",
    "/p/{}/sheet.pdf?paper={}", "/metrics?{}", "/up?{}", "/p/{}%00", "/p/{}%", "/p/{}/record/record.json", "/p;{}/{}",
    "http://127.0.0.1/p/{}/", "http://127.0.0.1/{}", "http://{}.example.com/p/{}/", "*{}", "{}", "p/{}/",
)  # fmt: skip
"""As they stand in a request line."""
LINES = (
    b"GET /p/%s/ HTTP/1.1\r\n\r\n", b"GET /p/%s/\r\n\r\n", b"GET /p/%s/ and more HTTP/1.1\r\nHost: a\r\n\r\n",
    b"GET /p/%s/ HTTP/9.1\r\nHost: a\r\n\r\n", b"/p/%s/ GET HTTP/1.1\r\n\r\n", b"%s /p/%s/ HTTP/1.1\r\nHost: a\r\n\r\n",
    b"GET / HTTP/1.1\r\nHost: %s\r\n\r\n", b"GET / HTTP/1.1\r\nHost: a\r\n%s: b\r\n\r\n",
    b"GET / HTTP/1.1\r\nHost: a\r\nX: %s\0\r\n\r\n", b"GET /p/%s/?" + b"x" * 9000 + b" HTTP/1.1\r\nHost: a\r\n\r\n",
    b"GET /p/%s/ HTTP/1.1\r\nHost: a\r\nCookie: portal=%s\r\nX-Request-Id: %s\r\n\r\n",
    b"TRACE /p/%s/ HTTP/1.1\r\nHost: a\r\n\r\n", b"CONNECT %s:443 HTTP/1.1\r\nHost: a\r\n\r\n",
    b"POST /p/%s/ HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: odd\r\n\r\n",
    b"POST /p/%s/ HTTP/1.1\r\nHost: a\r\nContent-Length: 100000000\r\n\r\n",
    b"POST /p/%s/ HTTP/1.1\r\nHost: a\r\nContent-Length: 50\r\n\r\ncut off",
    b"GET / HTTP/1.1\r\nHost: a\r\nUser-Agent: %s\r\nForwarded: %s\r\nX-Forwarded-For: %s\r\n\r\n",
    b"GET /api/v1/projects HTTP/1.1\r\nHost: a\r\nAuthorization: Bearer %s\r\nIdempotency-Key: %s\r\n\r\n",
)  # fmt: skip


@dataclass(frozen=True)
class Installed:
    site: RunningSite
    service_port: int
    link: str
    data: Path
    log: Path


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Installed]:
    folder = tmp_path_factory.mktemp("installed")
    with running_demo(folder / "data") as demo:
        port, link = urlsplit(demo["base"]).port, demo["pages"][0].rstrip("/").rpartition("/")[2]
        (folder / "run").mkdir()
        with running_site(folder / "data", port, folder / "run") as site:
            yield Installed(site, port, link, folder / "data", folder / "demo.log")


def send(port: int, lines: bytes) -> None:
    """What comes back does not matter. Who waits for more than was sent sees the end of it after a while."""
    with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), timeout=0.3) as connection:
        connection.sendall(lines)
        with contextlib.suppress(TimeoutError):
            while connection.recv(65536):
                pass
        connection.shutdown(socket.SHUT_WR)
        while connection.recv(65536):
            pass


def send_all(port: int, link: str) -> None:
    for method in ("GET", "POST"):
        for path in PATHS:
            line = f"{method} {path.replace('{}', link)} HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n"
            send(port, f"{line}Referer: http://127.0.0.1/p/{link}/\r\n\r\n".encode())
    for lines in LINES:
        lines = lines.replace(b"%s", link.encode()).replace(b" HTTP/1.1\r\n", b" HTTP/1.1\r\nConnection: close\r\n")
        send(port, lines)


def held(link: str, logs: dict[str, str]) -> list[str]:
    """The lines that hold eight characters of the link."""
    parts = [link[at:at + 8] for at in range(len(link) - 7)]
    return [f"{name}: {line}" for name, text in logs.items() for line in text.splitlines()
            if any(part in line for part in parts)]  # fmt: skip


def test_through_nginx_and_past_it(installed: Installed) -> None:
    for port in (installed.site.port, installed.site.plain_port, installed.service_port):
        send_all(port, installed.link)
    logs = installed.site.logs()
    assert '"GET /p/-" 200' in logs["portal.log"] and '"GET /desk"' in logs["portal.log"]
    assert held(installed.link, logs | {"service": installed.log.read_text()}) == []


@pytest.mark.parametrize(("connections", "status"), [(6, 500), (1024, 503)])
def test_while_connections_run_out_and_while_the_service_is_down(
    installed: Installed, tmp_path: Path, connections: int, status: int
) -> None:
    with running_site(installed.data, free_port(), tmp_path, connections=connections) as site:
        waiting = [socket.create_connection(("127.0.0.1", site.port), timeout=5) for _ in range(2)]
        for one in waiting:  # nginx would close one that has said nothing yet
            one.sendall(b"GET / HTTP/1.1\r\n")
        send_all(site.port, installed.link)
        logs = site.logs()
        for one in waiting:
            one.close()
    assert f'" {status} ' in logs["portal.log"]
    assert held(installed.link, logs) == []


def test_while_the_database_fails(installed: Installed) -> None:
    """The last one: it breaks what the others need."""
    with sqlite3.connect(installed.data / "portal.db") as database:
        database.execute("ALTER TABLE visit RENAME TO gone")
    for path in ("", "record/", "decisions/1/", "visits.ics", "plan/", "sheet.pdf"):
        send(installed.service_port, f"GET /p/{installed.link}/{path} HTTP/1.1\r\nHost: a\r\n\r\n".encode())
        send(installed.site.port, f"GET /p/{installed.link}/{path} HTTP/1.1\r\nHost: a\r\n\r\n".encode())
    said = installed.log.read_text()
    assert "no such table" in said or "OperationalError" in said
    assert held(installed.link, {"service": said} | installed.site.logs()) == []
