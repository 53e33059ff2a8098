"""The service listens first; what is stale on the pages is published beside it."""

import os
import socket
import subprocess
import sys
import time
from pathlib import Path
from urllib.request import urlopen

import pytest

from portal.commands import catching_up
from portal.commands.catching_up import DONE, catch_up, state_of_the_program
from portal.pages.publishing.publish import Publisher
from portal.settings import Settings
from portal.store.engine.database import touch, write
from tests.deploy.site import free_port
from tests.house import SECRET, House


@pytest.fixture
def settings(house: House, tmp_path: Path) -> Settings:
    (tmp_path / "secret").write_text(SECRET.hex())
    return Settings.read({"PORTAL_DATA": str(tmp_path)})


@pytest.fixture
def written(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The projects whose pages were written, in order."""
    found: list[int] = []
    timed = Publisher._timed

    def told(publisher: Publisher, project_id: int, now: int, *, anew: bool) -> None:
        found.append(project_id)
        timed(publisher, project_id, now, anew=anew)

    monkeypatch.setattr(Publisher, "_timed", told)
    return found


def test_the_first_start_writes_all_pages_and_the_next_those_that_are_stale(
    settings: Settings, written: list[int], house: House
) -> None:
    assert catch_up(settings) == [] and written == [house.project, house.other_project]
    assert catch_up(settings) == [] and written == [house.project, house.other_project]
    with write():
        touch(house.other_project)
    assert catch_up(settings) == [] and written[2:] == [house.other_project]


@pytest.mark.parametrize("changed", ["program", "machine"])
def test_another_program_and_a_machine_that_started_again_write_all_pages_anew(
    settings: Settings, written: list[int], monkeypatch: pytest.MonkeyPatch, tmp_path: Path, changed: str
) -> None:
    catch_up(settings)
    (tmp_path / "new").write_text("another")
    name, value = {"program": ("STATIC", tmp_path), "machine": ("_BOOT", tmp_path / "new")}[changed]
    monkeypatch.setattr(catching_up, name, value)
    assert catch_up(settings) == [] and len(written) == 4


def test_what_failed_is_tried_at_the_next_start(
    settings: Settings, monkeypatch: pytest.MonkeyPatch, house: House
) -> None:
    with monkeypatch.context() as broken:
        broken.setattr(Publisher, "_publish", lambda *_, **__: 1 / 0)
        assert catch_up(settings) == [house.project, house.other_project]
    assert not (settings.site / DONE).exists()
    assert catch_up(settings) == [] and (settings.site / DONE).read_text() == state_of_the_program()


def test_the_service_answers_before_the_pages_are_written_and_they_are_written(
    settings: Settings, house: House, tmp_path: Path
) -> None:
    """The page of the first house is locked, as if its publishing took for ever: nobody waits for it."""
    port, page = free_port(), settings.site / "pages/8/index.html"
    command = [sys.executable, "-m", "portal.cli", "serve", "--port", str(port), "--workers", "1"]
    environment = os.environ | {"PORTAL_DATA": str(tmp_path), "PORTAL_BASE_URL": f"http://127.0.0.1:{port}"}
    with Publisher(settings.site, SECRET).site.lock(house.project):
        server = subprocess.Popen(command, env=environment)
        try:
            _until(lambda: _listens(port), server)
            with urlopen(f"http://127.0.0.1:{port}/", timeout=60) as answer:
                assert answer.status == 200
            assert not page.exists()
        except BaseException:
            server.kill()
            raise
    try:
        _until(page.exists, server)
    finally:
        server.terminate()
        assert server.wait(30) == 0


def _listens(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


def _until(come: object, server: subprocess.Popen[bytes]) -> None:
    until = time.monotonic() + 60
    while not come():  # type: ignore[operator]
        assert server.poll() is None and time.monotonic() < until
        time.sleep(0.05)
