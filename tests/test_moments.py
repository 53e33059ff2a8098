"""The moments of `bash tests/long moments` are what their names say, from whatever day one counts."""

import subprocess
import sys
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from pathlib import Path
from urllib.request import urlopen

import pytest

from tests.browser.demo import running_demo
from tests.moments import HOUSE, moments

ROOT = Path(__file__).parents[1]
MINUTE = timedelta(minutes=1)
DAYS = [
    datetime(2026, 11, 28, 12, tzinfo=UTC), datetime(2027, 12, 31, 23, tzinfo=UTC),
    datetime(2028, 2, 29, 18, tzinfo=UTC),
]  # fmt: skip


@pytest.mark.parametrize("now", DAYS)
def test_each_lies_ahead_and_is_what_it_is_called(now: datetime) -> None:
    found = moments(now)
    assert all(moment > now for moment in found.values())
    assert f"{found['friday_evening']:%a %H:%M}" == "Fri 19:30"
    assert f"{found['saturday_night']:%a %H:%M}" == "Sat 23:30"
    assert f"{found['new_years_eve']:%b %d}" == "Dec 31"
    assert f"{found['new_years_eve'].astimezone(UTC):%b %d}" == "Jan 01"
    assert f"{found['leap_day']:%b %d}" == "Feb 29"


@pytest.mark.parametrize("now", DAYS)
def test_the_clock_changes_within_minutes(now: datetime) -> None:
    found = moments(now)
    after = (found["skipped_hour"].astimezone(UTC) + timedelta(minutes=3)).astimezone(HOUSE)
    assert f"{found['skipped_hour']:%H:%M} {after:%H:%M}" == "01:57 03:00"
    first, second = (found[name].astimezone(UTC) for name in ("doubled_hour", "doubled_hour_again"))
    assert second - first == timedelta(hours=1)
    assert f"{found['doubled_hour']:%H:%M}" == f"{found['doubled_hour_again']:%H:%M}" == "01:05"


def test_the_command_runs_another_at_the_moment() -> None:
    told = [sys.executable, "-c", "import time; time.sleep(0.1); print(time.time())"]
    command = [sys.executable, "-m", "tests.moments"]
    then = subprocess.run([*command, "leap_day", *told], cwd=ROOT, capture_output=True, text=True, check=True)
    assert (
        timedelta() < datetime.fromtimestamp(float(then.stdout), UTC) - moments(datetime.now(UTC))["leap_day"] < MINUTE
    )
    unknown = subprocess.run([*command, "noon", *told], cwd=ROOT, capture_output=True, text=True)
    assert unknown.returncode == 2 and "friday_evening" in unknown.stderr


@pytest.mark.parametrize("name", ["new_years_eve", "leap_day", "doubled_hour_again"])
def test_the_demo_starts_and_shows_its_pages_at_that_moment(name: str, tmp_path: Path) -> None:
    portal = [sys.executable, "-m", "tests.moments", name, str(Path(sys.executable).with_name("portal"))]
    with running_demo(tmp_path / "data", portal) as said:
        page = urlopen(said["pages"][0], timeout=20)
        text = " ".join(page.read().decode().split())  # dates are joined so that no line breaks in them
    moment = moments(datetime.now(UTC))[name]
    assert timedelta() <= parsedate_to_datetime(page.headers["Date"]) - moment < MINUTE
    assert f"As of {moment:%a} {moment:%b} {moment.day}, " in text  # of these days, the weekday tells the year
