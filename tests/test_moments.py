"""The moments of `bash tests/long moments` are what their names say, from whatever day one counts."""

import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from tests.moments import HOUSE, moments

ROOT = Path(__file__).parents[1]
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


def test_the_command_says_how_far_ahead_one_is() -> None:
    command = [sys.executable, "-m", "tests.moments"]
    named = subprocess.run([*command, "leap_day"], cwd=ROOT, capture_output=True, text=True, check=True)
    at = datetime.now(UTC) + timedelta(seconds=int(named.stdout))
    assert abs(at - moments(datetime.now(UTC))["leap_day"]) < timedelta(minutes=1)
    unknown = subprocess.run([*command, "noon"], cwd=ROOT, capture_output=True, text=True)
    assert unknown.returncode == 2 and "friday_evening" in unknown.stderr
