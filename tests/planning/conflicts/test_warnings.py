"""Warnings besides conflicts: in words, by when, and about what."""

from datetime import date

from portal.pages.warning_words import warning_words
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.conflicts.warnings import (
    BEGUN_AHEAD,
    CONTRACT_ANSWER,
    CONTRACT_ORDER,
    begun_ahead,
    contract_warnings,
    night_warnings,
)
from portal.planning.contract import CancellationWindow, cancellation_window
from portal.planning.household.nights import Shortfall
from portal.planning.household.outages import Because
from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.plan import DONE, UNDER_WAY, Decision, Delivery
from tests.planning.houses import DAY, at, phase, plan_of

TUESDAY = date(2026, 12, 1)
ENTER = "Enter what has happened, or change what it follows."


def _night(first: date, last: date, tell_by: date, by_day: bool = False) -> Shortfall:
    return Shortfall("no_water", first, last, 0, None, (Because("Rough plumbing"),), (3,), tell_by, by_day)


def _schedule(crew: WorkCalendar, now: str) -> Schedule:
    """Decision 9 holds what could start on Mon Dec 7 and is needed a working day ahead; an item comes on Dec 10."""
    held = phase(1, DAY, held_by=(9,), not_before=at(crew, "2026-12-07 00:00"))
    day = date(2026, 12, 10)
    return schedule(plan_of(crew, "2026-12-01 08:00", [held, phase(2, DAY)], decisions=(Decision(9, 4),),
                            deliveries=(Delivery(5, (2,), day, day, day, item="Tub"),)), at(crew, now))


def _kinds(crew: WorkCalendar, now: str, window: CancellationWindow) -> list[str]:
    return [one.kind for one in contract_warnings(_schedule(crew, now), window)]


def test_one_night_several_nights_and_a_day_are_told_apart() -> None:
    friday, sunday, monday = date(2026, 12, 11), date(2026, 12, 13), date(2026, 12, 8)
    one, more, by_day = night_warnings(
        [_night(friday, friday, monday), _night(friday, sunday, monday), _night(friday, friday, monday, True)], TUESDAY
    )
    assert warning_words(one) == (
        "In the night of Fri Dec 11 there is no water, because of Rough plumbing. Tell the household by Tue Dec 8."
    )
    assert warning_words(more) == (
        "From the night of Fri Dec 11 to the night of Sun Dec 13 there is no water, because of Rough plumbing. "
        "Tell the household by Tue Dec 8."
    )
    assert warning_words(by_day) == (
        "On Fri Dec 11, while the crew works, there is no water, because of Rough plumbing. "
        "Tell the household by Tue Dec 8."
    )
    assert (one.kind, one.on, one.phases) == ("no_water", friday, (3,))


def test_the_last_day_to_tell_is_still_in_time() -> None:
    (night,) = night_warnings([_night(date(2026, 12, 4), date(2026, 12, 4), TUESDAY)], TUESDAY)
    assert "Tell the household by Tue Dec 1." in warning_words(night)
    (night,) = night_warnings([_night(date(2026, 12, 4), date(2026, 12, 4), TUESDAY)], date(2026, 12, 2))
    assert warning_words(night) == (
        "In the night of Fri Dec 4 there is no water, because of Rough plumbing. "
        "The household must be told today: it is less than three working days ahead."
    )


def test_all_reasons_of_a_night_are_named() -> None:
    why = (Because("Tear out"), Because("Grout the floor"))
    two = Shortfall("no_toilet", TUESDAY, TUESDAY, 0, None, why, (3, 4), TUESDAY)
    (night,) = night_warnings([two], TUESDAY)
    assert "no toilet can be used, because of Tear out, Grout the floor." in warning_words(night)
    assert night.phases == (3, 4)


def test_answers_and_orders_are_told_until_the_window_is_over(crew: WorkCalendar) -> None:
    """Signed on Tue Dec 1, to be cancelled until midnight of Fri Dec 4, on which decision 4 is needed."""
    window = cancellation_window(TUESDAY)
    assert window.ends == date(2026, 12, 4)
    assert _kinds(crew, "2026-12-01 09:00", window) == [CONTRACT_ANSWER, CONTRACT_ORDER]
    assert _kinds(crew, "2026-12-04 18:00", window) == [CONTRACT_ANSWER, CONTRACT_ORDER]
    assert _kinds(crew, "2026-12-05 09:00", window) == []


def test_an_answer_that_is_needed_after_it_is_none_of_its_business(crew: WorkCalendar) -> None:
    window = cancellation_window(date(2026, 11, 30))
    assert window.ends == date(2026, 12, 3)
    assert _kinds(crew, "2026-12-01 09:00", window) == [CONTRACT_ORDER]


def test_what_is_warned_of_says_what_and_until_when(crew: WorkCalendar) -> None:
    answer, order = contract_warnings(_schedule(crew, "2026-12-01 09:00"), cancellation_window(TUESDAY))
    assert warning_words(answer) == (
        "Decision 4 is needed by Fri Dec 4, and the contract can be cancelled until the end of Fri Dec 4. "
        "Don’t count on the answer before."
    )
    assert (answer.on, answer.decision, answer.delivery, answer.phases) == (date(2026, 12, 4), 9, None, ())
    assert warning_words(order) == (
        "Tub is on order, and the contract can be cancelled until the end of Fri Dec 4. "
        "Make sure that the order can be taken back."
    )
    assert (order.on, order.decision, order.delivery, order.phases) == (date(2026, 12, 10), None, 5, (2,))


def test_what_is_answered_has_arrived_or_has_no_name(crew: WorkCalendar) -> None:
    """An answered decision and an item that is here are no matter; an item without a name is an item."""
    day = date(2026, 12, 10)
    here = Delivery(5, (1,), day, day, day, arrived=at(crew, "2026-12-01 08:00"), item="Tub")
    nameless = Delivery(6, (1,), day, day, day)
    plan = plan_of(crew, "2026-12-01 08:00", [phase(1, DAY, held_by=(9,))],
                   decisions=(Decision(9, 4, open=False, asked_for=TUESDAY),), deliveries=(here, nameless))
    (one,) = contract_warnings(schedule(plan, plan.starts), cancellation_window(TUESDAY))
    assert one.delivery == 6
    assert warning_words(one).startswith("An item is on order, and ")


def test_before_it_is_signed_nothing_is_on_order_within_it(crew: WorkCalendar) -> None:
    assert _kinds(crew, "2026-12-01 09:00", cancellation_window(date(2026, 12, 2))) == [CONTRACT_ANSWER]


def test_work_that_began_ahead_of_what_it_follows_is_told_until_that_is_over(crew: WorkCalendar) -> None:
    began = at(crew, "2026-12-02 08:00")
    ahead = phase(2, DAY, [(1, 24 * 60)], state=UNDER_WAY, started=began)

    def words(**before: object) -> list[str]:
        plan = plan_of(crew, "2026-12-01 08:00", [phase(1, DAY, **before), ahead])
        found = list(begun_ahead(schedule(plan, at(crew, "2026-12-02 09:00"))))
        assert all((one.kind, one.phases, one.on) == (BEGUN_AHEAD, (2, 1), date(2026, 12, 2)) for one in found)
        return [warning_words(one) for one in found]

    assert words() == [
        f"“phase 2” has begun, but it follows “phase 1”, which has not begun. {ENTER}"
    ]
    assert words(state=UNDER_WAY, started=began - DAY) == [
        f"“phase 2” has begun, but it follows “phase 1”, which is not finished. {ENTER}"
    ]
    yesterday = {"state": DONE, "started": began - 24 * 60, "finished": began - 16 * 60}
    assert words(**yesterday) == [
        "“phase 2” has begun, but it follows “phase 1”, and the wait after that is not over before Wed Dec 2, 4:00 pm."
    ]
    assert words(**yesterday | {"finished": began - 23 * 60}) == [], "over at this very minute"
    assert len(words(**yesterday | {"finished": began - 23 * 60 + 1})) == 1
