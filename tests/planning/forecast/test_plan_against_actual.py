"""How far a plan's times were off, by work that is finished."""

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
