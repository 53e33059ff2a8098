"""What reaches the service without a web server in front, and can't be read: a page, and no address in a log."""

import io
import json
import logging
import os
import re
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from http.client import HTTPMessage, HTTPResponse
from pathlib import Path
from types import SimpleNamespace

import pytest
from gunicorn.config import Config
from gunicorn.glogging import Logger

from portal.request.heads import PUBLISHED_POLICY, heads_of
from portal.serving import Worker
from tests.deploy.site import CHECKOUT, free_port

LINK = "a-link-that-is-a-credential"
HOST = b"Host: 127.0.0.1\r\n"


def _listens(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


@dataclass(frozen=True)
class Service:
    port: int
    log: Path

    def send(self, sent: bytes) -> tuple[int, HTTPMessage, str]:
        with socket.create_connection(("127.0.0.1", self.port), timeout=20) as connection:
            connection.sendall(sent)
            response = HTTPResponse(connection)
            response.begin()
            return response.status, response.headers, response.read().decode()


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Service]:
    folder, port = tmp_path_factory.mktemp("service"), free_port()
    settings = {"PORTAL_DATA": str(folder), "PORTAL_BASE_URL": f"http://127.0.0.1:{port}"}
    command = [sys.executable, "-m", "portal.cli", "serve", "--port", str(port), "--workers", "1"]
    log = folder / "log"
    with log.open("w") as said, subprocess.Popen(command, env=os.environ | settings, stderr=said) as server:
        until = time.monotonic() + 60
        while not _listens(port):
            assert server.poll() is None and time.monotonic() < until, log.read_text()
            time.sleep(0.05)
        yield Service(port, log)
        server.terminate()
        server.wait(20)


@pytest.mark.parametrize(
    ("sent", "status", "says"),
    [
        (f"GET /p/{LINK}/?{'x' * 9000} HTTP/1.1\r\n".encode() + HOST + b"\r\n", 414, "This address is too long"),
        (f"GET /p/{LINK}/ HTTP/1.1\r\n".encode() + HOST + b"Cookie: " + b"x" * 9000 + b"\r\n\r\n", 431, "too much"),
        (f"GET /p/{LINK}/ HTTP/1.1\r\n".encode() + HOST + b"X: y\r\n" * 200 + b"\r\n", 431, "too much"),
        (f"GET /p/{LINK}/ and more HTTP/1.1\r\n".encode() + HOST + b"\r\n", 400, "This can’t be read"),
        (f"GET /p/{LINK}/ HTTP/1.1\r\n".encode() + HOST + b"X y: z\r\n\r\n", 400, "This can’t be read"),
        (f"GET /p/{LINK}/ HTTP/1.1\r\n".encode() + HOST + b"X: a\0b\r\n\r\n", 400, "This can’t be read"),
    ],
    ids=["address", "header", "headers", "line", "name", "nul"],
)
def test_what_can_not_be_read_is_refused_on_a_page(service: Service, sent: bytes, status: int, says: str) -> None:
    """RFC 9110, 15.5.1 and 15.5.15; RFC 6585, 5."""
    answered, headers, html = service.send(sent)
    assert (answered, headers["Content-Type"], headers["Cache-Control"]) == (
        status, "text/html; charset=utf-8", "no-store",
    )  # fmt: skip
    for name, value in heads_of("text/html", over_tls=False, policy=PUBLISHED_POLICY).items():
        assert headers.get_all(name) == [value]
    assert says in html and LINK not in html
    assert LINK not in service.log.read_text()


def test_an_address_that_fits_is_answered_by_the_application(service: Service) -> None:
    status, headers, body = service.send(b"GET /api/v1/projects?" + b"x" * 7900 + b" HTTP/1.1\r\n" + HOST + b"\r\n")
    assert (status, headers["Content-Type"]) == (401, "application/problem+json")
    assert json.loads(body)["status"] == 401


def test_what_fails_past_the_application_is_said_on_a_page_and_logged_without_its_address(
    monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PORTAL_BASE_URL", "https://portal.example.com")
    config, ours, theirs = Config(), *socket.socketpair()
    worker, said = Worker(0, 0, [], None, 30, config, Logger(config)), io.StringIO()
    worker.log.error_log.addHandler(logging.StreamHandler(said))
    asked = SimpleNamespace(uri=f"/p/{LINK}/", method="GET")
    threading.Timer(0.1, theirs.shutdown, [socket.SHUT_WR]).start()
    worker.handle_error(asked, ours, ("127.0.0.1", 1), RuntimeError("the roof is leaking"))
    response = HTTPResponse(theirs)
    response.begin()
    assert (response.status, response.headers["Strict-Transport-Security"]) == (500, "max-age=31536000")
    assert "It is not your fault" in response.read().decode()
    assert "the roof is leaking" in said.getvalue() and LINK not in said.getvalue()
    for one in (ours, theirs, worker.tmp):
        one.close()


@pytest.mark.parametrize("status", [400, 413, 414, 429, 431, 500])
def test_each_refusal_is_a_plain_page_and_a_problem(status: int) -> None:
    folder = CHECKOUT / "static" / "refused"
    html = (folder / f"{status}.html").read_text()
    assert re.search(r"<html lang=\"en\">", html) and html.count("<h1>") == 1 and "http" not in html
    problem = json.loads((folder / f"{status}.json").read_text())
    assert problem["status"] == status and problem["title"] and problem["detail"]
