"""What keeps a phase longest from starting, in words."""

from datetime import date

import pytest

from portal.pages.unkept_visits import reason_words
from portal.planning.conflicts.obstacles import CURE, DELIVERY, HELD, TOO_EARLY, Obstacle, longest_obstacle
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import DONE, Decision, Delivery, Phase
from tests.planning.homes import CREW
from tests.planning.houses import DAY, at, phase, plan_of, says

START = "2026-12-01 08:00"  # a Tuesday


def named(number: int, name: str, work: int, *after: int | tuple[int, int], **more: object) -> Phase:
    made = phase(number, work, after, **more)
    return Phase(number, name, work, work, work, after=made.after, held_by=made.held_by, released=made.released,
                 not_before=made.not_before, state=made.state, started=made.started, finished=made.finished)


def obstacle(*phases: Phase, starts: str = START, now: str = START, **more: object) -> Obstacle | None:
    """Of the last of the phases."""
    of = schedule(plan_of(CREW, START, phases, **more), at(CREW, now))
    return longest_obstacle(of, phases[-1].id, at(CREW, starts))


def said(found: Obstacle | None) -> tuple[str, str, str]:
    assert found is not None
    return found.kind, says(CREW, found.until), reason_words(found.reason)


def test_nothing_but_the_hours_is_no_obstacle() -> None:
    assert obstacle(phase(1, 60)) is None
    assert obstacle(phase(1, 60), starts="2026-12-05 03:00") is None


def test_the_job_has_not_started() -> None:
    assert said(obstacle(phase(1, 60), starts="2026-11-30 08:00", now="2026-11-30 08:00")) == (
        TOO_EARLY, START, "The job starts on Tue Dec 1.",
    )


def test_what_it_follows_is_not_finished() -> None:
    tile = named(1, "Set the tile", 2 * DAY)
    assert said(obstacle(tile, named(2, "Grout", 60, 1))) == (
        TOO_EARLY, "2026-12-02 16:30", "“Set the tile” is not finished before Wed Dec 2, 4:30 pm.",
    )


def test_while_it_is_not_finished_the_wait_after_it_counts_too() -> None:
    tile = named(1, "Set the tile", 2 * DAY)
    found = obstacle(tile, named(2, "Grout", 60, (1, 24 * 60)))
    assert said(found) == (TOO_EARLY, "2026-12-03 16:30", "“Set the tile” is not finished before Wed Dec 2, 4:30 pm.")


def test_the_wait_after_what_it_follows_is_not_over() -> None:
    done = named(1, "Set the tile", DAY, state=DONE, started=at(CREW, START) - 999, finished=at(CREW, START) - 60)
    assert said(obstacle(done, named(2, "Grout", 60, (1, 24 * 60)))) == (
        CURE, "2026-12-02 07:00", "The wait after “Set the tile” is not over before Wed Dec 2, 7:00 am.",
    )
    assert obstacle(done, named(2, "Grout", 60, (1, 60))) is None, "over at this very minute"


def test_a_decision_is_not_answered() -> None:
    held = named(1, "Drill the top", 60, held_by=(7,))
    assert said(obstacle(held, decisions=(Decision(7, 3, 2), Decision(8, 4, 9)))) == (
        HELD, "2026-12-03 00:00",
        (
            "“Drill the top” is held by decision 3, which is not answered. "
            "Answered today, it lets work start on Thu Dec 3."
        ),
    )


def test_a_released_phase_is_not_held() -> None:
    released = named(1, "Drill the top", 60, held_by=(7,), released=(7,))
    assert obstacle(released, decisions=(Decision(7, 3, 2),)) is None


def test_an_answer_takes_its_lead() -> None:
    answered = Decision(7, 3, 5, open=False, answered=date(2026, 11, 30))
    assert said(obstacle(named(1, "Drill the top", 60, held_by=(7,)), decisions=(answered,))) == (
        TOO_EARLY, "2026-12-07 00:00", "Decision 3 is answered, and what it is needed for takes until Mon Dec 7.",
    )
    assert obstacle(named(1, "Drill the top", 60), decisions=(answered,)) is None, "it holds nothing here"


@pytest.mark.parametrize(("item", "words"), [("The faucet", "The faucet"), ("", "A delivery")])
def test_a_delivery_is_still_to_come(item: str, words: str) -> None:
    coming = Delivery(1, (1,), *[date(2026, 12, 3)] * 3, item=item)
    assert said(obstacle(phase(1, 60), deliveries=(coming,))) == (
        DELIVERY, "2026-12-04 00:00", f"{words} is not expected before Thu Dec 3 is over.",
    )


def test_a_delivery_that_is_here_or_for_another_phase_is_no_obstacle() -> None:
    here = Delivery(1, (1,), *[date(2026, 12, 9)] * 3, arrived=at(CREW, START) + 60)
    assert obstacle(phase(1, 60), deliveries=(here,)) is None
    other = Delivery(1, (1,), *[date(2026, 12, 9)] * 3)
    assert obstacle(phase(1, 60), phase(2, 60), deliveries=(other,)) is None


def test_a_date_was_set_or_the_job_rests() -> None:
    assert said(obstacle(named(1, "Paint", 60, not_before=at(CREW, "2026-12-07 00:00")))) == (
        TOO_EARLY, "2026-12-07 00:00", "“Paint” is not to start before Mon Dec 7.",
    )
    assert said(obstacle(phase(1, 60), resumes_at=at(CREW, "2026-12-07 09:00"))) == (
        TOO_EARLY, "2026-12-07 09:00", "The job rests until Mon Dec 7, 9:00 am.",
    )


def test_of_several_the_one_that_lasts_longest_is_told() -> None:
    held = named(2, "Drill the top", 60, 1, held_by=(7,), not_before=at(CREW, "2026-12-02 00:00"))
    tile = named(1, "Set the tile", DAY)
    faucet = Delivery(1, (2,), *[date(2026, 12, 4)] * 3, item="The faucet")
    decisions = (Decision(7, 3, 2),)
    assert said(obstacle(tile, held))[2] == "“Drill the top” is not to start before Wed Dec 2."
    assert said(obstacle(tile, held, decisions=decisions))[0] == HELD
    assert said(obstacle(tile, held, decisions=decisions, deliveries=(faucet,)))[0] == DELIVERY


def test_an_obstacle_that_is_over_by_then_is_none() -> None:
    held = phase(1, 60, held_by=(7,))
    assert obstacle(held, starts="2026-12-03 00:00", decisions=(Decision(7, 3, 2),)) is None
    assert obstacle(held, starts="2026-12-02 23:59", decisions=(Decision(7, 3, 2),)) is not None
