"""The plan as rows on one sheet: to scale, each row with its dates, what has no room is named."""

import re
from datetime import date, timedelta

import pytest

from portal.drawings.charts.plan_rows import (
    ANSWER,
    DELIVERY,
    HELD,
    MOST_ROWS,
    RUNNING,
    WORK,
    PlanRow,
    plan_rows,
)  # fmt: skip
from portal.drawings.scenes.scene import SceneError

TODAY = date(2026, 12, 2)


def row(name: str, first: int, last: int, kind: str = WORK, rests: int | None = None, **more: object) -> PlanRow:
    """Days counted from today."""
    days = [TODAY + timedelta(days=n) for n in (first, last)]
    wait = None if rests is None else TODAY + timedelta(days=rests)
    return PlanRow(name, days[0], days[1], kind, wait, **more)  # type: ignore[arg-type]


def texts(svg: str) -> list[str]:
    return re.findall(r"<text [^>]*>([^<]*)</text>", svg)


def boxes(svg: str) -> list[tuple[float, float]]:
    return [(float(a), float(b)) for a, b in re.findall(r'd="M([\d.]+) [\d.]+H([\d.]+)v11H', svg)]


def test_rows_stand_in_the_order_in_which_they_begin_with_their_dates() -> None:
    made = plan_rows([row("Tile", 5, 6), row("Top", 1, 1), row("Tiles arrive", 2, 2, DELIVERY)], TODAY).svg
    assert [one for one in texts(made) if one != "Dec 7"] == [
        "Top", "Dec 3", "Tiles arrive", "Dec 4", "Tile", "Dec 7 to 8"]
    assert "<desc id=\"rows-d\">Top, Thu Dec 3. Tiles arrive, Fri Dec 4. Tile, Mon Dec 7 to Tue Dec 8.</desc>" in made


def test_every_day_has_as_much_room() -> None:
    """Ten days from today on, 63 px each, a pixel less at either end of a box."""
    made = plan_rows([row("A", 0, 0), row("B", 1, 3), row("C", 9, 9)], TODAY).svg
    assert boxes(made) == [(351, 412), (414, 601), (918, 979)]


def test_what_waits_is_dashed_what_goes_on_is_full_and_a_wait_is_dotted() -> None:
    made = plan_rows([row("A", 0, 1, RUNNING), row("B", 2, 2, HELD, state="waits"), row("C", 3, 3, rests=5)], TODAY).svg
    assert made.count('stroke-dasharray="4 3"') == 1 and made.count('fill="currentColor" d="M351') == 1
    assert made.count('stroke-dasharray="1.5 3.5"') == 1 and "B, waits" in texts(made)


def test_an_answer_is_a_ring_at_its_day_and_a_late_one_is_red() -> None:
    made = plan_rows([row("A", 0, 0, ANSWER, late=True), row("B", 1, 1, ANSWER)], TODAY).svg
    assert re.findall(r'<circle class="(\w+)"', made) == ["rd", "bl"]


def test_work_that_began_long_ago_begins_at_the_edge() -> None:
    (box,) = boxes(plan_rows([row("A", -40, 2, RUNNING)], TODAY).svg)
    assert box == (351, 979)


def test_dates_stand_before_a_mark_that_ends_the_sheet() -> None:
    made = plan_rows([row("A", 0, 0), row("B", 20, 20)], TODAY).svg
    assert re.search(r'text-anchor="end">Dec 22</text>', made) and not re.search(r'"end">Dec 2</text>', made)


def test_what_has_no_room_is_handed_back() -> None:
    every = [row(f"Step {n}", n, n) for n in range(MOST_ROWS + 3)]
    made = plan_rows(reversed(every), TODAY)  # type: ignore[arg-type]
    assert [one.name for one in made.left_out] == ["Step 29", "Step 30", "Step 31"]
    assert "Step 28" in texts(made.svg) and "Step 29" not in made.svg
    assert plan_rows(every[:MOST_ROWS], TODAY).left_out == ()


def test_days_off_are_hatched_and_the_finish_has_its_flag() -> None:
    off = {TODAY + timedelta(days=3)}
    made = plan_rows([row("A", 0, 4)], TODAY, off, TODAY + timedelta(days=4)).svg
    assert 'fill-opacity=".12"' in made and "M980 " in made
    plain = plan_rows([row("A", 0, 4)], TODAY).svg
    assert 'fill-opacity' not in plain and "h-13l4 5-4 5h13" not in plain


def test_a_long_name_is_cut_but_for_its_state() -> None:
    long = row("Set outlets, switches and lights in every room", 0, 0, HELD, state="waits")
    made = texts(plan_rows([long], TODAY).svg)
    assert made[-2].endswith("…, waits") and len(made[-2]) <= 41


def test_hostile_names_stay_words() -> None:
    made = plan_rows([row('"><script>alert(1)</script>', 0, 0)], TODAY).svg
    assert "<script" not in made and "&lt;script&gt;" in made


def test_nothing_can_not_be_drawn() -> None:
    with pytest.raises(SceneError, match="rows is empty"):
        plan_rows([], TODAY)
