"""Kept forecasts against what happened."""

from portal.planning.forecast.track_record import KeptForecast, outcomes, track_record


def test_kept_forecasts_are_held_against_what_happened() -> None:
    day = 1440
    kept = [
        KeptForecast(0, 1, 20 * day, 24 * day), KeptForecast(5 * day, 1, 21 * day, 26 * day),
        KeptForecast(22 * day, 1, 25 * day, 25 * day), KeptForecast(0, 2, 30 * day, 33 * day),
        KeptForecast(0, 3, 9 * day, 10 * day), KeptForecast(0, None, 40 * day, 44 * day),
    ]
    found = outcomes(kept, {1: 25 * day, 2: 34 * day, None: 39 * day})
    assert [one.kept.made_at for one in found] == [5 * day, 0, 0], "the eve does not count, an older one neither"
    record = track_record(found)
    assert record is not None
    assert (record.count, record.safe, record.likely) == (3, 2, 1)
    assert (record.late, record.off) == (4 * day, 4 * day)
    assert track_record(outcomes(kept, {})) is None
