"""`portal backup FOLDER --keep-days DAYS`, as the timer calls it: dated names, and the end of the old ones."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from freezegun import freeze_time

from portal.backup.dated import ALWAYS, dated_name, end_old
from portal.backup.last import none_since
from tests.commands.conftest import Type
from tests.demo_house import DemoHouse, settings_at
from tests.house import NOW

DAY = 24 * 3600


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "backups").mkdir()
    return tmp_path / "backups"


def laid_down(folder: Path, days: range) -> None:
    for ago in days:
        (folder / dated_name(NOW - ago * DAY)).write_bytes(b"old")


def laid_down_after(backup: Path, folder: Path, days: range) -> None:
    """The newest is whole: the one of tonight is compared with it."""
    laid_down(folder, days)
    (folder / dated_name(NOW - days[0] * DAY)).write_bytes(backup.read_bytes())


def test_in_a_folder_it_is_named_by_its_date(old: DemoHouse, folder: Path, type_in: Type) -> None:
    assert type_in(old.folder, "backup", folder).status == 0
    assert [path.name for path in folder.iterdir()] == ["portal-20261202T133000Z.zip"]
    settings = settings_at(old.folder)
    assert none_since(settings, NOW + 2 * DAY) is None and none_since(settings, NOW + 2 * DAY + 1) == NOW


def test_those_older_than_the_days_go_and_other_files_stay(
    old: DemoHouse, folder: Path, type_in: Type, backup: Path
) -> None:
    laid_down_after(backup, folder, range(1, 41))
    others = [folder / name for name in ("before-the-move.zip", "portal-20200101.zip", "portal-99999999T999999Z.zip")]
    for other in others:
        other.write_bytes(b"mine")
    said = type_in(old.folder, "backup", folder, "--keep-days", 30)
    assert said.status == 0 and said.out.count("removed, older than 30 days.") == 10
    kept = {dated_name(NOW - ago * DAY) for ago in range(31)} | {other.name for other in others}
    assert {path.name for path in folder.iterdir()} == kept


def test_the_newest_stay_whatever_the_clock_says(old: DemoHouse, folder: Path, type_in: Type, backup: Path) -> None:
    laid_down_after(backup, folder, range(1, 20))
    with freeze_time(datetime.fromtimestamp(NOW, UTC) + timedelta(days=3650)):
        assert type_in(old.folder, "backup", folder, "--keep-days", 30).status == 0
    assert len(list(folder.iterdir())) == ALWAYS
    assert dated_name(NOW - 1 * DAY) in {path.name for path in folder.iterdir()}


def test_when_no_backup_could_be_made_none_is_ended(old: DemoHouse, folder: Path, type_in: Type) -> None:
    laid_down(folder, range(40, 60))
    (old.folder / "secret").unlink()
    assert type_in(old.folder, "backup", folder, "--keep-days", 30).status == 1
    assert len(list(folder.iterdir())) == 20


@pytest.mark.parametrize("days", [0, -1])
def test_days_that_are_none_are_refused(old: DemoHouse, folder: Path, type_in: Type, days: int) -> None:
    laid_down(folder, range(40, 60))
    assert type_in(old.folder, "backup", folder, f"--keep-days={days}").status == 1
    assert len(list(folder.iterdir())) == 20


def test_days_without_a_folder_are_refused(old: DemoHouse, folder: Path, type_in: Type) -> None:
    said = type_in(old.folder, "backup", folder / "backup.zip", "--keep-days", 30)
    assert said.status == 1 and "keep-days: Give whole days" in said.err


def test_a_backup_on_the_last_day_is_kept(folder: Path) -> None:
    laid_down(folder, range(40))
    assert end_old(folder, 30, NOW) == [folder / dated_name(NOW - ago * DAY) for ago in range(39, 30, -1)]
