"""Links are credentials: whatever goes wrong, they stay out of the log."""

import json
import traceback
from importlib import import_module
from pathlib import Path

import pytest

from portal.pages.publishing.site import Site
from portal.request.traces.logged_path import logged_path
from portal.running.log_lines import JsonLines
from tests.house import House
from tests.served import serve_house

LINK = "Zm9yLXRoZS1mYW1pbHktb25seQ_-1234567890abcde"


@pytest.mark.parametrize("way", ["", "decisions/1/", "record/"])
def test_what_fails_under_a_link_is_logged_without_it(
    house: House, tmp_path: Path, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise RuntimeError("the roof is leaking")

    app = serve_house(tmp_path)
    app.config["PROPAGATE_EXCEPTIONS"] = False
    for name, function in (("blueprint", "read_snapshot"), ("page", "published")):
        monkeypatch.setattr(import_module(f"portal.web.house.{name}"), function, fail)
    link = house.links["homeowner"]
    assert app.test_client().get(f"/p/{link}/{way}").status_code == 500
    (record,) = caplog.records
    line = JsonLines().format(record)
    assert (json.loads(line)["route"], json.loads(line)["errors"]) == (f"/p/-/{way}", ["RuntimeError"])
    assert link not in caplog.text + line and "the roof is leaking" not in line


@pytest.mark.parametrize("mistyped", [
    "//p/{}", "/P/{}/", "/p//{}/", "/p/{}%2fdecisions/1/", "/%70/{}/", "/p/{}.", "/{}", "/x/../p/{}", "/desk/{}",
    "/guide/{}/", "/desk/projects/7/page/{}", "/api/v1/{}", "/api/v1/projects/7/{}?x={}", "/check/?code={}",
    "/static/{}", "/problems/{}", "/p/{}/photos/{}", "/p/{}/?{}",
])  # fmt: skip
def test_a_link_in_any_wrong_place_is_in_no_log(
    house: House, tmp_path: Path, caplog: pytest.LogCaptureFixture, mistyped: str
) -> None:
    app, link = serve_house(tmp_path), house.links["homeowner"]
    app.config["PROPAGATE_EXCEPTIONS"] = False
    app.url_value_preprocessors[None] = [lambda *_: 1 / 0]  # type: ignore[list-item,return-value]
    way = mistyped.replace("{}", link)
    assert app.test_client().get(way, headers={"Referer": f"http://localhost/p/{link}/"}).status_code in (308, 500)
    assert "ZeroDivisionError" in caplog.text or not caplog.records
    assert not [link[at:at + 8] for at in range(len(link) - 7) if link[at:at + 8] in caplog.text]


def test_what_is_logged_of_an_address_is_its_route_with_its_numbers(house: House, tmp_path: Path) -> None:
    app = serve_house(tmp_path)
    for way, logged in {
        "/desk/projects/7/": "/desk/projects/7/", "/p/abc/decisions/3/": "/p/-/decisions/3/",
        "/guide/sealant/": "/guide/-/", "/nothing": "-", "/p/abc/nothing": "-",
    }.items():  # fmt: skip
        with app.test_request_context(way):
            assert logged_path() == logged


def test_a_disk_that_fails_names_no_link(tmp_path: Path) -> None:
    """The error of the system quotes the file's name, which is the link."""
    site = Site(tmp_path)
    site.set_links(1, {LINK})
    (tmp_path / "p" / LINK).unlink()
    (tmp_path / "p" / LINK / "in-the-way").mkdir(parents=True)
    with pytest.raises(OSError, match="site|p") as failed:
        site.set_links(1, set())
    assert LINK not in "".join(traceback.format_exception(failed.value))
    assert failed.value.filename == str(tmp_path / "p")
