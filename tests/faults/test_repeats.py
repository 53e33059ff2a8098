"""The same approval again and again: twice, from two tabs, by both owners in one second, late, over a bad network."""

import http.client
import json
import socket
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from threading import Barrier
from typing import Any

import pytest
from flask import Flask

from portal.acts.decisions.asking import ask_again, change_decision
from portal.acts.keeping.verifying import verify_project
from portal.app import create_app
from portal.pages.publishing.publish import Publisher
from portal.record.log.heads import Signer
from portal.store.engine.database import close_database
from portal.store.rows import record_rows
from portal.store.tables import Decision
from tests.demo_house import DemoHouse
from tests.faults.server import Server
from tests.faults.stream import Stream, new_stream
from tests.house import NOW
from tests.served import ApiClient, refused

AT_ONCE = 8


@dataclass
class Household:
    """The demo's two owners, and the API as each of them."""

    demo: DemoHouse
    app: Flask

    def approve(self, who: int, decision: int = 1, **more: Any) -> Any:
        values = {"revision": 1, "option": "a", "name": "An Owner"} | {k: v for k, v in more.items() if k[0].islower()}
        headers = {name: value for name, value in more.items() if name[0].isupper()}
        client = ApiClient(self.app.test_client(), self.demo.told.links[who])
        path = f"projects/{self.demo.project}/decisions/{self.demo.told.decisions[decision - 1]}/approvals"
        return client.post(path, values, **headers)

    def at_once(self, *sending: Callable[[], Any]) -> list[Any]:
        """All of these, each in a thread and with a connection of its own, let go in the same moment."""
        start = Barrier(len(sending))

        def one(send: Callable[[], Any]) -> Any:
            start.wait()
            try:
                return send()
            finally:
                close_database()

        with ThreadPoolExecutor(len(sending)) as pool:
            return list(pool.map(one, sending))

    def entries(self, kind: str = "approved", decision: int = 1) -> list[dict[str, Any]]:
        contents = (json.loads(text) for _, _, text in record_rows.every(self.demo.project))
        return [one for one in contents if one["kind"] == kind and one["body"]["decision"] == decision]

    def holds(self) -> bool:
        return verify_project(self.demo.project, Signer(self.demo.settings.record_key)).ok


@pytest.fixture
def household(demo: DemoHouse) -> Household:
    publisher = Publisher(demo.settings.site, demo.settings.secret, background=False)
    app = create_app(demo.settings, publisher)
    app.testing = True
    return Household(demo, app)


def test_posted_twice_it_is_one_approval_and_the_second_answer_says_the_same(household: Household) -> None:
    first, second = household.approve(0), household.approve(0)
    assert (first.status_code, second.status_code) == (201, 200)
    assert first.get_json() == second.get_json()
    assert len(household.entries()) == 1 and household.holds()


@pytest.mark.parametrize("key", [{}, {"Idempotency_Key": '"8e03978e-40d5-43e8-bc93-6894a57f9324"'}])
def test_from_eight_tabs_in_one_moment_it_is_one_approval(household: Household, key: dict[str, str]) -> None:
    answers = household.at_once(*[lambda: household.approve(0, **key)] * AT_ONCE)
    codes = sorted(answer.status_code for answer in answers)
    assert codes == ([201] * AT_ONCE if key else [200] * (AT_ONCE - 1) + [201])
    assert len({answer.get_data() for answer in answers}) == 1
    assert len(household.entries()) == 1 and household.holds()


def test_both_owners_in_one_second_choosing_the_same_are_both_kept(household: Household) -> None:
    one, other = household.at_once(lambda: household.approve(0), lambda: household.approve(1))
    assert (one.status_code, other.status_code) == (201, 201)
    assert {entry["actor"]["name"] for entry in household.entries()} == {"Maren Okafor", "Jonas Okafor"}
    assert household.holds()


def test_both_owners_in_one_second_choosing_otherwise_the_first_settles_it(household: Household) -> None:
    answers = household.at_once(lambda: household.approve(0), lambda: household.approve(1, option="b"))
    late = next(answer for answer in answers if answer.status_code != 201)
    assert "already approved" in refused(late, 409)["detail"]
    assert len(household.entries()) == 1 and household.holds()


def test_when_all_must_approve_the_last_of_two_in_one_second_settles_it(household: Household) -> None:
    told = household.demo.told
    decision = told.decisions[0]
    seen = Decision.get_by_id(decision).version
    change_decision(told.manager, household.demo.project, decision, seen, {"approvers": "all"}, NOW)
    household.at_once(lambda: household.approve(0), lambda: household.approve(1))
    assert Decision.get_by_id(decision).state == "approved"
    assert len(household.entries()) == 2 and household.holds()


def test_a_stale_revision_is_refused_with_what_changed_and_keeps_nothing(household: Household) -> None:
    told = household.demo.told
    ask_again(told.manager, household.demo.project, told.decisions[0], {"question": "One hole or two?"}, NOW)
    problem = refused(household.approve(0), 409)
    assert problem["changed"] == ["The question is now: “One hole or two?”."]
    assert household.entries() == [] and household.holds()
    assert household.approve(0, revision=2).status_code == 201


def test_asked_again_while_it_is_approved_one_of_both_comes_first(household: Household) -> None:
    """Whichever it is: the record tells the order, and an approval never counts for what was not shown."""
    told = household.demo.told

    def again() -> object:
        return ask_again(told.manager, household.demo.project, told.decisions[0], {"question": "One or two?"}, NOW)

    answer, _ = household.at_once(lambda: household.approve(0), again)
    assert answer.status_code in (201, 409)
    assert Decision.get_by_id(told.decisions[0]).state == "asked"
    assert len(household.entries()) == (answer.status_code == 201) and household.holds()


# Over a real network, which loses answers and is slow.


@pytest.fixture
def served(tmp_path: Path) -> Iterator[tuple[Stream, Server]]:
    stream = new_stream(tmp_path)
    close_database()
    server = Server(tmp_path, workers=2).start()
    stream.open()
    yield stream, server
    close_database()
    server.kill()


def request_for(stream: Stream, number: int, key: str | None) -> tuple[str, bytes, dict[str, str]]:
    decision = stream.decision(number)
    path = f"/api/v1/projects/{stream.project}/decisions/{decision.id}/approvals"
    body = json.dumps({"revision": decision.revision, "option": "a", "name": "Ida Sorensen"}).encode()
    headers = {"Authorization": f"Bearer {stream.link}", "Content-Type": "application/json"}
    return path, body, headers | ({"Idempotency-Key": key} if key else {})


@pytest.mark.parametrize("key", [None, '"2f1c1d0a-6c0e-4c85-8f6e-0d3c4c6c1b11"'])
def test_an_answer_that_was_lost_is_asked_for_again_until_it_comes(
    served: tuple[Stream, Server], key: str | None
) -> None:
    stream, server = served
    path, body, headers = request_for(stream, 2, key)
    for _ in range(3):  # sent whole, and hung up before the answer is read
        connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)
        connection.request("POST", path, body, headers)
        connection.close()
    status, answer, got = server.send("POST", path, body, headers)
    assert status in (200, 201) and json.loads(answer)["name"] == "Ida Sorensen"
    again = server.send("POST", path, body, headers)
    assert again[1] == answer
    assert (again[2].get("Idempotent-Replayed") == "true") is (key is not None)
    assert [step for step in stream.kept() if step[1] == 2] == [("approved", 2, 1)]
    stream.check()


def test_a_request_that_drips_in_and_one_that_breaks_off(served: tuple[Stream, Server]) -> None:
    stream, server = served
    whole, broken = raw_request(*request_for(stream, 3, None)), raw_request(*request_for(stream, 4, None))
    with socket.create_connection(("127.0.0.1", server.port), timeout=30) as slow:
        for at in range(0, len(whole), 16):
            slow.sendall(whole[at:at + 16])
            time.sleep(0.01)
        assert slow.recv(4096).startswith(b"HTTP/1.1 201 ")
    with socket.create_connection(("127.0.0.1", server.port), timeout=30) as cut:
        cut.sendall(broken[:-20])
    assert server.get("/up")[0] == 200
    assert [step for step in stream.kept() if step[1] in (3, 4)] == [("approved", 3, 1)]
    stream.check()


def raw_request(path: str, body: bytes, headers: dict[str, str]) -> bytes:
    lines = [f"POST {path} HTTP/1.1", "Host: localhost", f"Content-Length: {len(body)}", "Connection: close"]
    lines += [f"{name}: {value}" for name, value in headers.items()]
    return "\r\n".join([*lines, "", ""]).encode() + body
