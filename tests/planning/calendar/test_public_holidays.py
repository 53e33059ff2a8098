"""Public holidays by name, each with the next day on which it is off."""

from datetime import date

import pytest

from portal.planning.calendar.public_holidays import days_off, holidays_at, names_of, next_holidays


def names(country: str, subdivision: str | None, today: date) -> list[str]:
    return [one.name for one in next_holidays(country, subdivision, today)]


def test_each_is_named_once_from_today_on_the_nearest_first() -> None:
    found = next_holidays("US", "MN", date(2026, 11, 11))
    assert (found[0].name, found[0].on, found[0].in_lieu) == ("Veterans Day", date(2026, 11, 11), False)
    assert [one.on for one in found] == sorted(one.on for one in found)
    assert len({one.name for one in found}) == len(found) and all(one.on >= date(2026, 11, 11) for one in found)
    assert not [one for one in found if "observed" in one.name]


def test_a_day_in_lieu_comes_under_the_name_of_its_holiday() -> None:
    fourth = next(one for one in next_holidays("US", None, date(2026, 7, 1)) if one.name == "Independence Day")
    assert (fourth.on, fourth.in_lieu) == (date(2026, 7, 3), True)
    sunday = next(one for one in next_holidays("US", None, date(2027, 7, 1)) if one.name == "Independence Day")
    assert (sunday.on, sunday.in_lieu) == (date(2027, 7, 5), True), "on the Sunday itself nobody works anyway"


def test_a_new_year_that_is_observed_in_the_old_one_is_found_on_that_day() -> None:
    new_year = next(one for one in next_holidays("US", None, date(2027, 12, 1)) if one.name == "New Year's Day")
    assert (new_year.on, new_year.in_lieu) == (date(2027, 12, 31), True)


def test_a_state_has_its_own() -> None:
    assert "Texas Independence Day" in names("US", "TX", date(2026, 1, 1))
    assert "Columbus Day" in names("US", None, date(2026, 1, 1)) and "Columbus Day" not in names(
        "US", "MN", date(2026, 1, 1))


def test_one_that_comes_every_four_years_is_listed() -> None:
    """The inauguration: January 20 of the year after a presidential election, a holiday in the District of Columbia."""
    found = [one for one in next_holidays("US", "DC", date(2026, 2, 1)) if one.name.startswith("Inauguration")]
    assert found and found[0].on.year == 2029


@pytest.mark.parametrize(("worked", "off"), [
    ([], True), (["Juneteenth National Independence Day"], True), (["Emancipation Day In Texas"], True),
    (["Juneteenth National Independence Day", "Emancipation Day In Texas"], False),
])
def test_a_day_of_two_names_is_off_while_one_of_them_is(worked: list[str], off: bool) -> None:
    assert (date(2026, 6, 19) in days_off("US", "TX", 2026, worked)) is off


def test_days_are_named_and_a_day_in_lieu_by_its_holiday() -> None:
    days = {date(2026, 12, 25), date(2026, 7, 3), date(2026, 12, 24), date(2027, 1, 1)}
    assert names_of("US", "MN", days) == {
        date(2026, 7, 3): "Independence Day", date(2026, 12, 25): "Christmas Day", date(2027, 1, 1): "New Year's Day"}
    assert names_of("US", "MN", set()) == {}


@pytest.mark.parametrize(("address", "state"), [
    ("9 Foundry Street, Pell Harbor, Minnesota", "MN"), ("9 Foundry Street, Pell Harbor, MN 55000", "MN"),
    ("1 Main Street, West Virginia", "WV"), ("9 Foundry Street", ""), ("", ""),
])  # fmt: skip
def test_a_firm_most_likely_goes_by_the_holidays_of_its_state(address: str, state: str) -> None:
    assert holidays_at(address) == ({"country": "US", "subdivision": state} if state else None)
