"""Times as people send them: the wall clock at the house, in the hours that occur twice and never, too."""

from datetime import UTC, datetime, timedelta, timezone

import pytest

from portal.acts.refusals import FieldRefused
from portal.acts.times import existing_local
from tests.house import ZONE, at


def test_a_wall_clock_is_that_of_the_house() -> None:
    noon = datetime(2026, 12, 10, 12)
    assert existing_local(noon, ZONE, "at") == at("2026-12-10T12:00")
    assert existing_local(noon, "America/New_York", "at") == at("2026-12-10T11:00")


def test_an_offset_counts_more_than_the_house() -> None:
    east = timezone(timedelta(hours=-5))
    assert existing_local(datetime(2026, 12, 10, 12, tzinfo=east), ZONE, "at") == at("2026-12-10T11:00")
    assert existing_local(datetime(2027, 3, 14, 2, 30, tzinfo=UTC), ZONE, "at") == at("2027-03-13T20:30")


@pytest.mark.parametrize(("hour", "minute", "meant"), [(2, 0, "3:00 am"), (2, 30, "3:30 am"), (2, 59, "3:59 am")])
def test_a_time_that_the_clock_skips_is_refused_with_the_one_that_is_meant(hour: int, minute: int, meant: str) -> None:
    with pytest.raises(FieldRefused, match="does not exist: the clocks go forward then") as refused:
        existing_local(datetime(2027, 3, 14, hour, minute), ZONE, "starts_at")
    assert refused.value.field == "starts_at"
    assert f"Did you mean {meant}?" in str(refused.value) and "Mar 14" in str(refused.value)


@pytest.mark.parametrize(("hour", "minute"), [(1, 59), (3, 0)])
def test_right_before_and_after_the_hour_that_is_skipped_is_a_time(hour: int, minute: int) -> None:
    moment = datetime(2027, 3, 14, hour, minute)
    assert datetime.fromtimestamp(existing_local(moment, ZONE, "at"), UTC).minute == minute


def test_of_a_time_that_occurs_twice_the_first_is_meant() -> None:
    """RFC 5545, 3.3.5."""
    for fold in (0, 1):
        moment = datetime(2026, 11, 1, 1, 30, fold=fold)
        assert existing_local(moment, ZONE, "at") == int(datetime(2026, 11, 1, 6, 30, tzinfo=UTC).timestamp())
