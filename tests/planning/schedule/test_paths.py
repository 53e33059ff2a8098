"""The chains of phases that together make the finish what it is."""

import pytest

from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.paths import MOST_PATHS
from portal.planning.schedule.plan import DONE, INSPECTION, UNDER_WAY, Phase
from tests.planning.homes import CREW
from tests.planning.houses import DAY, at, phase, plan_of

START = "2026-12-01 08:00"  # a Tuesday
EIGHT = at(CREW, START)


def found(*phases: Phase, now: str = START, **more: object) -> Schedule:
    return schedule(plan_of(CREW, START, phases, **more), at(CREW, now))


def test_many_ties_are_cut_off_and_it_is_said() -> None:
    phases = [phase(1, 60)]
    for layer in range(6):
        first = 2 + layer * 2
        follows = [1] if layer == 0 else [first - 2, first - 1]
        phases += [phase(first, 60, follows), phase(first + 1, 60, follows)]
    of = found(*phases)
    assert len(of.critical_paths) == 50
    assert not of.all_paths_shown


def test_as_many_as_are_shown_are_shown_whole() -> None:
    """Fifty phases beside each other, all as long: fifty paths."""
    of = found(*(phase(number, 60) for number in range(1, MOST_PATHS + 1)))
    assert len(of.critical_paths) == MOST_PATHS == 50
    assert of.all_paths_shown
    one_more = found(*(phase(number, 60) for number in range(1, MOST_PATHS + 2)))
    assert len(one_more.critical_paths) == MOST_PATHS
    assert not one_more.all_paths_shown


def test_the_longest_chain_is_the_path() -> None:
    """1-2-4 takes three days, 1-3-4 two and a half."""
    of = found(phase(1, DAY), phase(2, DAY, [1]), phase(3, DAY // 2, [1]), phase(4, DAY, [2, 3]))
    assert of.critical_paths == [(1, 2, 4)]
    assert not of.of(3).critical


def test_ties_are_all_named() -> None:
    of = found(phase(1, DAY), phase(2, DAY, [1]), phase(3, DAY, [1]), phase(4, DAY, [2, 3]))
    assert sorted(of.critical_paths) == [(1, 2, 4), (1, 3, 4)]


def test_a_phase_that_ends_with_the_finish_but_is_followed_is_no_end_of_its_own() -> None:
    """The hand-over takes no work and happens the moment the last work ends."""
    assert found(phase(1, DAY), phase(2, 0, [1])).critical_paths == [(1, 2)]


def test_a_wait_on_the_path_keeps_it_whole() -> None:
    """The cure ends on Wednesday at noon and phase 2 starts then; phase 3 has time."""
    of = found(phase(1, 240), phase(2, DAY, [(1, 24 * 60)]), phase(3, 60))
    assert of.critical_paths == [(1, 2)]


def test_a_wait_that_is_over_before_its_follower_starts_drives_nothing() -> None:
    of = found(phase(1, 60), phase(2, 4 * DAY), phase(3, 60, [(1, 60), 2]))
    assert of.critical_paths == [(2, 3)]


def test_a_cure_that_ends_on_the_weekend_drives_the_monday() -> None:
    """Done on Thu 4:30 pm, cured on Sat 4:30 pm; phase 1 has total float, and is the reason all the same."""
    of = found(phase(1, 3 * DAY), phase(2, 60, [(1, 48 * 60)]))
    assert of.of(1).total_float == DAY
    assert of.critical_paths == [(1, 2)]


def test_by_the_clock_the_moment_itself_must_meet() -> None:
    """Two cures of one day each, an hour apart: only the later one makes the moment."""
    of = found(phase(1, 60), phase(2, 120), phase(3, 0, [(1, 24 * 60), (2, 24 * 60)]))
    assert of.critical_paths == [(2, 3)]


def test_what_is_done_is_on_no_path() -> None:
    done = phase(1, DAY, state=DONE, started=EIGHT - DAY, finished=EIGHT)
    assert found(done, phase(2, 60, [1])).critical_paths == [(2,)]


@pytest.mark.parametrize("state", [UNDER_WAY, INSPECTION])
def test_what_has_begun_is_a_beginning(state: str) -> None:
    """It is bound by nothing before it any more, whatever it followed."""
    begun = phase(2, DAY, [1], state=state, started=EIGHT, inspection_at=at(CREW, "2026-12-01 16:30"))
    assert found(phase(1, 60), begun, phase(3, 60, [2])).critical_paths == [(2, 3)]


def test_long_chains_are_walked_without_recursion() -> None:
    chain = [phase(1, 1), *(phase(number, 1, [number - 1]) for number in range(2, 1_501))]
    assert found(*chain).critical_paths == [tuple(range(1, 1_501))]
