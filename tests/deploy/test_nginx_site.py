"""What deploy/nginx.conf promises: pages are files, the service may be down, links stay out of the logs."""

import gzip
import json
import socket
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from email.message import Message
from http.client import HTTPConnection, HTTPResponse
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from portal.api.http.problems import _PLAIN
from tests.deploy.published import LINK, lay_out_page
from tests.deploy.site import RunningSite, free_port, running_site

PAGE = b"<!doctype html><title>Elm Street</title><h1>Elm Street</h1>" + b"<p>Tile today.</p>" * 300
PHOTO = b"\xff\xd8\xff" + bytes(range(256)) * 40


class Service(BaseHTTPRequestHandler):
    """Stands in for the service: says what reached it."""

    def answer(self) -> None:
        size = len(self.rfile.read(int(self.headers.get("Content-Length", 0))))
        busy = self.path == "/busy"
        caller = f"{self.headers['Host']} {self.headers['X-Forwarded-For']}"
        body = f"service {self.command} {self.path} {size} {caller}"
        self.send_response(503 if busy else 200)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body.encode())

    do_GET = do_POST = do_PUT = answer  # noqa: N815 - the names that http.server calls

    def log_message(self, format: str, *arguments: object) -> None:
        pass


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    data = tmp_path_factory.mktemp("data")
    photos = lay_out_page(data, PAGE.decode()) / "photos"
    photos.mkdir()
    (photos / "sink-900.jpg").write_bytes(PHOTO)
    (data / "portal.db").write_text("not for anyone")
    return data


@pytest.fixture(scope="module")
def up(data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[RunningSite]:
    with ThreadingHTTPServer(("127.0.0.1", 0), Service) as service:
        thread = threading.Thread(target=service.serve_forever)
        thread.start()
        with running_site(data, service.server_port, tmp_path_factory.mktemp("up")) as site:
            yield site
        service.shutdown()
        thread.join()


@pytest.fixture(scope="module")
def down(data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[RunningSite]:
    with running_site(data, free_port(), tmp_path_factory.mktemp("down")) as site:
        yield site


@dataclass(frozen=True)
class Answer:
    status: int
    headers: Message
    body: bytes


def ask(
    site: RunningSite, path: str, method: str = "GET", sent: bytes | None = None, **headers: str
) -> Answer:
    connection = HTTPConnection("127.0.0.1", site.port, timeout=20)
    try:
        connection.request(method, path, sent, {name.replace("_", "-"): headers[name] for name in headers})
        response = connection.getresponse()
        return Answer(response.status, response.headers, response.read())
    finally:
        connection.close()


@pytest.mark.parametrize("running", ["up", "down"])
def test_a_page_is_the_file_byte_for_byte_with_the_service_up_or_down(
    running: str, request: pytest.FixtureRequest
) -> None:
    response = ask(request.getfixturevalue(running), f"/p/{LINK}/")
    assert (response.status, response.body) == (200, PAGE)
    assert response.headers["Content-Type"] == "text/html; charset=utf-8"


def test_check_codes_can_not_be_tried_in_a_hurry(up: RunningSite) -> None:
    """One a second from an address and twenty at once: no crew is kept waiting, and nobody finds a code by trying."""
    statuses = [ask(up, f"/check/?code={number:012x}").status for number in range(40)]
    assert statuses[:20] == [200] * 20 and 429 in statuses[20:]
    assert ask(up, "/guide/").status == 200


def test_a_page_keeps_its_link_to_itself(up: RunningSite) -> None:
    headers = ask(up, f"/p/{LINK}/").headers
    assert headers.get_all("Cache-Control") == ["private, no-cache"]
    assert headers.get_all("Referrer-Policy") == ["no-referrer"]
    assert headers.get_all("X-Robots-Tag") == ["noindex, nofollow"]
    assert headers.get_all("X-Content-Type-Options") == ["nosniff"]


def test_the_compressed_page_is_the_one_that_the_publisher_wrote(up: RunningSite, data: Path) -> None:
    response = ask(up, f"/p/{LINK}/", Accept_Encoding="gzip")
    assert response.headers["Content-Encoding"] == "gzip"
    assert response.headers["Vary"] == "Accept-Encoding"
    assert response.body == (data / "site/pages/1/index.html.gz").read_bytes()
    assert gzip.decompress(response.body) == PAGE


@pytest.mark.parametrize("encoding", ["identity", "gzip"])
def test_an_unchanged_page_answers_304_to_its_etag(up: RunningSite, encoding: str) -> None:
    """RFC 9110, 13.1.2 and 15.4.5: the same validator again, and no content."""
    etag = ask(up, f"/p/{LINK}/", Accept_Encoding=encoding).headers["ETag"]
    again = ask(up, f"/p/{LINK}/", Accept_Encoding=encoding, If_None_Match=etag)
    assert (again.status, again.body) == (304, b"")
    assert again.headers["ETag"] == etag


def test_two_pages_of_one_second_and_one_size_have_different_etags(up: RunningSite, data: Path) -> None:
    """A browser must not take the later one for the earlier (RFC 9110, 8.8.1: a validator changes with the content)."""
    etags = set()
    for answer in ("yes", "no.", "one"):
        lay_out_page(data, answer, "third-link", project_id=3)
        etags.add(ask(up, "/p/third-link/").headers["ETag"])
    assert len(etags) == 3


def test_a_photo_is_a_file_too(down: RunningSite) -> None:
    response = ask(down, f"/p/{LINK}/photos/sink-900.jpg")
    assert (response.status, response.body) == (200, PHOTO)
    assert response.headers["Content-Type"] == "image/jpeg"
    assert response.headers.get_all("Cache-Control") == ["private, no-cache"]


def test_a_page_renamed_into_place_shows_at_once_and_a_revoked_link_shows_nothing(up: RunningSite, data: Path) -> None:
    for number in range(20):
        page = f"<!doctype html><title>Oak Street {number:02}</title>"
        folder = lay_out_page(data, page, "another-link", project_id=2)
        for encoding in ("identity", "gzip"):
            body = ask(up, "/p/another-link/", Accept_Encoding=encoding).body
            assert (gzip.decompress(body) if encoding == "gzip" else body).decode() == page
    (data / "site/p/another-link").unlink()
    assert ask(up, "/p/another-link/").body.startswith(b"service GET /p/another-link/ ")
    assert (folder / "index.html").exists()


def test_a_link_without_its_slash_is_led_to_the_page(down: RunningSite) -> None:
    answer = ask(down, f"/p/{LINK}")
    assert (answer.status, answer.headers["Location"]) == (301, f"/p/{LINK}/")


@pytest.mark.parametrize(
    "path",
    ["/", "/guide/", "/desk", "/api/v1/projects", "/p/nobodys-link/", f"/p/{LINK}/record/", f"/p/{LINK}/decisions/3/",
     f"/p/{LINK}/photos/none.jpg", f"/p/{LINK}/photos/", "/pages/1/index.html"],
)  # fmt: skip
def test_what_is_no_published_file_the_service_answers(up: RunningSite, path: str) -> None:
    response = ask(up, path)
    assert response.body == f"service GET {path} 0 127.0.0.1:{up.port} 127.0.0.1".encode()


@pytest.mark.parametrize("path", [f"/p/{LINK}/", f"/p/{LINK}/decisions/3/", "/desk/updates"])
def test_a_form_reaches_the_service_whole(up: RunningSite, path: str) -> None:
    answer = ask(up, path, "POST", b"option=two&name=Ada").body
    assert answer.startswith(f"service POST {path} 19 ".encode())


def test_a_form_with_a_photo_of_20_mb_passes(up: RunningSite) -> None:
    size = 20 * 1024 * 1024 + 4096
    answer = ask(up, "/desk/updates", "POST", bytes(size)).body
    assert answer.startswith(f"service POST /desk/updates {size} ".encode())


@pytest.mark.parametrize(
    "path", ["/p/../../portal.db", f"/p/{LINK}/photos/../../../../portal.db", "/static/../portal.db"]
)
def test_no_path_leads_out_of_the_published_files(up: RunningSite, path: str) -> None:
    assert b"not for anyone" not in ask(up, path).body


@pytest.mark.parametrize("method", ["GET", "POST"])
@pytest.mark.parametrize("path", ["/", "/desk", f"/p/{LINK}/decisions/3/", "/p/nobodys-link/", f"/c/{LINK}/visits.ics"])
def test_while_the_service_is_down_a_page_says_what_to_do(down: RunningSite, path: str, method: str) -> None:
    response = ask(down, path, method, b"option=two" if method == "POST" else None)
    assert response.status == 503
    assert "We can’t take answers right now" in response.body.decode()
    assert response.headers["Cache-Control"] == "no-store"
    assert response.headers["Retry-After"] == "120"


def test_the_services_own_503_is_not_covered_up(up: RunningSite) -> None:
    assert ask(up, "/busy").body.startswith(b"service GET /busy")


def test_the_page_for_a_service_that_is_down_has_no_address_of_its_own(up: RunningSite) -> None:
    assert ask(up, "/static/down.html").status == 404


def test_no_link_is_written_to_a_log(up: RunningSite, down: RunningSite) -> None:
    for site in (up, down):
        for path in (f"/p/{LINK}/", f"/p/{LINK}/decisions/3/", f"/%70/{LINK}/", f"//p/{LINK}/", "/desk"):
            ask(site, path, Referer=f"http://127.0.0.1/p/{LINK}/")
        log = site.log()
        assert '"GET /p/-" 200' in log
        assert LINK not in log
    assert '"GET /desk" 200' in up.log()


def raw(site: RunningSite, sent: bytes) -> Answer:
    """Bytes as they are, for what no client would send."""
    with socket.create_connection(("127.0.0.1", site.port), timeout=20) as connection:
        connection.sendall(sent)
        response = HTTPResponse(connection)
        response.begin()
        return Answer(response.status, response.headers, response.read())


LONG = b"x" * 9000
TOO_MUCH = {
    400: b"GET %s HTTP/1.1\r\n\r\n",  # without a host: RFC 9112, 3.2
    413: b"POST %s HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 100000000\r\n\r\n",
    414: b"GET %s?" + LONG + b" HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n",
    431: b"GET %s HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: " + LONG + b"\r\n\r\n",  # RFC 6585, 5
}


@pytest.mark.parametrize("running", ["up", "down"])
@pytest.mark.parametrize("status", TOO_MUCH)
def test_the_api_is_told_as_a_problem_what_the_site_refuses(
    running: str, status: int, request: pytest.FixtureRequest
) -> None:
    """RFC 9457: problem details, with the status that stands in the answer itself."""
    answer = raw(request.getfixturevalue(running), TOO_MUCH[status] % b"/api/v1/projects")
    assert (answer.status, answer.headers["Content-Type"]) == (status, "application/problem+json")
    problem = json.loads(answer.body)
    assert (problem["status"], problem["type"]) == (status, "about:blank")
    assert problem["detail"] == _PLAIN.get(status, problem["detail"])  # that of the service, where it says it, too
    assert answer.headers.get_all("Cache-Control") == ["no-store"]


@pytest.mark.parametrize("path", [b"/desk/", b"/p/" + LINK.encode() + b"/decisions/3/", b"/p/nobodys-link/"])
@pytest.mark.parametrize("status", TOO_MUCH)
def test_people_are_told_on_a_page_what_the_site_refuses(up: RunningSite, status: int, path: bytes) -> None:
    answer = raw(up, TOO_MUCH[status] % path)
    assert (answer.status, answer.headers["Content-Type"]) == (status, "text/html")
    assert "call the office" in answer.body.decode()
    assert LINK not in up.log()


def test_what_the_site_lets_pass_the_service_can_read(up: RunningSite) -> None:
    """The service reads lines of 8190 bytes: portal.serving."""
    long = "x" * 7900
    assert ask(up, f"/desk/?{long}", Cookie=long).body.startswith(b"service GET /desk/")


@pytest.mark.parametrize("name", ["400.html", "413.json"])
def test_a_refusal_has_no_address_of_its_own(up: RunningSite, name: str) -> None:
    assert ask(up, f"/static/refused/{name}").status == 404
