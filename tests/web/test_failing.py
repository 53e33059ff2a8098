"""What fails is answered in its own words, with a number that finds it in the log: by form and by API."""

import json
import re
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from peewee import OperationalError

from portal.running.log_lines import JsonLines
from portal.store.engine.database import close_database, open_database
from portal.store.refusals import Busy, CannotWrite, DamagedDatabase, DiskFull, NoDatabase, ReadOnlyDisk
from tests.house import House
from tests.served import ApiClient, refused, serve_house

GIVEN = "0123456789abcdef" * 2
WORDS: dict[Any, tuple[int, str, str, str]] = {
    Busy(): (503, "busy", "2", "Someone else is writing just now."),
    DiskFull(): (507, "disk-full", "", "The server’s disk is full, so nothing was changed."),
    CannotWrite(): (507, "cannot-write", "", "The server can’t write to its disk, so nothing was changed."),
    ReadOnlyDisk(): (503, "read-only-disk", "120", "The server’s disk can only be read just now"),
    DamagedDatabase(): (503, "damaged-database", "120", "The portal’s database is damaged, so nothing was changed."),
    NoDatabase(): (503, "no-database", "10", "The portal can’t reach its database just now."),
    OperationalError("database disk image is malformed"): (503, "damaged-database", "120", "database is damaged"),
    OSError(28, "No space left on device"): (507, "disk-full", "", "disk is full"),
    RuntimeError("Maren Okafor"): (500, "", "", "It is not your fault, and nothing was changed."),
}  # fmt: skip


@pytest.fixture
def app(house: House, tmp_path: Path) -> Flask:
    app = serve_house(tmp_path)
    app.config["PROPAGATE_EXCEPTIONS"] = False
    return app


@pytest.fixture
def failing(app: Flask, monkeypatch: pytest.MonkeyPatch) -> Callable[[Exception], FlaskClient]:
    """Whoever reads a house, its firm or a project meets this error."""

    def fail_with(error: Exception) -> FlaskClient:
        def fail(*_: object, **__: object) -> None:
            raise error

        app.test_client().get("/")  # the firm was read before
        for module, name in (
            ("portal.web.house.page", "published"), ("portal.store.reading.firm", "read_firm"),
            ("portal.api.resources.projects", "project_row"),
        ):
            monkeypatch.setattr(import_module(module), name, fail)
        return app.test_client()

    return fail_with


@pytest.mark.parametrize("error", WORDS, ids=lambda error: type(error).__name__)
def test_a_page_says_what_failed_whom_to_call_and_its_number(
    house: House, failing: Callable[[Exception], FlaskClient], caplog: pytest.LogCaptureFixture, error: Exception
) -> None:
    status, _, wait, words = WORDS[error]
    answer = failing(error).get(f"/p/{house.links['homeowner']}/", headers={"X-Request-Id": GIVEN})
    said = answer.get_data(as_text=True).replace("&#39;", "’")
    assert (answer.status_code, answer.headers.get("Retry-After", "")) == (status, wait) and words in said
    assert "tell us this number: 0123 4567." in said and answer.headers["X-Request-Id"] == GIVEN
    assert 'href="tel:' in said, "whom to call is known though the database can’t be asked"
    (record,) = [one for one in caplog.records if one.message == "a request failed"]
    line = json.loads(JsonLines().format(record))
    assert (line["request"], line["route"], line["method"], line["status"]) == (GIVEN, "/p/-/", "GET", status)
    assert line["level"] == ("warning" if isinstance(error, Busy) else "error")
    assert "Maren" not in json.dumps(line) and line["frames"]


@pytest.mark.parametrize("error", WORDS, ids=lambda error: type(error).__name__)
def test_a_problem_says_the_same_with_its_number(
    house: House, failing: Callable[[Exception], FlaskClient], error: Exception
) -> None:
    status, kind, wait, words = WORDS[error]
    bearer = {"Authorization": f"Bearer {house.links['homeowner']}"}
    answer = failing(error).get("/api/v1/projects/7", headers=bearer)
    problem = refused(answer, status)
    assert problem["type"] == (f"/problems/{kind}" if kind else "about:blank")
    assert words.split(",")[0] in problem["detail"] or status == 500
    number = problem["request_id"]
    assert number == answer.headers["X-Request-Id"] and re.fullmatch("[0-9a-f]{32}", number)
    assert answer.headers.get("Retry-After", "") == wait


def test_what_is_no_fault_of_ours_has_a_number_in_its_head_alone(app: Flask, caplog: pytest.LogCaptureFixture) -> None:
    answer = app.test_client().get("/nothing")
    assert answer.status_code == 404 and "this number" not in answer.get_data(as_text=True)
    assert re.fullmatch("[0-9a-f]{32}", answer.headers["X-Request-Id"]) and caplog.records == []
    assert "request_id" not in refused(ApiClient(app.test_client(), None).get("projects/7"), 401)


@pytest.mark.parametrize("given", ["", "x", GIVEN.upper(), GIVEN + "0", "../../etc", "maren@example.org"])
def test_a_number_that_no_web_server_of_ours_made_is_not_taken_over(app: Flask, given: str) -> None:
    made = [app.test_client().get("/up", headers={"X-Request-Id": given}).headers["X-Request-Id"] for _ in range(2)]
    assert given not in made and made[0] != made[1]


def test_a_database_that_is_damaged_under_the_service_has_its_own_words(
    app: Flask, house: House, tmp_path: Path
) -> None:
    client = app.test_client()
    assert client.get("/").status_code == 200
    close_database()
    (tmp_path / "portal.db").write_bytes(b"This is a letter, and no database at all. " * 1000)
    for leftover in tmp_path.glob("portal.db-*"):
        leftover.unlink()
    open_database(str(tmp_path / "portal.db"))
    answer = client.get("/")
    assert answer.status_code == 503 and "database is damaged" in answer.get_data(as_text=True)
    problem = refused(ApiClient(client, house.links["homeowner"]).get("projects/7"), 503)
    assert problem["type"] == "/problems/damaged-database"
