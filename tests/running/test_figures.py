"""Figures count what happened, over all workers, with bounded labels and nothing of anybody; alerts go by them."""

import errno
import os
import re
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from flask import Flask
from prometheus_client.parser import text_string_to_metric_families

from portal.acts.decisions.answers import approve
from portal.pages.publishing.site import Site
from portal.running import shared_figures
from portal.running.limits import LIMITS
from portal.running.shared_figures import make_room, share_figures, shared_folder
from portal.settings import Settings
from portal.store.engine.database import close_database, touch, write
from portal.store.rows.notice_rows import FAILED
from tests.faults.server import Server
from tests.faults.stream import new_stream
from tests.house import NOW, House
from tests.served import ApiClient, serve_house

ALERTS = Path(__file__).parents[2] / "deploy" / "alerts.yml"
Samples = dict[tuple[str, tuple[tuple[str, str], ...]], float]


def samples(text: str) -> Samples:
    """As the client's own parser reads them."""
    return {
        (one.name, tuple(sorted(one.labels.items()))): one.value
        for family in text_string_to_metric_families(text) for one in family.samples
    }


def figures(app: Flask) -> Samples:
    answer = app.test_client().get("/metrics")
    assert answer.status_code == 200 and answer.content_type.startswith("text/plain; version=")
    return samples(answer.get_data(as_text=True))


@pytest.fixture
def app(house: House, tmp_path: Path) -> Flask:
    return serve_house(tmp_path)


def test_requests_are_counted_by_the_rule_of_their_route_and_class_of_status(app: Flask, house: House) -> None:
    link = house.links["homeowner"]
    client = app.test_client()
    for way in (f"/p/{link}/", f"/p/{link}/decisions/1/", f"/p/{link}/decisions/2/", "/nothing/maren@example.org"):
        client.get(way)
    ApiClient(client, None).get("projects/7")
    found = figures(app)
    counted = {dict(labels)["route"]: (dict(labels)["status"], value)
               for (name, labels), value in found.items() if name == "portal_requests_total"}
    assert counted["/p/<link>/decisions/<int:number>/"] == ("2xx", 2) and counted["-"] == ("4xx", 1)
    assert counted["/api/v1/projects/<int:project_id>"] == ("4xx", 1)
    assert found["portal_request_seconds_count", (("part", "house"),)] == 3
    assert link not in str(found) and "maren" not in str(found)


def test_labels_are_bounded(app: Flask) -> None:
    rules = {rule.rule for rule in app.url_map.iter_rules()} | {"-"}
    room = len(rules) * 5 * 200
    assert room < shared_figures._ROOM["counter"], "bytes, at 200 for each route and class of status"
    client = app.test_client()
    for number in range(50):
        client.get(f"/odd/{number}/")
    assert {dict(labels)["route"] for name, labels in figures(app) if name == "portal_requests_total"} <= rules


def test_approvals_pages_and_failures_are_counted(
    app: Flask, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = figures(app)
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    after = figures(app)
    assert after["portal_approvals_total", ()] == before["portal_approvals_total", ()] + 1
    assert after["portal_publishing_seconds_count", ()] == before["portal_publishing_seconds_count", ()] + 1
    assert after["portal_letters", (("state", "waiting"),)] >= 1
    monkeypatch.setattr(Site, "write_page", lambda *_: (_ for _ in ()).throw(OSError(errno.ENOSPC, "full")))
    with write():
        touch(house.project)
    failed = figures(app)
    assert failed["portal_publishing_failures_total", ()] == after["portal_publishing_failures_total", ()] + 1
    assert failed["portal_pages_behind", ()] == 1 and failed["portal_in_order", (("line", "pages"),)] == 0
    assert {dict(labels)["line"] for name, labels in failed if name == "portal_in_order"} == set(LIMITS)


def test_what_the_database_can_not_say_is_left_out(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("portal.running.readiness.try_write", lambda _: {}["gone"])
    found = figures(app)
    assert found["portal_in_order", (("line", "database"),)] == 0 and ("portal_approvals_total", ()) not in found
    assert ("portal_disk_free_bytes", ()) in found


def names_in(expression: str) -> set[str]:
    return set(re.findall(r"\bportal_[a-z_]+", expression))


def test_alerts_are_rules_over_figures_that_there_are(app: Flask, house: House) -> None:
    app.test_client().get("/up")
    exported = {name for name, _ in figures(app)}
    (group,) = yaml.safe_load(ALERTS.read_text())["groups"]
    assert group["name"] == "portal" and len(group["rules"]) > 5
    for rule in group["rules"]:
        assert set(rule) <= {"alert", "expr", "for", "labels", "annotations"} and rule["alert"].isidentifier()
        assert names_in(rule["expr"]) and names_in(rule["expr"]) <= exported, rule
        assert re.fullmatch(r"\d+[mh]", rule.get("for", "1m")) and rule["labels"]["severity"] in ("page", "ticket")
        assert set(rule["annotations"]) == {"summary", "to_do"}
        assert all(rule["expr"].count(left) == rule["expr"].count(right) for left, right in ("()", "{}", "[]"))
    assert names_in("rate(portal_made_up[5m])") - exported == {"portal_made_up"}


def test_the_alert_for_letters_counts_each_way_in_which_mail_has_failed(app: Flask) -> None:
    """A state has its figure before the first letter is in it, or its growth would not be seen."""
    (group,) = yaml.safe_load(ALERTS.read_text())["groups"]
    (rule,) = [one for one in group["rules"] if "portal_letters" in one["expr"]]
    (states,) = re.findall(r'state=~"([^"]*)"', rule["expr"])
    assert set(states.split("|")) == set(FAILED)
    found = figures(app)
    assert {found["portal_letters", (("state", state),)] for state in FAILED} == {0}


@pytest.fixture
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Settings]:
    monkeypatch.setenv("PROMETHEUS_MULTIPROC_DIR", "x")  # so that it is put back
    yield Settings.read({"PORTAL_DATA": str(tmp_path)})


def test_the_folder_of_figures_is_emptied_at_the_start_and_has_room_before_it_is_needed(settings: Settings) -> None:
    folder = settings.data / ".figures"
    folder.mkdir()
    (folder / "counter_12.db").write_bytes(b"old")
    share_figures(settings)
    assert list(folder.iterdir()) == [] and shared_folder() == str(folder)
    make_room()
    sizes = {path.name.split("_")[0]: path.stat() for path in folder.iterdir()}
    assert {kind: one.st_size for kind, one in sizes.items()} == shared_figures._ROOM
    assert all(one.st_blocks * 512 >= one.st_size for one in sizes.values()), "the disk has set it aside"


def test_where_there_is_no_room_a_worker_counts_alone(
    settings: Settings, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    share_figures(settings)
    monkeypatch.setattr(os, "posix_fallocate", lambda *_: (_ for _ in ()).throw(OSError(errno.ENOSPC, "full")))
    make_room()
    assert shared_folder() is None and "counted by each worker alone" in caplog.text
    (settings.data / ".figures").rmdir() if not list((settings.data / ".figures").iterdir()) else None
    share_figures(Settings.read({"PORTAL_DATA": "/dev/null"}))
    assert shared_folder() is None


def test_nothing_that_leads_to_the_workers_imports_what_counts() -> None:
    """It looks once, when it is imported, where to count: before a worker has made room, that is too soon."""
    done = subprocess.run(
        [sys.executable, "-c", "import portal.serving, portal.cli, sys; print('prometheus_client' in sys.modules)"],
        capture_output=True, text=True, check=True,
    )
    assert done.stdout == "False\n"


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    stream = new_stream(tmp_path)
    close_database()
    running = Server(stream.folder, workers=2).start()
    yield running
    running.kill()


def test_workers_count_together(server: Server) -> None:
    for _ in range(30):
        assert server.get("/guide/")[0] == 200
    texts: list[Any] = []
    for _ in range(2):
        with urllib.request.urlopen(f"http://127.0.0.1:{server.port}/metrics", timeout=60) as answer:
            texts.append(samples(answer.read().decode()))
    counted = [one["portal_requests_total", (("route", "/guide/"), ("status", "2xx"))] for one in texts]
    assert counted == [30, 30], "whichever worker is asked"
    assert len(list((server.folder / ".figures").glob("counter_*.db"))) == 2
