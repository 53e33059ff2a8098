"""Section 5: the next two weeks, and when the work is finished."""

import re
from datetime import date

from portal.pages.unkept_visits import conflict_words
from portal.store import tables
from portal.store.reading.clashes import conflicts_in
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, ZONE, House, at
from tests.pages.reading import page_of


def _coming(house: House, when: str = "2026-12-02T07:30") -> str:
    return page_of(house, at(when)).section("Coming up")


def test_days_come_in_order_with_visits_and_deliveries(house: House) -> None:
    text = _coming(house)
    days = ["Tomorrow, Thu Dec 3", "Fri Dec 4 1:00", "Mon Dec 7 8:00", "Wed Dec 9 8:00"]
    assert [text.index(day) for day in days] == sorted(text.index(day) for day in days)
    assert "1:00 pm to 3:30 pm. Stone crew: Drill the holes in the stone top (Kitchen)." in text


def test_today_stands_in_its_own_section_only(house: House) -> None:
    assert "Set the base cabinets" not in _coming(house)


def test_a_delivery_says_how_sure_its_date_is(house: House) -> None:
    assert "Splash tile, which may come from Thu Dec 3 to Wed Dec 9." in _coming(house)
    tables.Delivery.update(expected_low="2026-12-04", expected_high="2026-12-04").where(
        tables.Delivery.item == "Splash tile"
    ).execute()
    assert "Delivery. Splash tile." in _coming(house)


def test_what_has_arrived_is_not_coming(house: House) -> None:
    assert "Sink and faucet." not in _coming(house, "2026-11-29T08:00")


def test_a_delivery_that_did_not_come_is_told(house: House) -> None:
    assert "Splash tile: was expected on Fri Dec 4 and is not here yet." in _coming(house, "2026-12-07T08:00")


def test_two_weeks_ahead_are_shown_and_no_more(house: House) -> None:
    tables.Visit.update(starts_at=at("2026-12-16T08:00"), ends_at=at("2026-12-16T09:00")).where(
        tables.Visit.id == house.visits["paint"]
    ).execute()
    assert "Wed Dec 16" in _coming(house)
    text = _coming(house, "2026-12-01T12:00")
    assert "Paint the laundry room" not in text
    assert "This list ends after two weeks, with Tue Dec 15. Later: Painter, Wed Dec 16." in text


def test_where_nothing_comes_later_the_list_says_that_it_is_whole(house: House) -> None:
    assert "Nothing is booked yet after Wed Dec 16." in _coming(house)


def test_a_visit_that_can_not_be_kept_says_what_is_expected_instead_as_the_desk_does(house: House) -> None:
    """The stone top comes on Thu Dec 10, after it is to be set."""
    tables.Delivery.update(expected_low="2026-12-10", expected_on="2026-12-10", expected_high="2026-12-10").where(
        tables.Delivery.item == "Stone top"
    ).execute()
    snapshot = read_snapshot(house.project)
    found = conflicts_in(schedule_of(snapshot, NOW), house.project)
    words = [conflict_words(one, ZONE) for one in found if one.visit == house.visits["top"]]
    assert len(words) == 1 and "Stone top" in words[0]
    assert f"Set the stone top (Kitchen). It can’t be kept: {words[0]}" in _coming(house)


def _longer(house: House, key: str, *work: int) -> None:
    low, likely, high = work
    tables.Phase.update(work_low=low, work_likely=likely, work_high=high).where(
        tables.Phase.id == house.phases[key]
    ).execute()


def test_the_finish_is_said_as_likely_and_as_safe_beside_the_promise(house: House) -> None:
    _longer(house, "walk", 120, 600, 4000)
    found = re.search(r"All work is likely done by \w+ Dec (\d+), and safely by \w+ Dec (\d+)\.", _coming(house))
    assert found and int(found[1]) < int(found[2])
    assert "We promised Fri Dec 18; the chance of keeping that is " in _coming(house)


def test_one_day_that_is_likely_and_safe_is_said_once(house: House) -> None:
    assert "All work is likely done by Mon Dec 14. That is a safe date, too" in _coming(house)
    assert "the chance of keeping that is more than 99 in 100." in _coming(house)


def test_a_promise_that_can_not_be_kept_is_said_so(house: House) -> None:
    tables.Project.update(promised_on=date(2026, 12, 11)).execute()
    text = _coming(house)
    assert "We promised Fri Dec 11, but as things stand we miss it;" in text
    assert "the chance of keeping it is less than 1 in 100." in text


def test_a_promise_that_has_passed_is_said_so(house: House) -> None:
    assert "We promised Fri Dec 18, and we are late." in _coming(house, "2026-12-28T08:00")


def test_without_a_promise_none_is_mentioned(house: House) -> None:
    tables.Project.update(promised_on=None).execute()
    assert "promise" not in _coming(house)


def test_finished_work_says_when_it_was_done(house: House) -> None:
    tables.Phase.update(state="done", started_at=NOW, finished_at=at("2026-12-10T15:00")).execute()
    text = _coming(house, "2026-12-12T08:00")
    assert "All work was done on Thu Dec 10." in text and "promise" not in text


def test_a_finish_in_another_year_names_it(house: House) -> None:
    tables.Phase.update(not_before=date(2027, 9, 1)).where(tables.Phase.id == house.phases["walk"]).execute()
    assert "All work is likely done by Wed Sep 1, 2027." in _coming(house)


def test_a_finish_that_hangs_on_an_answer_today_says_so(house: House) -> None:
    """Decision 2 is overdue, and its grout drives the finish; decision 1 has days to spare."""
    assert "That counts on decision 2 being answered today." in _coming(house)
    tables.Decision.update(state="approved").where(tables.Decision.id == house.decisions[2]).execute()
    assert "counts on" not in _coming(house)
