"""The plan on a board: a week a drawing, a row a room, words that can be read, and all of it in words too."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.drawings.charts.chart import Board, Mark, Stretch, chart
from portal.drawings.scenes.scene import SceneError

NS = "{http://www.w3.org/2000/svg}"


def at(day: int, hour: int = 8) -> datetime:
    """December 2026; the 7th is a Monday."""
    return datetime(2026, 12, day, hour)


KITCHEN = Stretch("Kitchen", "Rough plumbing", at(7), at(8, 16), "done")
TOP = Stretch("Kitchen", "Set the top", at(11), at(11, 16), "waiting", wait_ends=at(14, 12))
FLOOR = Stretch("Hall bath", "Tile floor", at(9), at(15, 16), "under way")
HOLES = Mark("Kitchen", date(2026, 12, 10), "answer by: faucet holes")
BOARD = Board([KITCHEN, TOP, FLOOR], [HOLES], {date(2026, 12, 12): "off"}, date(2026, 12, 9))


def texts(svg: str) -> list[str]:
    return [t.text or "" for t in ElementTree.fromstring(svg).iter(f"{NS}text")]


def described(svg: str) -> str:
    return ElementTree.fromstring(svg)[1].text or ""


def test_each_week_with_something_in_it_is_a_drawing_with_its_own_name() -> None:
    weeks = chart(BOARD)
    assert [w.first for w in weeks] == [date(2026, 12, 7), date(2026, 12, 14)]
    assert weeks[0].title == "Mon Dec 7 to Sun Dec 13, 2026"
    assert ElementTree.fromstring(weeks[0].svg)[0].text == "Plan for Mon Dec 7 to Sun Dec 13, 2026"
    ids = [e.get("id") for w in weeks for e in ElementTree.fromstring(w.svg).iter() if e.get("id")]
    assert len(ids) == len(set(ids)) == 4


def test_a_week_in_which_nothing_happens_is_left_out() -> None:
    later = replace(KITCHEN, starts=at(28), ends=at(28, 16))
    assert [w.first.day for w in chart(replace(BOARD, stretches=[KITCHEN, later], marks=[]))] == [7, 28]


def test_the_description_says_all_that_is_drawn() -> None:
    said = described(chart(BOARD)[0].svg)
    assert "Kitchen: Rough plumbing, Mon Dec 7 to Tue Dec 8, done;" in said
    assert "Set the top, Fri Dec 11, waiting, then a wait until Mon Dec 14;" in said
    assert "answer by: faucet holes, Thu Dec 10." in said
    assert "Hall bath: Tile floor, Wed Dec 9 to Tue Dec 15, under way." in said


def test_days_stand_with_weekday_and_date_and_what_is_special_about_them() -> None:
    words = texts(chart(BOARD)[0].svg)
    assert words[:2] == ["Mon", "7"]
    assert "today" in words and "off" in words


def test_the_state_is_a_word() -> None:
    words = texts(chart(BOARD)[0].svg)
    assert {"Rough plumbing, done", "Set the top, waiting", "Tile floor, under way"} <= set(words)


def test_what_is_wanted_is_marked_with_its_words() -> None:
    assert "answer by: faucet holes" in texts(chart(BOARD)[0].svg)


def test_in_the_next_week_only_the_wait_is_left() -> None:
    assert "Set the top: wait" in texts(chart(BOARD)[1].svg)


def test_a_wait_is_a_dotted_line_as_long_as_the_wait() -> None:
    alone = replace(TOP, starts=at(7, 6), ends=at(7, 18), wait_ends=at(9, 18))
    root = ElementTree.fromstring(chart(Board([alone]))[0].svg)
    (dotted,) = [p.get("d", "") for p in root.iter(f"{NS}path") if p.get("stroke-dasharray")]
    start, end = float(dotted[1:].split()[0]), float(dotted.rsplit("H", 1)[1])
    assert (start, end) == (6 + 44, 6 + 3 * 44)


def test_work_that_goes_on_is_open_at_that_side() -> None:
    """Two upright lines close a block; work that runs over the weekend has one in each week."""
    through = Board([replace(FLOOR, starts=at(7), ends=at(15))])
    uprights = [week.svg.split('stroke-width="1.6" d="')[1].split('"')[0].count("V") for week in chart(through)]
    assert uprights == [1, 1]
    assert chart(Board([KITCHEN]))[0].svg.split('stroke-width="1.6" d="')[1].split('"')[0].count("V") == 2


def test_two_weeks_side_by_side_suit_paper() -> None:
    (both,) = chart(replace(BOARD, days=14))
    assert both.title == "Mon Dec 7 to Sun Dec 20, 2026"


DAYS = st.integers(7, 13)
LONG = "Take out the old top and the sink, and close the supply lines"
NAMES = st.sampled_from(["Grout", "Rough plumbing", "Cabinet fronts and pulls", LONG])
STRETCHES = st.lists(st.tuples(NAMES, DAYS, st.integers(0, 4), st.integers(0, 3)), min_size=1, max_size=7)


@settings(max_examples=60, deadline=None)
@given(STRETCHES, st.lists(DAYS, max_size=3))
def test_no_words_lie_on_other_words_or_leave_the_paper(rows: list[tuple[str, int, int, int]], on: list[int]) -> None:
    """Widths at 6.3 px a letter, the width that the chart reckons with."""
    board = Board(
        [
            Stretch("Kitchen", name, at(day), at(day) + timedelta(days=long, hours=6), "waiting",
                    at(day) + timedelta(days=long + wait, hours=7))
            for name, day, long, wait in rows
        ],
        [Mark("Kitchen", date(2026, 12, day), "answer by: faucet holes") for day in on],
    )  # fmt: skip
    for week in chart(board):
        lines: dict[float, list[tuple[float, float]]] = {}
        for t in ElementTree.fromstring(week.svg).iter(f"{NS}text"):
            x, long = float(t.get("x", "")), 6.3 * len(t.text or "")
            low = {"start": x, "middle": x - long / 2, "end": x - long}[t.get("text-anchor", "start")]
            assert low >= 0 and low + long <= 320
            lines.setdefault(float(t.get("y", "")), []).append((low, low + long))
        ys = sorted(lines)
        assert all(b - a >= 8 for a, b in zip(ys, ys[1:], strict=False))
        for spans in lines.values():
            spans.sort()
            assert all(a[1] <= b[0] for a, b in zip(spans, spans[1:], strict=False))


def test_an_empty_plan_is_refused() -> None:
    with pytest.raises(SceneError, match="at least one phase"):
        chart(Board([]))


@pytest.mark.parametrize("bad", [{"ends": at(6)}, {"wait_ends": at(8)}])
def test_work_that_ends_before_it_starts_is_refused(bad: dict[str, datetime]) -> None:
    with pytest.raises(SceneError, match="Rough plumbing|Set the top"):
        replace(KITCHEN if "ends" in bad else TOP, **bad)


def test_it_takes_the_colors_of_the_page_and_asks_nobody_for_anything() -> None:
    text = chart(BOARD)[0].svg.replace('xmlns="http://www.w3.org/2000/svg"', "")
    assert "#" not in text and "http" not in text and "<style" not in text
