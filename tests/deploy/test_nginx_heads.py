"""What nginx answers by itself carries the heads of the service's table, each once; and it speaks TLS as shipped.

OWASP ASVS 5.0, V3.4; RFC 9325 for TLS; RFC 6797 for HSTS; RFC 9457 for problems.
"""

import json
import socket
import ssl
import threading
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from http.client import HTTPConnection, HTTPResponse, HTTPSConnection
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from ipaddress import ip_address
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from portal.pages.publishing.site import KEPT_CALENDAR
from portal.request.heads import EVERY, HSTS, PUBLISHED_POLICY, heads_of
from tests.deploy.published import LINK, lay_out_page
from tests.deploy.site import RunningSite, free_port, running_site

CALENDAR = b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n"
OWN = EVERY | {
    "Content-Security-Policy": PUBLISHED_POLICY, "Referrer-Policy": "no-referrer", "Strict-Transport-Security": HSTS,
}  # fmt: skip


class Service(BaseHTTPRequestHandler):
    """Stands in for the service, which sends all its heads."""

    def do_GET(self) -> None:  # noqa: N802 - the name that http.server calls
        self.send_response(200)
        for name, value in heads_of("text/html", over_tls=True).items():
            self.send_header(name, value)
        self.send_header("X-Scheme", self.headers["X-Forwarded-Proto"])
        self.send_header("X-Asked", self.headers["X-Request-Id"])
        self.send_header("Content-Length", "0")
        self.end_headers()

    def log_message(self, format: str, *arguments: object) -> None:
        pass


def make_certificate(folder: Path) -> None:
    """One for this machine that is signed by itself, and its key."""
    key, now = ec.generate_private_key(ec.SECP256R1()), datetime.now(UTC)
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "127.0.0.1")])
    made = (
        x509.CertificateBuilder().subject_name(name).issuer_name(name).public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=2)).not_valid_after(now + timedelta(days=2))
        .add_extension(x509.SubjectAlternativeName([x509.IPAddress(ip_address("127.0.0.1"))]), critical=False)
        .sign(key, hashes.SHA256())
    )  # fmt: skip
    (folder / "certificate.pem").write_bytes(made.public_bytes(serialization.Encoding.PEM))
    how = serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    (folder / "key.pem").write_bytes(key.private_bytes(*how))


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    data = tmp_path_factory.mktemp("data")
    (lay_out_page(data, "<!doctype html><title>Elm Street</title>") / KEPT_CALENDAR).write_bytes(CALENDAR)
    return data


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory, data: Path) -> Iterator[RunningSite]:
    """With TLS, before a service that answers."""
    run = tmp_path_factory.mktemp("run")
    make_certificate(run)
    (run / "acme/.well-known/acme-challenge").mkdir(parents=True)
    (run / "acme/.well-known/acme-challenge/token").write_text("as asked")
    with ThreadingHTTPServer(("127.0.0.1", 0), Service) as service:
        thread = threading.Thread(target=service.serve_forever)
        thread.start()
        with running_site(data, service.server_port, run, tls=True) as site:
            yield site
        service.shutdown()
        thread.join()


def trusting(site: RunningSite) -> ssl.SSLContext:
    return ssl.create_default_context(cafile=str(site.run / "certificate.pem"))


def ask(site: RunningSite, path: str, method: str = "GET", **heads: str) -> HTTPResponse:
    connection = HTTPSConnection("127.0.0.1", site.port, timeout=20, context=trusting(site))
    connection.request(method, path, headers={name.replace("_", "-"): value for name, value in heads.items()})
    response = connection.getresponse()
    response.told = response.read()  # type: ignore[attr-defined]
    connection.close()
    return response


def check_own(answer: HTTPResponse, **but: str) -> None:
    for name, value in (OWN | {name.replace("_", "-"): value for name, value in but.items()}).items():
        assert answer.headers.get_all(name) == [value], name


@pytest.mark.parametrize(("path", "status"), [(f"/p/{LINK}/", 200), (f"/p/{LINK}", 301)])
def test_a_page_and_the_way_to_it(site: RunningSite, path: str, status: int) -> None:
    answer = ask(site, path)
    assert answer.status == status
    check_own(answer, Cache_Control="private, no-cache", X_Robots_Tag="noindex, nofollow")


def test_a_page_that_is_known_already(site: RunningSite) -> None:
    etag = ask(site, f"/p/{LINK}/").headers["ETag"]
    answer = ask(site, f"/p/{LINK}/", If_None_Match=etag)
    assert answer.status == 304
    check_own(answer, Cache_Control="private, no-cache", X_Robots_Tag="noindex, nofollow")


@pytest.mark.parametrize(("file", "kind"), [("look/desk.css", "text/css"), ("check_receipt.js", "text/javascript")])
def test_a_style_sheet_or_script_may_be_kept_for_an_hour(site: RunningSite, file: str, kind: str) -> None:
    answer = ask(site, f"/static/{file}")
    assert (answer.status, answer.headers["Content-Type"]) == (200, kind)
    check_own(answer, Cache_Control="public, max-age=3600")


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [("TRACE", "/", 405), ("GET", "/static/none.css", 404), ("GET", "/metrics", 404), ("GET", "/%", 400)],
)
def test_what_nginx_refuses_by_itself(site: RunningSite, method: str, path: str, status: int) -> None:
    answer = ask(site, path, method)
    assert answer.status == status
    check_own(answer)


def test_what_the_service_says_is_said_once(site: RunningSite) -> None:
    for path in ("/", "/check/", f"/p/{LINK}/record/", "/p/nobodys/"):
        answer = ask(site, path)
        assert (answer.headers["X-Scheme"], len(answer.headers["X-Asked"])) == ("https", 32)
        for name, value in heads_of("text/html", over_tls=True).items():
            assert answer.headers.get_all(name) == [value], f"{path} {name}"


def test_codes_tried_in_a_hurry_are_refused_on_a_page_of_ours(site: RunningSite) -> None:
    """RFC 6585, 4: a 429 may say when to come again."""
    answers = [ask(site, f"/check/?code={number:012x}") for number in range(40)]
    refused = next(one for one in answers if one.status == 429)
    assert "Wait a minute" in refused.told.decode() and refused.headers["Retry-After"] == "60"  # type: ignore[attr-defined]
    check_own(refused)


@pytest.fixture(scope="module")
def down(tmp_path_factory: pytest.TempPathFactory, data: Path) -> Iterator[RunningSite]:
    """Before a service that is not there."""
    run = tmp_path_factory.mktemp("run")
    make_certificate(run)
    with running_site(data, free_port(), run, tls=True) as down:
        yield down


def test_while_the_service_is_down_a_calendar_is_the_file_that_was_published(
    site: RunningSite, down: RunningSite
) -> None:
    """Up, the service answers; down, whoever subscribes keeps the visits. A link that opens nothing shows none."""
    assert ask(site, f"/p/{LINK}/visits.ics").headers["X-Scheme"] == "https"
    answer = ask(down, f"/p/{LINK}/visits.ics")
    assert (answer.status, answer.headers["Content-Type"]) == (200, "text/calendar")
    assert answer.told == CALENDAR  # type: ignore[attr-defined]
    check_own(answer, Cache_Control="private, no-cache", X_Robots_Tag="noindex, nofollow")
    for path in ("/p/nobodys-link/visits.ics", f"/p/{LINK}/visits.ics/", "/visits.ics", f"/p/{LINK}/record/"):
        answer = ask(down, path)
        assert (answer.status, answer.headers["Retry-After"]) == (503, "120"), path
        check_own(answer)


def test_while_the_service_is_down_people_get_a_page_and_programs_a_problem(down: RunningSite) -> None:
    for path, kind in [("/desk/", "text/html"), ("/api/v1/projects", "application/problem+json")]:
        answer = ask(down, path)
        assert (answer.status, answer.headers["Content-Type"], answer.headers["Retry-After"]) == (503, kind, "120")
        check_own(answer)
    problem = json.loads(answer.told)  # type: ignore[attr-defined]
    assert (problem["status"], problem["type"], problem["title"]) == (503, "about:blank", "Service Unavailable")


def test_port_80_leads_to_tls_and_answers_for_the_certificate_alone(site: RunningSite) -> None:
    told = {}
    for path in ("/.well-known/acme-challenge/token", "/.well-known/acme-challenge/none", f"/p/{LINK}/?a=b", "/desk"):
        connection = HTTPConnection("127.0.0.1", site.plain_port, timeout=20)
        connection.request("GET", path, headers={"Host": "somewhere.example.com"})
        answer = connection.getresponse()
        assert answer.headers.get_all("Strict-Transport-Security") is None  # RFC 6797, 7.2
        told[path] = answer.status, answer.headers["Location"] or answer.read()[:8]
        connection.close()
    assert list(told.values()) == [
        (200, b"as asked"), (404, b"<html>\r\n"), (301, f"https://127.0.0.1/p/{LINK}/?a=b"),
        (301, "https://127.0.0.1/desk"),
    ]  # fmt: skip


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # of ssl, for the versions that are to be refused
@pytest.mark.parametrize(
    ("least", "most", "suites", "accepted"),
    [
        (ssl.TLSVersion.TLSv1_3, ssl.TLSVersion.TLSv1_3, "DEFAULT", True),
        (ssl.TLSVersion.TLSv1_2, ssl.TLSVersion.TLSv1_2, "DEFAULT", True),
        (ssl.TLSVersion.TLSv1_2, ssl.TLSVersion.TLSv1_2, "ECDHE-ECDSA-AES128-SHA256:ECDHE-ECDSA-AES128-SHA", False),
        (ssl.TLSVersion.TLSv1_1, ssl.TLSVersion.TLSv1_1, "ALL:@SECLEVEL=0", False),
    ],
)
def test_tls_1_2_and_1_3_with_suites_that_are_recommended(
    site: RunningSite, least: ssl.TLSVersion, most: ssl.TLSVersion, suites: str, accepted: bool
) -> None:
    """RFC 9325, 3.1.1 and 4.2."""
    context = trusting(site)
    context.set_ciphers(suites)
    context.minimum_version, context.maximum_version = least, most
    with socket.create_connection(("127.0.0.1", site.port), timeout=20) as plain:
        try:
            with context.wrap_socket(plain, server_hostname="127.0.0.1") as spoken:
                assert accepted and "GCM" in str(spoken.cipher())
        except ssl.SSLError:
            assert not accepted
