"""Kept forecasts against what happened."""

from portal.planning.forecast.track_record import MADE_AHEAD, KeptForecast, Outcome, outcomes, track_record


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


WEEK = 7 * 24 * 60


def outcome(likely_by: int, safely_by: int, finished: int) -> Outcome:
    return Outcome(KeptForecast(0, 1, likely_by, safely_by), finished)


def test_the_very_minute_still_holds() -> None:
    record = track_record([outcome(100, 200, 100), outcome(100, 200, 101), outcome(100, 200, 200)])
    assert record is not None
    assert (record.count, record.likely, record.safe) == (3, 1, 3)
    over = track_record([outcome(100, 200, 201)])
    assert over is not None
    assert (over.likely, over.safe) == (0, 0)


def test_lateness_is_a_median_with_its_sign_and_without() -> None:
    """Twenty early, ten late, fifty late: the middle is ten late; without the sign it is twenty."""
    record = track_record([outcome(100, 200, finished) for finished in (80, 110, 150)])
    assert record is not None
    assert (record.late, record.off) == (10, 20)
    assert outcome(100, 200, 80).late == -20


def test_a_forecast_counts_when_it_was_made_a_week_ahead_to_the_minute() -> None:
    on_time, too_late = (KeptForecast(made, 1, 0, 0) for made in (1_000, 1_001))
    assert MADE_AHEAD == WEEK
    assert outcomes([on_time, too_late], {1: 1_000 + WEEK}) == (Outcome(on_time, 1_000 + WEEK),)
    assert outcomes([too_late], {1: 1_000 + WEEK}) == ()
    assert outcomes([too_late], {1: 1_000 + WEEK}, ahead=WEEK - 1) == (Outcome(too_late, 1_000 + WEEK),)


def test_the_last_of_them_counts_in_whatever_order_they_are_given() -> None:
    early, late = KeptForecast(0, 1, 1, 1), KeptForecast(5, 1, 2, 2)
    for kept in ([early, late], [late, early]):
        assert [one.kept for one in outcomes(kept, {1: 2 * WEEK})] == [late]


def test_what_is_not_finished_says_nothing_yet() -> None:
    assert outcomes([KeptForecast(0, 2, 1, 1)], {1: 2 * WEEK, None: 2 * WEEK}) == ()
