"""The tape's rows: fourteen days from today, each in one row, each mark once at its day."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from portal.acts.visiting.visits import book_visit
from portal.pages.environment import environment
from portal.pages.home.tape import (
    BROKEN,
    DAY,
    DAYS,
    OFF,
    SLIPPED,
    TODAY,
    Row,
    Tape,
    later_words,
    rows_of,
    slipped_rows,
    tape_section,
)  # fmt: skip
from portal.pages.home.tape_marks import ABOVE, ANSWER, DELIVERY, HELD, LATE, REMARK, UNKEPT, VISIT, Dated, Mark
from portal.pages.outlook import outlook_of
from portal.pages.where_and_when import days_of
from portal.store import tables
from portal.store.facts import VisitFact
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.words.dates import local
from tests.house import NOW, ZONE, House, at
from tests.pages.reading import parsed, words_of

WED = date(2026, 12, 2)
KINDS = (VISIT, HELD, UNKEPT, DELIVERY, ANSWER, REMARK)


def tape_of(house: House, when: str = "2026-12-02T07:30", project: int = 0) -> Tape:
    snapshot, now = read_snapshot(project or house.project), at(when)
    outlook = outlook_of(snapshot, schedule_of(snapshot, now))
    found = tape_section(
        snapshot, outlook, household_of(snapshot, outlook.booked), local(now, snapshot.project.timezone).date()
    )
    assert found is not None
    return found


def said(row: Row) -> list[str]:
    return [f"{one.lead} {one.words}".strip() for one in (*row.above, *row.below)]


def at_day(tape: Tape, day: int, month: int = 12) -> Row:
    on = date(2026, month, day)
    return next(row for row in tape.rows if row.first <= on <= row.last and row.kind != SLIPPED)


def rows(today: date, coming: list[Dated], off: set[date] | None = None, named: list[Dated] | None = None) -> list[Row]:
    weekend = {day for n in range(DAYS) if (day := today + timedelta(days=n)).weekday() > 4}
    return list(rows_of(today, coming, weekend if off is None else off, named or []))


@given(
    st.dates(date(2000, 1, 1), date(2090, 1, 1)),
    st.lists(st.tuples(st.integers(0, DAYS - 1), st.sampled_from(KINDS)), max_size=40),
    st.sets(st.integers(0, DAYS - 1)),
)
def test_each_day_and_each_mark_stands_once_in_its_order(
    today: date, marked: list[tuple[int, str]], off: set[int]
) -> None:
    """Whatever comes on whatever days: no day twice or left out, no mark twice, lost, or at another day."""
    coming = [(today + timedelta(days=n), Mark(kind, str(i))) for i, (n, kind) in enumerate(marked)]
    found = rows(today, coming, {today + timedelta(days=n) for n in off})
    days = [row.first + timedelta(days=n) for row in found for n in range((row.last - row.first).days + 1)]
    assert days == [today + timedelta(days=n) for n in range(DAYS)]
    stands = [(row.first, one) for row in found if row.kind != BROKEN for one in (*row.above, *row.below)]
    assert sorted(stands, key=lambda one: int(one[1].lead)) == coming
    assert all(row.first == row.last for row in found if row.kind in (DAY, TODAY))
    assert [row.kind for row in found].count(TODAY) == 1 and found[0].kind == TODAY
    for row in found:
        assert all((one.kind in ABOVE) == (one in row.above) for one in (*row.above, *row.below))
        empty = not any(day == row.first for day, _ in coming)
        assert (row.kind == BROKEN) == (row.kind != TODAY and empty and (row.last - row.first).days >= 3)
        assert row.kind != OFF or empty and (row.first - today).days in off
    joined = [(one, two) for one, two in pairwise(found) if {one.kind, two.kind} & {BROKEN}]
    assert not [1 for one, two in joined if one.kind in (OFF, BROKEN) and two.kind in (OFF, BROKEN)]


def test_an_empty_weekend_is_one_row_and_a_saturday_with_work_is_a_day_as_others() -> None:
    work = [(WED + timedelta(days=n), Mark(VISIT, "8:00")) for n in (1, 2, 5)]
    assert [(row.kind, row.first.day, row.last.day) for row in rows(WED, work)[3:5]] == [(OFF, 5, 6), (DAY, 7, 7)]
    saturday = [*work, (date(2026, 12, 5), Mark(VISIT, "8:00"))]
    assert [(row.kind, row.first.day) for row in rows(WED, saturday)[3:6]] == [(DAY, 5), (OFF, 6), (DAY, 7)]


def test_four_days_without_anything_are_broken_and_three_are_not() -> None:
    def kinds(first: int) -> list[str]:
        return [row.kind for row in rows(date(2026, 12, 7), [(date(2026, 12, 7 + first), Mark(VISIT, ""))])][:4]

    assert kinds(4) == [TODAY, DAY, DAY, DAY]
    assert kinds(5)[:3] == [TODAY, BROKEN, DAY]


def test_nobody_for_two_weeks_is_the_hook_and_one_row() -> None:
    found = rows(WED, [])
    assert [(row.kind, row.first.day, row.last.day) for row in found] == [(TODAY, 2, 2), (BROKEN, 3, 15)]
    assert said(found[1]) == ["Nobody comes"]


def test_a_holiday_is_named_within_the_row_of_its_weekend() -> None:
    work = [(date(2026, 9, day), Mark(VISIT, "")) for day in (3, 4, 8)]
    labor = date(2026, 9, 7)
    off = {labor, date(2026, 9, 5), date(2026, 9, 6)}
    found = rows(date(2026, 9, 2), work, off, [(labor, Mark(REMARK, "", "Labor Day"))])
    weekend = next(row for row in found if row.kind == OFF)
    assert (weekend.first.day, weekend.last.day, said(weekend)) == (5, 7, ["Labor Day"])


def test_what_was_missed_stands_before_the_hook_and_of_many_days_the_first_together() -> None:
    late = [(date(2026, 11, day), Mark(LATE, str(day))) for day in (3, 9, 9, 16, 20, 27)]
    assert [(row.first.day, row.last.day, len(row.below)) for row in slipped_rows(late[:4])] == [
        (3, 3, 1), (9, 9, 2), (16, 16, 1)]
    found = list(slipped_rows(late))
    assert [(row.first.day, row.last.day, said(row)) for row in found] == [
        (3, 16, ["3", "9", "9", "16"]), (20, 20, ["20"]), (27, 27, ["27"])]
    assert {row.kind for row in found} == {SLIPPED}


def test_what_comes_after_is_one_line() -> None:
    last = date(2026, 12, 15)
    after = [(date(2027, 1, 5), "Painter"), (date(2027, 1, 5), "Stone top"), (date(2027, 1, 5), "Painter"),
             (date(2027, 1, 8), "Plumber")]
    assert later_words(after, last, WED) == "Later: Painter and Stone top, Tue Jan 5."
    assert later_words([], last, WED) == ""


def test_the_house_of_the_tests(house: House) -> None:
    tape = tape_of(house)
    assert [(row.kind, row.first.day) for row in tape.rows] == [
        (SLIPPED, 25), (TODAY, 2), (DAY, 3), (DAY, 4), (OFF, 5), (DAY, 7), (DAY, 8), (DAY, 9), (DAY, 10), (DAY, 11),
        (BROKEN, 12)]
    assert said(tape.rows[0]) == ["Late: 1 answer"]
    assert said(at_day(tape, 2))[0] == "8:00 to 4:30 Carpenters: Set the base cabinets. Loud. No way through"
    assert said(at_day(tape, 4)) == [
        "1:00 to 3:30 Stone crew: Drill the holes in the stone top. Waits for your answer",
        "Splash tile arrives, Dec 3 to 9"]
    assert said(at_day(tape, 11)) == ["1 answer due"]
    assert tape.later == ""


def test_every_visit_of_the_window_stands_at_each_of_its_days(house: House) -> None:
    """A long one, one of today, one on a Saturday, one that ends at midnight, one after the window."""
    book = [("2026-12-02T08:00", "2026-12-08T12:00", "Long"), ("2026-12-05T08:00", "2026-12-05T12:00", "Saturday"),
            ("2026-12-15T20:00", "2026-12-16T00:00", "Midnight"), ("2026-12-16T08:00", "2026-12-16T09:00", "Sixteenth"),
            ("2026-11-30T08:00", "2026-12-03T10:00", "Begun")]  # fmt: skip
    for starts, ends, crew in book:
        times = {"starts_at": datetime.fromisoformat(starts), "ends_at": datetime.fromisoformat(ends)}
        book_visit(house.office, house.project, times | {"crew": f"{crew} crew", "purpose": "Look"}, NOW)
    tape = tape_of(house)

    def days(crew: str) -> list[int]:
        return [row.first.day for row in tape.rows for one in said(row) if f"{crew} crew" in one]

    assert days("Long") == [2, 3, 4, 7, 8] and days("Begun") == [2, 3] and days("Saturday") == [5]
    assert days("Midnight") == [15] and days("Sixteenth") == []
    assert tape.later == "Later: Sixteenth crew, Wed Dec 16."
    assert at_day(tape, 5).kind == DAY
    assert "Begun crew" in " ".join(said(at_day(tape, 2))) and "8:00 am to Thu Dec 3, 10:00 am" in str(at_day(tape, 2))
    for visit in ("Set the stone top", "Grout and seal", "Connect the sink", "Paint the laundry"):
        assert sum(visit in one for row in tape.rows for one in said(row)) == 1




BOOKED = st.lists(st.tuples(st.integers(-3 * 24, 20 * 24), st.integers(1, 5 * 24)), max_size=9)


@given(BOOKED)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
def test_any_visits_stand_once_at_each_of_their_days(house: House, booked: list[tuple[int, int]]) -> None:
    """Hours from today's midnight, and how long: begun before, over weekends and nights, beyond the window."""
    begin, shown = at("2026-12-02T00:00"), read_snapshot(house.project)
    visits = [VisitFact(900 + n, None, f"Crew {n}!", "Look", begin + first * 3600, begin + (first + hours) * 3600)
              for n, (first, hours) in enumerate(booked)]  # fmt: skip
    snapshot = replace(shown, visits=tuple(visits))
    outlook = outlook_of(snapshot, schedule_of(snapshot, NOW))
    tape = tape_section(snapshot, outlook, household_of(snapshot, outlook.booked), WED)
    assert tape is not None
    over = WED + timedelta(days=DAYS)
    for visit in visits:
        stands = [row.first for row in tape.rows for one in said(row) if visit.crew in one]
        days = list(days_of(visit, outlook.booked.plan.calendar))
        assert stands == [day for day in days if WED <= day < over]
        assert visit.crew not in tape.later or days[0] >= over
    assert bool(tape.later) == any(local(one.starts_at, ZONE).date() >= over for one in visits)


def test_a_visit_that_can_not_be_kept_is_announced_with_that_word_wherever_it_stands(house: House) -> None:
    """The stone top comes on Thu Dec 10, after it is to be set; the painter comes after the window, held."""
    day = date(2026, 12, 10)
    tables.Delivery.update(expected_low=day, expected_on=day, expected_high=day).where(
        tables.Delivery.item == "Stone top").execute()
    tables.Visit.update(starts_at=at("2027-01-02T08:00"), ends_at=at("2027-01-02T09:00")).where(
        tables.Visit.id == house.visits["paint"]).execute()
    tape = tape_of(house)
    (unkept,) = [one for one in at_day(tape, 3).above if "Stone crew" in one.lead]
    assert (unkept.kind, unkept.lead) == (UNKEPT, "9:00 to 2:00 Stone crew can’t come:")
    assert unkept.words == "Stone top is expected on Thu Dec 10. First day that works: Fri Dec 11."
    assert tape.later == "Later: Painter (can’t come then), Sat Jan 2.", "a Saturday without work"


def test_the_end_of_the_year_names_its_month_and_its_holidays(house: House) -> None:
    tables.Visit.update(starts_at=at("2026-12-30T08:00"), ends_at=at("2026-12-30T12:00")).where(
        tables.Visit.id == house.visits["sink"]).execute()
    tables.Visit.update(starts_at=at("2027-01-04T08:00"), ends_at=at("2027-01-04T12:00")).where(
        tables.Visit.id == house.visits["drill"]).execute()
    tape = tape_of(house, "2026-12-29T08:00")
    new_year = next(row for row in tape.rows if row.first == date(2027, 1, 1))
    assert (new_year.kind, new_year.last) == (OFF, date(2027, 1, 3)) and "New Year’s Day" in said(new_year)
    assert new_year.names_month(new_year.first) and not at_day(tape, 30).names_month(date(2026, 12, 30))


def test_a_closed_job_has_no_tape_but_where_somebody_comes(house: House) -> None:
    tables.Visit.delete().execute()
    tables.Delivery.update(arrived_at=NOW).execute()
    assert tape_of(house).rows[-1].kind == BROKEN
    tables.Project.update(closed_at=NOW).execute()
    snapshot = read_snapshot(house.project)
    outlook = outlook_of(snapshot, schedule_of(snapshot, NOW))
    assert tape_section(snapshot, outlook, household_of(snapshot, outlook.booked), WED) is None
    tables.Visit.create(project=house.project, crew="Plumber", purpose="Mend the drip",
                        starts_at=at("2026-12-08T08:00"), ends_at=at("2026-12-08T09:00"))
    assert said(at_day(tape_of(house), 8)) == ["8:00 to 9:00 Plumber: Mend the drip"]


def test_it_reads_as_plain_sentences_in_order(house: House) -> None:
    """What a text browser and a screen reader get: each day with its month, what is missing, what stands together."""
    html = environment.get_template("sections/tape.html").render(tape=tape_of(house))
    page = parsed(f"<!doctype html><title>x</title><body>{html}")
    lines = [words_of(li) for li in page.root.iter("li")]
    assert lines[1].startswith("Wed Dec 2 , today 8:00 to 4:30 Carpenters: Set the base cabinets")
    assert lines[4] == "Sat Dec 5 to Sun Dec 6 nobody comes" and lines[6] == "Tue Dec 8 nobody comes"
    assert lines[-1] == "Sat Dec 12 to Tue Dec 15 Nobody comes"
    assert "This is no scale" in page.text and " style=" not in html


@pytest.mark.parametrize("hostile", ['"><script>alert(1)</script>', "x" * 200, "Zoë’s 奥加福 " * 12])
def test_names_stay_words(house: House, hostile: str) -> None:
    tables.Visit.update(crew=hostile, purpose=hostile).execute()
    html = environment.get_template("sections/tape.html").render(tape=tape_of(house))
    page = parsed(f"<!doctype html><title>x</title><body>{html}")
    assert "<script" not in html and hostile.strip() in page.text
