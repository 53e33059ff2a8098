"""How far the day of an answer is: a tick a day, to scale, and back from the hook where it is over."""

import re
from datetime import date, timedelta

import pytest

from portal.drawings.charts.dimension import dimension

TODAY = date(2026, 11, 28)


def drawn(answer: int, comes: int | None = None) -> str:
    return dimension(TODAY, TODAY + timedelta(days=answer), None if comes is None else TODAY + timedelta(days=comes))


def ring(svg: str) -> tuple[str, float]:
    ((look, x),) = re.findall(r'<circle class="([^"]+)" cx="([\d.]+)"', svg)
    return look, float(x)


def hook(svg: str) -> float:
    (x,) = re.findall(r'd="M([\d.]+) 1v15h-7"', svg)
    return float(x)


def foot(svg: str) -> list[float]:
    return [float(x) + 3.5 for x in re.findall(r'class="ft" d="M([\d.]+) 2l', svg)]


def ticks(svg: str) -> list[float]:
    return [float(x) for x in re.findall(r"M([\d.]+) 6V12", svg)]


def test_a_day_is_twenty_units_up_to_fourteen_days() -> None:
    svg = drawn(11, 12)
    assert (hook(svg), ring(svg), foot(svg)) == (10, ("bl f", 230), [250])
    assert ticks(svg) == [30 + 20 * n for n in range(10)], "the ring and the foot stand at their own days"
    assert ring(drawn(14))[1] == 290 and 'viewBox="0 0 320 18"' in svg


@pytest.mark.parametrize("days", [15, 40, 48, 49, 200, 2000])
def test_farther_days_have_less_room_and_stay_within(days: int) -> None:
    svg = drawn(days, days + 2)
    assert ring(svg)[1] < foot(svg)[0] <= 300
    assert (ring(svg)[1] - 10) / (foot(svg)[0] - 10) == pytest.approx(days / (days + 2), abs=0.01)
    assert len(ticks(svg)) == (days if days + 2 <= 48 else (days + 1) // 7) - (days % 7 == 0 and days + 2 > 48)


def test_what_is_over_goes_back_from_the_hook_dashed_and_red() -> None:
    svg = drawn(-5, 3)
    assert (hook(svg), ring(svg), foot(svg)) == (110, ("rd f", 10), [170])
    assert '<path class="rd" stroke-dasharray="4 4" d="M110 9H10"/>' in svg
    assert ticks(svg) == [130, 150]


def test_today_is_at_the_hook_and_a_crew_that_was_there_is_not_drawn() -> None:
    svg = drawn(0, -2)
    assert (hook(svg), ring(svg), foot(svg), ticks(svg)) == (10, ("bl f", 10), [], [])
    assert "rd" not in svg and foot(drawn(-3, -1)) == []


def test_the_words_beside_it_say_the_same() -> None:
    assert drawn(3).startswith('<svg class="dim2"') and 'aria-hidden="true"' in drawn(3) and "style" not in drawn(3)
