"""`portal serve` over PostgreSQL, in two worker processes of its own: answers at once, and the page with them."""

import http.client
import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from portal.record.checking.verification import verify_record
from portal.store.engine.database import close_database, open_database
from portal.store.rows import record_rows
from tests.deploy.site import free_port
from tests.house import SECRET, House
from tests.postgresql.crossing import at_once

ASKS = ">Choose<"


@pytest.fixture
def port(url: str, tmp_path: Path) -> Iterator[int]:
    """Where it listens."""
    port = free_port()
    (tmp_path / "secret").write_text(SECRET.hex())
    settings = {"PORTAL_DATA": str(tmp_path), "PORTAL_DATABASE": url, "PORTAL_BASE_URL": f"http://127.0.0.1:{port}"}
    command = [sys.executable, "-m", "portal.cli", "serve", "--port", str(port), "--workers", "2"]
    with subprocess.Popen(command, env=os.environ | settings, stderr=subprocess.PIPE, text=True) as server:
        until = time.monotonic() + 60
        while not listens(port):
            assert server.poll() is None and time.monotonic() < until, "it did not come up"
            time.sleep(0.05)
        yield port
        server.terminate()
        _, said = server.communicate(timeout=20)
    assert "Traceback" not in said, said


def listens(port: int) -> bool:
    try:
        return send(port, "GET", "/guide/")[0] < 500
    except OSError:
        return False


def send(port: int, method: str, path: str, link: str = "", values: object = None) -> tuple[int, str]:
    headers = {"Authorization": f"Bearer {link}", "Content-Type": "application/json"} if link else {}
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    try:
        connection.request(method, path, json.dumps(values) if values else None, headers)
        answer = connection.getresponse()
        return answer.status, answer.read().decode()
    finally:
        connection.close()


def approve(port: int, house: House, who: str, number: int) -> int:
    path = f"/api/v1/projects/{house.project}/decisions/{house.decisions[number]}/approvals"
    name = {"homeowner": "Maren Okafor", "co_owner": "Jonas Okafor"}[who]
    return send(port, "POST", path, house.links[who], {"revision": 1, "option": "a", "name": name})[0]


def page_of(port: int, house: House) -> str:
    status, page = send(port, "GET", f"/p/{house.links['homeowner']}/")
    assert status == 200 and "Okafor" in page
    return page


def test_eight_answers_at_once_are_all_kept_and_shown(port: int, built_house: House, url: str) -> None:
    house = built_house
    assert ASKS in page_of(port, house)
    everything = [(who, number) for who in ("homeowner", "co_owner") for number in (1, 2, 4, 5)]
    statuses = at_once(*(lambda a=a: approve(port, house, *a) for a in everything))
    assert statuses == [201] * 8
    until = time.monotonic() + 20
    while ASKS in page_of(port, house):
        assert time.monotonic() < until, "the page still asks"
        time.sleep(0.1)
    open_database(url)
    rows = list(record_rows.every(house.project))
    verdict = verify_record(house.project, rows, nodes=record_rows.all_nodes(house.project))
    close_database()
    assert verdict.ok and len(rows) == 10, verdict
