"""The span on the page: its words at flag and promise, the answers that are due, nothing where nothing is left."""

import re
from datetime import date

from portal.acts.decisions.answers import approve
from portal.pages.finish.done import finish_of
from portal.pages.home.span import SpanSection, span_section
from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.words.dates import local
from tests.house import NOW, House, at
from tests.pages.reading import page_of


def section(house: House, when: str = "2026-12-02T07:30", project: int = 0) -> SpanSection | None:
    snapshot, now = read_snapshot(project or house.project), at(when)
    outlook = outlook_of(snapshot, schedule_of(snapshot, now))
    return span_section(snapshot, outlook, finish_of(snapshot, outlook, None), local(now, "America/Chicago").date())


def test_flag_and_promise_have_their_words_and_the_answers_are_counted(house: House) -> None:
    """Done Mon Dec 14, 12 days on; promised Fri Dec 18, 16 days on. Decision 2 is late, 4 is ours, 1 and 5 are due."""
    found = section(house)
    assert found is not None
    assert (found.done, found.promised, found.answers) == ("Done Mon Dec 14", "promised Fri Dec 18", "2 more")
    flag = 34 + 312 * 12 / 16
    assert found.after == f"{(1 - flag / 354) * 100:.1f}%" and found.before == ""
    assert found.after_promise == f"{(1 - 346 / 354) * 100:.1f}%"
    assert not found.late and "M13 10 3 16l10 6z" in found.svg and found.svg.count("<circle") == 2
    assert found.svg.count("l3.5 7 3.5-7") == 5, "six visits on five days"


def test_answers_that_are_given_and_what_arrived_leave_it(house: House) -> None:
    for number in (1, 2, 5):
        approve(house.homeowner, house.project, house.decisions[number], revision=1, option="a", name="Maren Okafor",
                now=NOW)  # fmt: skip
    found = section(house)
    assert found is not None and found.answers == "" and "circle" not in found.svg and "M13 10" not in found.svg
    tables.Delivery.update(expected_low="2026-11-26", expected_on="2026-11-27", expected_high="2026-12-01").where(
        tables.Delivery.item == "Splash tile").execute()
    late = section(house)
    assert late is not None and "M13 10 3 16l10 6z" in late.svg, "a delivery whose last day is over"


def test_a_late_finish_says_so_in_words_and_in_red(house: House) -> None:
    tables.Project.update(promised_on=date(2026, 12, 11)).execute()
    found = section(house)
    assert found is not None and found.late and found.promised == "promised Fri Dec 11, 3 days late"
    assert re.search(r'class="rd" d="M346 25V1"', found.svg)


def test_a_finish_that_is_near_has_its_words_after_the_flag(house: House) -> None:
    tables.Project.update(promised_on=date(2027, 3, 1)).execute()
    found = section(house)
    assert found is not None and found.after == "" and float(found.before.rstrip("%")) < 45


def test_without_a_promise_none_is_drawn(house: House) -> None:
    tables.Project.update(promised_on=None).execute()
    found = section(house)
    assert found is not None and (found.promised, found.after_promise) == ("", "") and 'class="hid"' not in found.svg


def test_where_nothing_is_planned_or_all_is_done_there_is_none(house: House) -> None:
    assert section(house, project=house.other_project) is None
    tables.Phase.update(state="done", started_at=NOW, finished_at=at("2026-12-10T15:00")).execute()
    assert section(house, "2026-12-12T08:00") is None
    assert "svg class=\"span\"" not in page_of(house, at("2026-12-12T08:00")).html


def test_it_stands_on_the_page_without_a_style_of_its_own(house: House) -> None:
    html = page_of(house).html
    assert "<b>Done Mon\u00a0Dec\u00a014</b>" in html and " style=" not in html
