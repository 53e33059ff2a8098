"""From where a request comes can't be made up: only a web server on this machine is believed, and only by https."""

from pathlib import Path

import pytest
from flask import Flask, request

from portal.app import create_app
from portal.pages.publishing.publish import Publisher
from portal.request.origin import network_of, origin
from portal.settings import Settings
from tests.house import SECRET, House


def served(folder: Path, base: str) -> Flask:
    settings = Settings.read({"PORTAL_DATA": str(folder), "PORTAL_BASE_URL": base,
                              "PORTAL_DATABASE": str(folder / "portal.db")})  # fmt: skip
    settings.secret_file.write_text(SECRET.hex())
    app = create_app(settings, Publisher(settings.site, SECRET, background=False))
    app.add_url_rule("/from", view_func=lambda: f"{origin()} {request.scheme}")
    return app


def told(app: Flask, peer: str, *forwarded: str) -> str:
    headers = [("X-Forwarded-For", one) for one in forwarded] + [("X-Forwarded-Proto", "https")]
    return app.test_client().get("/from", headers=headers, environ_base={"REMOTE_ADDR": peer}).get_data(as_text=True)


@pytest.mark.parametrize(
    ("peer", "forwarded", "counted"),
    [
        ("127.0.0.1", ["203.0.113.7"], "203.0.113.7 https"),
        ("::1", ["203.0.113.7"], "203.0.113.7 https"),
        ("::ffff:127.0.0.1", ["2001:db8::1"], "2001:db8::/64 https"),
        ("", ["203.0.113.7"], "203.0.113.7 https"),  # by a socket
        ("127.0.0.1", ["198.51.100.1, 203.0.113.7"], "203.0.113.7 https"),  # what nginx itself has seen stands last
        ("198.51.100.9", ["203.0.113.7"], "198.51.100.9 http"),
        ("::ffff:198.51.100.9", ["203.0.113.7"], "198.51.100.9 http"),
    ],
)
def test_only_a_web_server_on_this_machine_is_believed(
    house: House, tmp_path: Path, peer: str, forwarded: list[str], counted: str
) -> None:
    assert told(served(tmp_path, "https://portal.example.com"), peer, *forwarded) == counted


@pytest.mark.parametrize("peer", ["127.0.0.1", "198.51.100.9"])
def test_by_http_nobody_is(house: House, tmp_path: Path, peer: str) -> None:
    assert told(served(tmp_path, "http://127.0.0.1:8080"), peer, "203.0.113.7") == f"{peer} http"


@pytest.mark.parametrize(
    ("address", "network"),
    [
        ("203.0.113.7", "203.0.113.7"), ("::ffff:203.0.113.7", "203.0.113.7"),
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"), ("fe80::1%eth0", "fe80::/64"), ("", "unknown"),
        ("somewhere", "unknown"), ("unix:", "unknown"),
    ],
)  # fmt: skip
def test_an_address_is_counted_as_what_one_connection_has(address: str, network: str) -> None:
    assert network_of(address) == network
