"""What a manager is warned of, in words."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from portal.pages.warning_words import warning_words
from portal.planning.conflicts import warnings
from portal.planning.conflicts.warnings import BegunAhead, ContractWarning, NightWarning, PlanWarning
from portal.planning.household.nights import Shortfall
from portal.planning.household.outages import Because
from tests.house import ZONE

FRIDAY, SUNDAY, MONDAY = date(2026, 12, 11), date(2026, 12, 13), date(2026, 12, 7)
WHY = (Because("Rough plumbing"), Because("Seal the sink", "silicone"))


def night(last: date, late: bool = False, by_day: bool = False, kind: str = "no_water") -> str:
    found = Shortfall(kind, FRIDAY, last, 0, None, WHY, (3,), MONDAY, by_day)
    return warning_words(NightWarning(kind=kind, on=FRIDAY, shortfall=found, late=late))


def test_one_night_is_told_with_its_reasons_and_by_when() -> None:
    assert night(FRIDAY) == (
        "In the night of Fri Dec 11 there is no water, because of Rough plumbing, Seal the sink (sealant must cure). "
        "Tell the household by Mon Dec 7."
    )


def test_several_nights_and_a_day_are_told_apart() -> None:
    assert night(SUNDAY).startswith("From the night of Fri Dec 11 to the night of Sun Dec 13 there is no water")
    assert night(FRIDAY, by_day=True).startswith("On Fri Dec 11, while the crew works, there is no water")
    assert night(MONDAY + timedelta(days=7), by_day=True).startswith(
        "From Fri Dec 11 to Mon Dec 14, while the crew works, there is no water")


@pytest.mark.parametrize(
    ("kind", "said"),
    [("no_toilet", "no toilet can be used"), ("no_way_to_cook", "there is no way to cook"),
     ("no_way_in", "no way in or out is open")],
)  # fmt: skip
def test_what_is_missing_is_named(kind: str, said: str) -> None:
    assert said in night(FRIDAY, kind=kind)


def test_what_should_have_been_told_is_told_today() -> None:
    assert night(FRIDAY, late=True).endswith(
        "The household must be told today: it is less than three working days ahead."
    )


def test_answers_and_orders_wait_for_the_contract() -> None:
    answer = ContractWarning(kind=warnings.CONTRACT_ANSWER, on=MONDAY, until=FRIDAY, number=4)
    assert warning_words(answer) == (
        "Decision 4 is needed by Mon Dec 7, and the contract can be cancelled until the end of Fri Dec 11. Don’t count "
        "on the answer before."
    )
    order = ContractWarning(kind=warnings.CONTRACT_ORDER, on=MONDAY, until=FRIDAY, item="The tub")
    assert warning_words(order) == (
        "The tub is on order, and the contract can be cancelled until the end of Fri Dec 11. Make sure that the order "
        "can be taken back."
    )
    nameless = ContractWarning(kind=warnings.CONTRACT_ORDER, on=MONDAY, until=FRIDAY)
    assert warning_words(nameless).startswith("An item is on order")


@pytest.mark.parametrize(
    ("standing", "over", "said"),
    [
        ("not_begun", None, "which has not begun. Enter what has happened, or change what it follows."),
        ("under_way", None, "which is not finished. Enter what has happened, or change what it follows."),
        ("curing", datetime(2026, 12, 7, 16, 0, tzinfo=ZoneInfo(ZONE)),
         "and the wait after that is not over before Mon Dec 7, 4:00 pm."),
    ],
)  # fmt: skip
def test_work_that_began_ahead_says_of_what(standing: str, over: datetime | None, said: str) -> None:
    ahead = BegunAhead(kind=warnings.BEGUN_AHEAD, on=MONDAY, name="Grout", before="Tile", standing=standing, over=over)
    assert warning_words(ahead) == f"“Grout” has begun, but it follows “Tile”, {said}"


def test_a_warning_without_words_is_an_error() -> None:
    with pytest.raises(TypeError, match="PlanWarning"):
        warning_words(PlanWarning(kind="new", on=MONDAY))
