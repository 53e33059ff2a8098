"""`portal publish`: a page that can't be written is named, and the others are written all the same."""

from pathlib import Path

import pytest

from portal import cli
from portal.store.engine.database import open_database
from portal.store.tables import Project
from tests.house import SECRET, House


def test_a_page_that_can_not_be_written_is_named(
    house: House, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "secret").write_text(SECRET.hex())
    monkeypatch.setenv("PORTAL_DATA", str(tmp_path))
    Project.update(timezone="Nowhere/At_all").where(Project.id == house.project).execute()
    assert cli.main(["publish", "--all"]) == 1
    open_database(str(tmp_path / "portal.db"))
    assert f"could not be published: {house.project}. The others are." in capsys.readouterr().err
    assert (tmp_path / "site" / "p" / house.links["other_homeowner"] / "index.html").exists()
