"""What backups are tried on: the demo's house on an old server, and commands typed there or on a new one."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from freezegun import freeze_time

from portal import cli
from portal.store.engine.database import close_database
from tests.commands.typing_in import Said
from tests.demo_house import DemoHouse, demo_house
from tests.house import NOW

Type = Callable[..., Said]


@pytest.fixture
def old(tmp_path: Path) -> Iterator[DemoHouse]:
    """The server that will be lost, with a plan of the firm's own."""
    demo = demo_house(tmp_path / "old")
    (demo.folder / "plans").mkdir()
    (demo.folder / "plans" / "bath.toml").write_text('title = "Our bath"\n')
    yield demo
    close_database()


@pytest.fixture
def type_in(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Iterator[Type]:
    """`type_in(folder, "backup", file)`: a command on the server whose data lie in this folder."""
    monkeypatch.setenv("PORTAL_BASE_URL", "http://localhost")

    def run(data: Path, *arguments: object) -> Said:
        monkeypatch.setenv("PORTAL_DATA", str(data))
        capsys.readouterr()
        status = cli.main([str(argument) for argument in arguments])
        close_database()
        return Said(status, *capsys.readouterr())

    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        yield run


@pytest.fixture
def backup(old: DemoHouse, tmp_path: Path, type_in: Type) -> Path:
    """A backup of the old server, on another disk."""
    path = tmp_path / "backup.zip"
    assert type_in(old.folder, "backup", path).status == 0
    return path
