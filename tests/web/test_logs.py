"""Links are credentials: whatever goes wrong, they stay out of the log."""

from importlib import import_module
from pathlib import Path

import pytest

from tests.house import House
from tests.served import serve_house


@pytest.mark.parametrize("way", ["", "decisions/1/", "record/"])
def test_what_fails_under_a_link_is_logged_without_it(
    house: House, tmp_path: Path, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("the roof is leaking")

    app = serve_house(tmp_path)
    app.config["PROPAGATE_EXCEPTIONS"] = False
    for name, function in (("blueprint", "read_snapshot"), ("page", "published")):
        monkeypatch.setattr(import_module(f"portal.web.house.{name}"), function, fail)
    link = house.links["homeowner"]
    assert app.test_client().get(f"/p/{link}/{way}").status_code == 500
    assert "the roof is leaking" in caplog.text and f"/p/-/{way}" in caplog.text
    assert link not in caplog.text
