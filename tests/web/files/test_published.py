"""The published page over the service: packed for those who read that, each form with an ETag of its own."""

import gzip
from collections.abc import Iterator

import pytest
from flask import Flask
from flask.testing import FlaskClient

from tests.house import House


@pytest.fixture
def client(app: Flask) -> Iterator[FlaskClient]:
    with app.test_client() as client:
        yield client


@pytest.fixture
def address(house: House) -> str:
    return f"/p/{house.links['homeowner']}/"


@pytest.mark.parametrize("reads", ["gzip", "br, gzip;q=0.5", "*"])
def test_the_packed_file_goes_to_those_who_read_it(client: FlaskClient, address: str, reads: str) -> None:
    packed = client.get(address, headers={"Accept-Encoding": reads})
    assert packed.headers["Content-Encoding"] == "gzip" and packed.headers["Vary"] == "Accept-Encoding"
    assert packed.content_type == "text/html; charset=utf-8"
    plain = client.get(address)
    assert gzip.decompress(packed.data) == plain.data and len(packed.data) < len(plain.data) / 2


@pytest.mark.parametrize("reads", ["", "br", "identity", "gzip;q=0", "*;q=0"])
def test_the_plain_file_goes_to_the_others(client: FlaskClient, address: str, reads: str) -> None:
    plain = client.get(address, headers={"Accept-Encoding": reads})
    assert "Content-Encoding" not in plain.headers and plain.data.startswith(b"<!doctype html>")
    assert plain.headers["Vary"] == "Accept-Encoding"


def test_each_form_is_known_again_by_its_own_mark(client: FlaskClient, address: str) -> None:
    marks = [client.get(address, headers={"Accept-Encoding": one}).headers["ETag"] for one in ("gzip", "identity")]
    assert len(set(marks)) == 2
    again = client.get(address, headers={"Accept-Encoding": "gzip", "If-None-Match": marks[0]})
    assert (again.status_code, again.data) == (304, b"")
    other = client.get(address, headers={"Accept-Encoding": "gzip", "If-None-Match": marks[1]})
    assert other.status_code == 200


def test_readers_without_sums_get_their_file_packed_too(client: FlaskClient, house: House) -> None:
    for who in house.links:
        answer = client.get(f"/p/{house.links[who]}/", headers={"Accept-Encoding": "gzip"})
        assert gzip.decompress(answer.data).startswith(b"<!doctype html>")


def test_photos_are_sent_as_they_are(client: FlaskClient, address: str) -> None:
    answer = client.get(f"{address}photos/none-small.jpg", headers={"Accept-Encoding": "gzip"})
    assert answer.status_code == 404 and "Content-Encoding" not in answer.headers
