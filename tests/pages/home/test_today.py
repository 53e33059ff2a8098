"""Section 2: who comes today, and who is next when nobody does."""

from portal.store import tables
from tests.house import House, at
from tests.pages.reading import page_of


def _today(house: House, when: str = "2026-12-02T07:30") -> str:
    return page_of(house, at(when)).section("Today")


def test_it_says_who_comes_when_to_do_what_and_where(house: House) -> None:
    assert "8:00 am to 4:30 pm Carpenters: Set the base cabinets (Kitchen)." in _today(house)


def test_two_crews_come_in_the_order_of_their_hours(house: House) -> None:
    text = _today(house, "2026-12-03T07:00")
    assert text.startswith("Today, Thu Dec 3")
    assert text.index("8:30 am to 12:00 pm Tile setter") < text.index("9:00 am to 2:00 pm Stone crew")


def test_a_visit_still_stands_there_after_it_has_ended(house: House) -> None:
    assert "Carpenters" in _today(house, "2026-12-02T21:00")


def test_nobody_today_names_who_is_next_with_day_and_hour(house: House) -> None:
    text = _today(house, "2026-12-05T09:00")
    assert "Nobody is booked to come today." in text
    assert "Next, Mon Dec 7, 8:00 am to 12:00 pm: Plumber: Connect the sink and faucet (Kitchen)." in text


def test_who_comes_tomorrow_is_said_so(house: House) -> None:
    assert "Next, tomorrow, Mon Dec 7," in _today(house, "2026-12-06T09:00")


def test_nobody_today_and_nobody_booked(house: House) -> None:
    tables.Visit.delete().execute()
    text = _today(house)
    assert "Nobody is booked to come today." in text and "No other visit is booked yet." in text


def test_work_under_way_without_a_visit_is_not_hidden(house: House) -> None:
    tables.Visit.delete().execute()
    assert "Under way, but without a visit today: “Set the base cabinets”." in _today(house)


def test_a_cancelled_visit_is_not_told(house: House) -> None:
    tables.Visit.update(cancelled_at=at("2026-12-01T12:00")).execute()
    assert "Carpenters: Set" not in _today(house)


def test_a_visit_over_midnight_is_told_on_both_days(house: House) -> None:
    tables.Visit.update(starts_at=at("2026-12-02T20:00"), ends_at=at("2026-12-03T02:00")).execute()
    assert "8:00 pm to Thu Dec 3, 2:00 am" in _today(house)
    assert "Carpenters" in _today(house, "2026-12-03T07:00")


def test_a_visit_that_ends_at_midnight_is_over_the_next_day(house: House) -> None:
    tables.Visit.update(starts_at=at("2026-12-02T20:00"), ends_at=at("2026-12-03T00:00")).execute()
    assert "Nobody is booked" in _today(house, "2026-12-03T07:00")


def test_deliveries_of_the_day_are_told(house: House) -> None:
    assert "Expected today: Stone top." in _today(house)
    tables.Delivery.update(arrived_at=at("2026-12-02T10:00")).where(tables.Delivery.item == "Stone top").execute()
    assert "Delivered today: Stone top." in _today(house, "2026-12-02T10:01")


def test_what_can_not_be_used_while_they_work_is_told(house: House) -> None:
    text = _today(house)
    assert "While the crew works, don’t count on the way through in this room: Kitchen." in text
    assert "While the crew works, expect noise in this room: Kitchen." in text


def test_on_a_day_without_work_nothing_is_taken_for_work(house: House) -> None:
    assert "during work" not in _today(house, "2026-12-05T09:00")


def test_a_closed_project_says_that_it_is_finished(house: House) -> None:
    tables.Project.update(closed_at=at("2026-12-20T12:00")).execute()
    assert "The work is finished, and nobody is booked to come." in _today(house, "2026-12-21T09:00")
