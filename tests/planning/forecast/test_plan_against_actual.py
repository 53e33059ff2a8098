"""How far a plan's times were off, by work that is finished."""

import pytest

from portal.planning.forecast.plan_against_actual import FinishedPhase, actual_work, deviations
from tests.planning.homes import CREW
from tests.planning.houses import at


def test_finished_work_says_how_far_the_plan_was_off() -> None:
    finished = [
        FinishedPhase("Set the tile", 480, 720, 960, 1080), FinishedPhase("Set the tile", 480, 720, 960, 900),
        FinishedPhase("Set the tile", 480, 720, 960, 1440), FinishedPhase("Paint", 360, 480, 720, 480),
        FinishedPhase("Hand over", 0, 0, 0, 30),
    ]
    tile, paint = deviations(finished)
    assert (tile.name, tile.count, tile.ratio, tile.within) == ("Set the tile", 3, 1.5, 1)
    assert tile.corrected == (720, 1080, 1440)
    assert (paint.ratio, paint.within, paint.corrected) == (1.0, 1, (360, 480, 720))


def test_a_phase_that_took_a_third_is_as_far_off_as_one_that_took_three_times() -> None:
    quick, slow = deviations([FinishedPhase("Quick", 300, 300, 300, 100), FinishedPhase("Slow", 300, 300, 300, 900)])
    assert (quick.name, slow.name) == ("Quick", "Slow")
    assert quick.corrected[0] <= quick.corrected[1] <= quick.corrected[2]


def test_rests_are_no_work() -> None:
    started, finished = at(CREW, "2026-12-01 08:00"), at(CREW, "2026-12-03 12:00")
    assert actual_work(CREW, started, finished) == 510 + 510 + 240
    rest = (at(CREW, "2026-12-01 12:00"), at(CREW, "2026-12-02 16:30"))
    assert actual_work(CREW, started, finished, [rest]) == 240 + 240
    assert actual_work(CREW, started, finished, [(started - 99, finished + 99)]) == 0


def test_a_ratio_is_actual_to_likely() -> None:
    assert FinishedPhase("Tile", 480, 720, 960, 1_080).ratio == 1.5
    assert FinishedPhase("Hand over", 0, 0, 0, 30).ratio is None


@pytest.mark.parametrize(("actual", "within"), [(479, False), (480, True), (720, True), (960, True), (961, False)])
def test_within_means_both_ends_too(actual: int, within: bool) -> None:
    assert FinishedPhase("Tile", 480, 720, 960, actual).within is within


def test_corrected_times_are_wide_enough_for_all_that_happened() -> None:
    """Ratios 0.5, 1, 2: the median is 1, so the likely time stays; what took 120 and what took 480 lie outside of 200
    to 300, so low and high move out to them."""
    (tile,) = deviations([FinishedPhase("Tile", 200, 240, 300, actual) for actual in (240, 120, 480)])
    assert (tile.ratio, tile.within, tile.corrected) == (1.0, 1, (120, 240, 480))


def test_corrected_times_follow_the_median_and_the_last_plan() -> None:
    """An older plan of 100 took 150, the last of 200 to 400 took 450 instead of 300: all times half as long again."""
    (tile,) = deviations([FinishedPhase("Tile", 80, 100, 120, 150), FinishedPhase("Tile", 200, 300, 400, 450)])
    assert tile.ratio == 1.5
    assert tile.corrected == (150, 450, 600), "low: 150 happened, and 200 * 1.5 is more"


def test_corrected_times_are_quarters_of_an_hour_and_never_none() -> None:
    (short,) = deviations([FinishedPhase("Check", 1, 2, 3, 2)])
    assert short.corrected == (15, 15, 15)
    (odd,) = deviations([FinishedPhase("Check", 100, 110, 131, 110)])
    assert odd.corrected == (105, 105, 135), "100 is nearer to 105 than to 90, 110 nearer to 105 than to 120"


def test_the_furthest_off_comes_first_and_names_break_ties() -> None:
    off = deviations([
        FinishedPhase("As planned", 60, 60, 60, 60), FinishedPhase("Twice", 60, 60, 60, 120),
        FinishedPhase("Half", 60, 60, 60, 30), FinishedPhase("Three times", 60, 60, 60, 180),
        FinishedPhase("No time at all", 60, 60, 60, 0),
    ])
    assert [one.name for one in off] == ["Three times", "Half", "Twice", "As planned"]


@pytest.mark.parametrize(("low", "actual", "ran"), [
    (60, 0, False), (60, 14, False), (60, 15, True), (10, 9, False), (10, 10, True), (0, 0, True),
])
def test_two_taps_within_minutes_say_nothing_of_the_work(low: int, actual: int, ran: bool) -> None:
    one = FinishedPhase("Tile", low, 60, 60, actual)
    assert one.ran is ran
    assert len(deviations([one])) == ran


def test_a_rest_counts_as_far_as_it_lies_within_the_work() -> None:
    started, finished = at(CREW, "2026-12-01 08:00"), at(CREW, "2026-12-01 12:00")
    assert actual_work(CREW, started, finished, [(started - 600, started + 30)]) == 210
    assert actual_work(CREW, started, finished, [(finished - 30, finished + 600)]) == 210
    assert actual_work(CREW, started, finished, [(started - 60, started), (finished, finished + 60)]) == 240
    assert actual_work(CREW, started, finished, [(started + 60, started + 90), (started + 120, started + 180)]) == 150
