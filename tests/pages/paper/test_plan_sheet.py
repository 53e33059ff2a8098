"""The plan on one sheet: a drawing a week with all of it in words, and two weeks of what works at home."""

import re
from datetime import date

from portal.pages.paper.plan_sheet import render_plan
from portal.store import tables
from portal.store.reading.forecasts import foresee
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at
from tests.pages.reading import Page, parsed, words_of


def _sheet(house: House, now: int = NOW, project: int | None = None) -> Page:
    snapshot = read_snapshot(project or house.project)
    schedule = schedule_of(snapshot, now)
    return parsed(render_plan(snapshot, schedule, now, foresee(snapshot, schedule)))


def _described(page: Page) -> str:
    """The text alternatives of all drawings."""
    return " ".join(words_of(one) for one in page.root.iter() if str(one.tag).endswith("desc"))


def _cells(page: Page, room: str, service: str) -> list[list[str]]:
    """Words of a service's row, from each of the weeks in which it is told."""
    found = []
    for body in page.root.iter("tbody"):
        rows = [[words_of(cell) for cell in row] for row in body.iter("tr")]
        if rows[0] == [room]:
            found += [row[1:] for row in rows if row[0] == service]
    return found


def test_each_drawing_says_in_words_what_it_shows(house: House) -> None:
    words = _described(_sheet(house))
    assert "Set the stone top, Thu Dec 3, then a wait until Fri Dec 4" in words
    assert "Drill the holes in the stone top, Fri Dec 4, waits" in words
    assert "answer by: question 1, Thu Dec 3" in words and "expected: Splash tile, Fri Dec 4" in words


def test_it_shows_what_is_booked_on_its_day_and_what_follows_after_it(house: House) -> None:
    words = _described(_sheet(house))
    assert "Paint the laundry room, Wed Dec 9" in words and "Hang the shelves, Thu Dec 10" in words


def test_on_paper_all_that_is_ahead_is_one_drawing(house: House) -> None:
    page = _sheet(house)
    (paper,) = [one for one in page.root.iter("div") if one.get("class") == "paper"]
    words = words_of(paper)
    assert "Set the base cabinets, Tue Dec 1 to Wed Dec 2, under way" in words
    assert "Drill the holes in the stone top, Fri Dec 4, waits" in words
    assert "Your answer: Which grout color for the splash?, Wed Dec 2, late" in words
    assert "Splash tile arrives, Fri Dec 4" in words and "Lay the floor tile, " not in words, "that is done"
    assert "white for the laundry" not in words, "we owe an answer first"
    assert "more, from" not in words


def test_what_has_no_room_on_the_sheet_is_named(house: House) -> None:
    for n in range(20):
        tables.Phase.create(project=house.project, name=f"Step {n}", crew="Painter", position=50 + n, work_low=60,
                            work_likely=60, work_high=60, not_before=date(2027, 1, 4), state="waiting")  # fmt: skip
    (paper,) = [one for one in _sheet(house).root.iter("div") if one.get("class") == "paper"]
    assert re.search(r"\d+ rows more, from Mon Jan 4 on, stand on the page\.", words_of(paper))


def test_what_is_late_stands_at_today(house: House) -> None:
    """Decision 2 was needed by Nov 25."""
    assert "answer late: question 2, Wed Dec 2" in _described(_sheet(house))
    assert "expected: Splash tile, Mon Dec 7" in _described(_sheet(house, at("2026-12-07T08:00")))
    assert "late: Splash tile, Thu Dec 10" in _described(_sheet(house, at("2026-12-10T08:00")))


def test_weeks_to_come_come_first_and_each_drawing_has_a_name(house: House) -> None:
    page = _sheet(house)
    titles = [words_of(one) for one in page.root.iter() if re.fullmatch(r"h[23]", str(one.tag))]
    weeks = ("Mon Nov 30 to Sun Dec 6, 2026", "Mon Nov 16 to Sun Nov 22, 2026")
    this_week, past = map(titles.index, weeks)
    assert this_week < titles.index("What works at home, two weeks ahead") < past
    drawings = [one for one in page.root.iter() if str(one.tag).endswith("svg")]
    assert all(one.get("role") == "img" and one.get("aria-labelledby") for one in drawings) and len(drawings) >= 4


def test_waits_that_end_within_the_visit_are_no_dots(house: House) -> None:
    tables.PhaseLink.update(wait=25).execute()  # a seam's adhesive
    assert "then a wait" not in _described(_sheet(house))


def test_two_weeks_of_what_works_are_words(house: House) -> None:
    page = _sheet(house)
    assert _cells(page, "Kitchen", "sink") == [["no", "no", "no", "no", "no", "work", "yes"]]
    assert _cells(page, "Kitchen", "noise") == [["work", "none", "none", "none", "none", "none", "none"]]
    assert _cells(page, "Kitchen", "water") == []
    assert "All week long everything works: Laundry room." in page.text


def test_a_night_to_plan_for_is_told_below_the_table(house: House) -> None:
    assert "no toilet can be used" in _sheet(house).section("What works at home")


def test_a_shortfall_is_told_three_working_days_ahead_even_over_long_holidays(house: House) -> None:
    """Two weeks off before it: told fifteen days ahead, since no three working days lie between."""
    off = [f"2026-12-{day:02}" for day in range(3, 32)]
    calendar = tables.Project.get_by_id(house.project).calendar | {"days_off": off}
    tables.Project.update(calendar=calendar).where(tables.Project.id == house.project).execute()
    take = [{"service": "toilet", "until": "done", "wait_hours": 24}]
    tables.Phase.update(takes=take, not_before=date(2027, 1, 4)).where(
        tables.Phase.id == house.phases["floor_grout"]
    ).execute()
    tables.Visit.delete().execute()
    assert "In the night of Mon Jan 4 no toilet can be used" in _sheet(house, at("2026-12-02T08:00")).text


def test_a_project_without_a_plan_says_so(house: House) -> None:
    page = _sheet(house, project=house.other_project)
    assert "The plan of the work is not made yet." in page.text and not list(page.root.iter("figure"))


def test_hostile_names_stay_words(house: House) -> None:
    hostile = '"><script>alert(1)</script>'
    tables.Phase.update(name=hostile).where(tables.Phase.id == house.phases["top"]).execute()
    tables.Room.update(name=hostile).where(tables.Room.id == house.rooms["bath"]).execute()
    page = _sheet(house)
    assert "<script" not in page.html and hostile in _described(page)


def test_it_asks_nothing_of_anyone_else(house: House) -> None:
    html = _sheet(house).html.replace("http://www.w3.org/2000/svg", "")
    assert "http://" not in html and "https://" not in html and " style=" not in html
