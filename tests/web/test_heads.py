"""The heads of every answer: every route in every skin, as staff, as a household and as nobody; refusals and failures.

After OWASP ASVS 5.0, V3.4.1 to V3.4.6 and V3.2.1, W3C CSP3, RFC 6797.
"""

import dataclasses
import re
from collections.abc import Iterator

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from portal.app import create_app
from portal.pages.publishing.publish import Publisher
from portal.request.sent.bodies import LARGEST_TEXT
from portal.request.services import services
from tests.house import House
from tests.served import ApiClient, bearer_for, refused
from tests.web.signed_in import Desk
from tests.web.test_who_may import ids

METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE", "OPTIONS")


def directives(answer: TestResponse) -> dict[str, str]:
    (policy,) = answer.headers.getlist("Content-Security-Policy")
    return {name: value for name, _, value in (one.strip().partition(" ") for one in policy.split(";"))}


def check_heads(answer: TestResponse) -> None:
    told, heads = f"{answer.request.method} {answer.request.path} -> {answer.status}", answer.headers
    policy = directives(answer)
    assert policy["default-src"] == policy["object-src"] == policy["base-uri"] == policy["frame-ancestors"] == "'none'"
    own_script = (answer.request.method, answer.request.path) == ("GET", "/check/receipt/")
    at_the_desk = policy.get("script-src") == "'self'"
    assert ("script-src" in policy) == (own_script or at_the_desk), told
    assert "unsafe" not in policy.get("img-src", "") + policy.get("script-src", ""), told
    if at_the_desk:  # our own files, of this host alone; the page itself says the same
        assert answer.request.path.startswith("/desk/") and answer.mimetype == "text/html", told
        assert policy["connect-src"] == policy["worker-src"] == "'self'", told
        assert "script-src &#39;self&#39;" in answer.text.partition("<title>")[0], told
    the_worker = answer.request.path == "/desk/worker.js" and answer.mimetype == "text/javascript"
    assert at_the_desk or "worker-src" not in policy, told
    assert at_the_desk or the_worker == ("connect-src" in policy), told
    if the_worker:
        assert policy["connect-src"] == "'self'" and heads["Cache-Control"] == "no-cache", told
    elif own_script:  # the one page with a script: this one by its hash, and nothing that could carry anything away
        assert re.fullmatch(r"'sha256-[A-Za-z0-9+/]{43}='", policy["script-src"]) and policy["form-action"] == "'none'"
        assert not {"connect-src", "worker-src", "frame-src", "media-src"} & set(policy), told
    elif answer.mimetype == "text/html":
        assert policy["form-action"] == "'self'", told
    elif answer.mimetype != "application/pdf":
        assert "sandbox" in policy, told
    for name, wanted in {
        "X-Content-Type-Options": "nosniff", "Cross-Origin-Opener-Policy": "same-origin",
        "Cross-Origin-Resource-Policy": "same-origin", "X-Robots-Tag": "noindex",
    }.items():  # fmt: skip
        assert heads.getlist(name) == [wanted], f"{told} {name}"
    assert heads["Referrer-Policy"] in ("same-origin", "no-referrer") and heads["Cache-Control"], told
    if answer.request.path.startswith("/api/"):
        assert heads["Cache-Control"] == "no-store", told
    assert "Access-Control-Allow-Origin" not in heads, told


def addresses(app: Flask, house: House) -> Iterator[str]:
    """One of each route."""
    texts = {
        "link": house.links["homeowner"], "name": "x.jpg", "file": "page.css", "code": "stale", "kind": "deck",
        "rest": "x", "number": 4, "sequence": 1, "section": "visits",
    }  # fmt: skip
    given, routes = ids(house) | texts, app.url_map.bind("localhost")
    for rule in app.url_map.iter_rules():
        some = {one: given.get(one, 1) for one in rule.arguments}
        yield routes.build(rule.endpoint, some, next(iter((rule.methods or set()) - {"HEAD", "OPTIONS"})))


def test_every_route_answers_with_them_whoever_asks_and_however(
    app: Flask, manager: Desk, stranger: Desk, house: House
) -> None:
    app.config["PROPAGATE_EXCEPTIONS"] = False
    walked = 0
    for address in addresses(app, house):
        for client in (manager.client, stranger.client):
            for method in METHODS if client is stranger.client else ("GET", "POST"):
                if not address.endswith("/sign-out"):
                    with client.open(address, method=method) as answer:
                        check_heads(answer)
                    walked += 1
    assert walked > 800


@pytest.mark.parametrize("address", ["/", "/p/nobodys-link/", "/desk/nothing", "/api/v1/nothing", "/static/nothing"])
@pytest.mark.parametrize("failing", ["found", "too large", "500"])
def test_refusals_and_failures_carry_them(app: Flask, address: str, failing: str) -> None:
    app.config["PROPAGATE_EXCEPTIONS"] = False
    if failing == "500":
        app.url_value_preprocessors[None] = [lambda *_: 1 / 0]  # type: ignore[list-item,return-value]
    sent = b"x" * (LARGEST_TEXT + 1) if failing == "too large" else None
    answer = app.test_client().open(address, method="POST" if sent else "GET", data=sent)
    assert (answer.status_code == 500) is (failing == "500")
    check_heads(answer)


def test_only_who_is_signed_in_gets_pages_that_may_run_scripts(
    app: Flask, manager: Desk, stranger: Desk, house: House
) -> None:
    def runs(client: FlaskClient, address: str) -> bool:
        with client.get(address) as answer:
            return "script-src" in directives(answer)

    assert runs(manager.client, "/desk/") and runs(manager.client, f"/desk/projects/{house.project}/updates/new")
    assert not runs(stranger.client, "/desk/sign-in")
    for published in (f"/desk/projects/{house.project}/page/", f"/p/{house.links['homeowner']}/", "/"):
        assert not runs(manager.client, published)


def test_a_page_in_a_file_may_be_older_than_the_style_sheet(app: Flask, house: House) -> None:
    """Its meta element allows the style in it; the head, which is of today, must not forbid it."""
    link = house.links["homeowner"]
    with app.test_client().get(f"/p/{link}/") as answer:
        assert "'unsafe-inline'" in directives(answer)["style-src"]
        assert "sha256-" in answer.text.partition("<style>")[0]
    with app.test_client().get(f"/p/{link}/record/") as answer:
        assert "'unsafe-inline'" not in directives(answer)["style-src"]


@pytest.mark.parametrize(
    ("base", "proto", "wanted"),
    [
        ("https://portal.example.com", "https", ["max-age=31536000"]),
        ("https://portal.example.com", "http", []),  # RFC 6797, 7.2: not over plain http
        ("http://portal.example.com", "https", []),
    ],
)
def test_strict_transport_goes_with_tls_alone_and_speaks_for_no_other_host(
    app: Flask, base: str, proto: str, wanted: list[str]
) -> None:
    with app.app_context():
        settings = dataclasses.replace(services().settings, base_url=base)
    secure = create_app(settings, Publisher(settings.site, settings.secret, background=False))
    for address in ("/", "/api/v1/projects", "/nothing", "/static/page.css"):
        told, came = {"X-Forwarded-Proto": proto}, "http" if base.startswith("https:") else proto
        with secure.test_client().get(address, f"{came}://localhost", headers=told) as answer:
            assert answer.headers.getlist("Strict-Transport-Security") == wanted
            check_heads(answer)


def test_what_no_cache_may_keep_is_still_changed_by_its_etag(app: Flask, house: House) -> None:
    """RFC 9111, 5.2.2.5 speaks to caches; the ETag is the client's own (RFC 9110, 13.1.1 and 13.1.2)."""
    api = ApiClient(app.test_client(), bearer_for(house, "manager"))
    way = f"projects/{house.project}/rooms/{house.rooms['kitchen']}"
    read = api.get(way)
    assert read.headers["Cache-Control"] == "no-store"
    again = api.get(way, If_None_Match=read.headers["ETag"])
    assert (again.status_code, again.headers["Cache-Control"]) == (304, "no-store")
    assert api.patch(way, {"name": "The kitchen"}, If_Match=read.headers["ETag"]).status_code == 200
    refused(api.patch(way, {"name": "Kitchen"}, If_Match=read.headers["ETag"]), 412)
