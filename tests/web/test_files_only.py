"""A service that was started with other keys: pages are served as they are on disk, and nothing else is done."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask

from portal.app import create_app
from portal.pages.publishing.publish import Publisher
from portal.pages.publishing.site import KEPT_CALENDAR
from portal.store.engine.database import close_database
from tests.demo_house import DemoHouse
from tests.served import ApiClient


@pytest.fixture
def app(demo: DemoHouse, request: pytest.FixtureRequest) -> Iterator[Flask]:
    """Published, stopped, and started again after this key file was replaced by another."""
    Publisher(demo.settings.site, demo.settings.secret, background=False).publish_all()
    close_database()
    (demo.folder / request.param).write_text("ab" * 32)
    yield create_app(type(demo.settings).read({"PORTAL_DATA": str(demo.folder), "PORTAL_BASE_URL": "http://localhost"}))


def files(folder: Path) -> dict[str, object]:
    return {str(path): path.readlink() if path.is_symlink() else path.is_file() and path.read_bytes()
            for path in (folder / "site").rglob("*")}


@pytest.mark.parametrize("app", ["record-key", "secret"], indirect=True)
def test_pages_are_served_and_nothing_else_is_done(app: Flask, demo: DemoHouse) -> None:
    before, client, link = files(demo.folder), app.test_client(), demo.told.links[0]
    page = client.get(f"/p/{link}/")
    assert page.status_code == 200
    assert page.data == (demo.folder / "site" / "pages" / str(demo.project) / "index.html").read_bytes()
    calendar = client.get(f"/p/{link}/visits.ics")
    assert calendar.data == (demo.folder / "site" / "pages" / str(demo.project) / KEPT_CALENDAR).read_bytes()
    for open_to_all in ("/", "/guide/", "/check/", "/up", "/static/look/base.css"):
        with client.get(open_to_all) as answer:
            assert answer.status_code in (200, 404)
    refused = [
        client.get(f"/p/{link}/record/1/receipt.json"), client.post(f"/p/{link}/copy/"), client.get("/desk/sign-in/"),
        client.post(f"/p/{link}/decisions/1/approve", data={"option": "a"}),
    ]  # fmt: skip
    for answer in refused:
        assert answer.status_code == 500 and b"other keys than those of its records" in answer.data
        assert str(demo.folder).encode() not in answer.data
    answer = ApiClient(client, demo.told.tokens["manager"]).get("projects/1")
    assert answer.status_code == 500 and answer.json["type"].endswith("/problems/files-only")
    assert files(demo.folder) == before


@pytest.mark.parametrize("app", ["secret"], indirect=True)
def test_a_page_that_is_not_on_disk_is_not_made(app: Flask, demo: DemoHouse) -> None:
    """It would be made with links that open nothing."""
    link = demo.told.links[0]
    (demo.folder / "site" / "pages" / str(demo.project) / "index.html").unlink()
    assert app.test_client().get(f"/p/{link}/").status_code == 500
    assert (demo.folder / "site" / "p" / link).is_symlink()


@pytest.mark.parametrize("app", ["record-key"], indirect=True)
def test_the_log_says_why(demo: DemoHouse, app: Flask, caplog: pytest.LogCaptureFixture) -> None:
    create_app(type(demo.settings).read({"PORTAL_DATA": str(demo.folder), "PORTAL_BASE_URL": "http://localhost"}))
    assert "Only files are served: the keys are not those of the database" in caplog.text


def test_a_key_that_changes_while_the_service_runs_signs_nothing(demo: DemoHouse) -> None:
    client = create_app(demo.settings).test_client()
    demo.settings.record_key_file.write_text("ab" * 32)
    link = demo.told.links[0]
    for answer in (client.get(f"/p/{link}/record/1/receipt.json"), client.post(f"/p/{link}/copy/"),
                   ApiClient(client, demo.told.tokens["manager"]).get("projects/1/record/1/receipt")):
        assert answer.status_code == 500 and b"other keys than those of its records" in answer.data
        assert str(demo.folder).encode() not in answer.data
