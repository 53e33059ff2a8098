"""The span is to scale, holds every mark, and says where its words stand."""

import re
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portal.drawings.charts.span import Span, draw_span

TODAY = date(2026, 11, 28)


def on(*days: int) -> list[date]:
    return [TODAY + timedelta(days=day) for day in days]


def feet(svg: str) -> list[float]:
    (path,) = re.findall(r'class="ft" d="([^"]*)"', svg)
    return [float(x) + 3.5 for x in re.findall(r"M([\d.]+) 8l3\.5", path)]


def rings(svg: str) -> list[float]:
    return [float(x) for x in re.findall(r'class="bl" cx="([\d.]+)"', svg)]


def flag(svg: str) -> float:
    (x,) = re.findall(r'd="M([\d.]+) 25V1"', svg)
    return float(x)


def promise(svg: str) -> list[float]:
    return [float(x) for x in re.findall(r'class="hid"[^>]* d="M([\d.]+) 8v18"', svg)]


def test_every_day_has_as_much_room() -> None:
    """Hook at 34, since something is late, promise at 346, after 26 days: 12 a day."""
    drawn = draw_span(Span(TODAY, *on(23, 26), on(2, 10, 4), on(11), late=True))
    assert feet(drawn.svg) == [58, 82, 154] and rings(drawn.svg) == [166]
    assert flag(drawn.svg) == 310 and promise(drawn.svg) == [346]
    assert drawn.flag == pytest.approx(310 / 354) and drawn.promised == pytest.approx(346 / 354)
    assert re.findall(r"M([\d.]+) 13V19", drawn.svg) == ["118", "202", "286"], "each seventh day"


def test_two_answers_of_a_day_stand_side_by_side_and_none_beyond_the_end() -> None:
    found = rings(draw_span(Span(TODAY, *on(20), answers=on(3, 3, 19, 20, 20, 20))).svg)
    assert len(found) == 6 and max(found) <= 346
    assert all(two - one >= 10.7 for one, two in zip(found, found[1:], strict=False))


def test_what_is_late_is_red_before_the_hook_and_only_then() -> None:
    assert 'class="rd fi" d="M13 10 3 16l10 6z"' in draw_span(Span(TODAY, *on(9), late=True)).svg
    assert "rd" not in draw_span(Span(TODAY, *on(9, 12))).svg
    drawn = draw_span(Span(TODAY, *on(9), answers=on(-3, 4), late=True))
    assert rings(drawn.svg) == [pytest.approx(34 + 4 * 312 / 9, abs=0.1)]


def test_a_finish_past_its_promise_has_a_red_flag() -> None:
    late = draw_span(Span(TODAY, *on(30, 26)))
    assert re.search(r'class="rd" d="M346 25V1"', late.svg) and promise(late.svg)[0] < 346
    assert Span(TODAY, *on(26, 26)).is_late is False and "rd" not in draw_span(Span(TODAY, *on(26, 26))).svg


def test_a_promise_that_is_over_stands_before_the_hook() -> None:
    drawn = draw_span(Span(TODAY, *on(10, -5)))
    assert promise(drawn.svg)[0] < 34 and drawn.promised is None
    assert 'class="rd" d="M346 25V1"' in drawn.svg


@pytest.mark.parametrize(("finish", "soon"), [(0, True), (9, True), (20, False), (26, False)])
def test_a_near_flag_has_its_words_behind_it(finish: int, soon: bool) -> None:
    assert draw_span(Span(TODAY, *on(finish, 26))).soon is soon


def test_spans_of_one_scale_have_the_same_day() -> None:
    short, long = (draw_span(Span(TODAY, *on(days), until=on(50)[0])) for days in (10, 50))
    assert flag(short.svg) - 10 == pytest.approx((flag(long.svg) - 10) / 5, abs=0.1)


def test_over_long_times_there_is_a_tick_for_each_fourth_week() -> None:
    assert draw_span(Span(TODAY, *on(280))).svg.count("V19") == 39
    assert draw_span(Span(TODAY, *on(290))).svg.count("V19") == 10


@given(
    st.integers(0, 900), st.none() | st.integers(-60, 900), st.lists(st.integers(0, 900), max_size=12),
    st.lists(st.integers(-60, 900), max_size=9), st.booleans(),
)
def test_nothing_lies_outside_of_it(
    finish: int, promised: int | None, visits: list[int], answers: list[int], late: bool
) -> None:
    given_promise = None if promised is None else on(promised)[0]
    drawn = draw_span(Span(TODAY, on(finish)[0], given_promise, on(*visits), on(*answers), late))
    numbers = [*rings(drawn.svg), flag(drawn.svg), *promise(drawn.svg)]
    assert all(0 <= x <= 354 for x in numbers) and 0 < drawn.flag <= 1
    assert len(rings(drawn.svg)) == sum(day >= 0 for day in answers)
    shown = {day for day in visits if day <= finish}
    assert not shown or len(feet(drawn.svg)) == len(shown)
    whole = r'<svg class="span" viewBox="0 0 354 28" aria-hidden="true">(<(path|circle) [^<>]*/>)+</svg>'
    assert re.fullmatch(whole, drawn.svg)
