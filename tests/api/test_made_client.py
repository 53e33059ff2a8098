"""A client made of the description by openapi-python-client does the main job: set up, ask, approve, start, sheet."""

import importlib
import json
import subprocess
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.api.conftest import As
from tests.house import NOW, House
from tests.layouts.decks import deck_json
from tests.served import bearer_for

ROOT = Path(__file__).parents[2]
FILES = {"content_type_overrides": {"application/pdf": "application/octet-stream",
                                    "image/vnd.dxf": "application/octet-stream"}}


class Made:
    """The made package, and functions of it by their operationId."""

    def __init__(self, client: Any, models: Any) -> None:
        self.client, self.models = client, models

    def call(self, tag: str, name: str, *ids: int, **sent: Any) -> Any:
        module = importlib.import_module(f"made_client.api.{tag}.{name}")
        answer = module.sync_detailed(*ids, client=self.client, **sent)
        assert 200 <= answer.status_code < 300, answer.content
        return answer


@pytest.fixture
def package(sending_as: As, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """Made without a word of complaint."""
    (tmp_path / "openapi.json").write_bytes(sending_as(None).get("openapi.json").data)
    (tmp_path / "made.json").write_text(json.dumps(FILES | {"post_hooks": []}))
    tool = Path(sys.executable).with_name("openapi-python-client")
    done = subprocess.run(
        [tool, "generate", "--path", tmp_path / "openapi.json", "--output-path", tmp_path / "made_client", "--meta",
         "none", "--config", tmp_path / "made.json", "--fail-on-warning"],
        capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    monkeypatch.syspath_prepend(tmp_path)
    yield "made_client"
    for name in [name for name in sys.modules if name.partition(".")[0] == "made_client"]:
        del sys.modules[name]


def _as(package: str, sending_as: As, house: House, who: str | None, bearer: str = "") -> Made:
    httpx = importlib.import_module("httpx")
    made = importlib.import_module(package)
    token = bearer or bearer_for(house, who)
    client = made.AuthenticatedClient(base_url="http://localhost", token=token)
    app = sending_as(who).client.application
    client.set_httpx_client(httpx.Client(
        base_url="http://localhost", transport=httpx.WSGITransport(app=app),
        headers={"Authorization": f"Bearer {token}"}))
    return Made(client, importlib.import_module(f"{package}.models"))


def test_the_main_job_is_done_through_it(package: str, sending_as: As, house: House) -> None:
    manager = _as(package, sending_as, house, "manager")
    of = manager.models
    starts = date.fromtimestamp(NOW)
    project = manager.call("projects", "add_project", body=of.Project.from_dict(
        {"name": "Birch Lane", "address": "7 Birch Lane", "timezone": "America/Chicago",
         "starts_on": starts.isoformat()})).parsed.id
    kitchen = manager.call("rooms", "add_room", project, body=of.Room.from_dict({"name": "Kitchen"})).parsed.id
    person = manager.call("people", "add_person", project, body=of.Person.from_dict(
        {"name": "Ada Lindqvist", "role": "homeowner", "phone": "218-555-0177", "email": "ada@example.org"})).parsed.id
    told = manager.call("people", "make_link", project, person, idempotency_key="link-1").parsed.link
    again = manager.call("people", "make_link", project, person, idempotency_key="link-1").parsed.link
    assert again == told

    phase = manager.call("phases", "add_phase", project, body=of.Phase.from_dict(
        {"name": "Drill the top", "room": kitchen, "crew": "Stone crew", "work_hours": 4})).parsed.id
    sent = of.DeckDimensions.from_dict(deck_json())
    best = manager.call("layouts", "lay_out_deck", body=sent, most=2).parsed.layouts[0]
    assert best.ok and best.marks and best.holes
    decision = manager.call("decisions", "ask_decision", project, body=of.Decision.from_dict({
        "kind": "deck", "question": "Where do the holes go?", "room": kitchen, "holds": [phase],
        "detail": {"dimensions": deck_json()},
        "options": [{"title": best.title, "detail": {"layout": best.key}}]})).parsed

    homeowner = _as(package, sending_as, house, None, told.rstrip("/").rpartition("/")[2])
    homeowner.call("decisions", "approve", project, decision.id, body=homeowner.models.Approval.from_dict(
        {"revision": decision.revision, "option": decision.options[0].key, "name": "Ada Lindqvist"}))
    started = manager.call("phases", "start_phase", project, phase, body=of.When.from_dict({}))
    assert started.parsed.state == "under_way"
    for kind, begins in (("pdf", b"%PDF"), ("dxf", b"  0\nSECTION")):
        sheet = manager.call("sheets", "get_sheet", project, decision.id, format_=of.GetSheetFormat(kind))
        assert sheet.content.replace(b"\r\n", b"\n").startswith(begins)
