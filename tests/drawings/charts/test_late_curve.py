"""The small drawing of what a late answer costs: every step in words and in its place."""

from datetime import date, timedelta
from xml.etree import ElementTree

import pytest

from portal.drawings.charts.late_curve import LateAnswer, curve_sentences, late_curve
from portal.drawings.scenes.scene import SceneError

NS = "{http://www.w3.org/2000/svg}"
NEEDED, LATEST = date(2026, 12, 1), date(2026, 12, 3)


def answers(count: int = 24) -> list[LateAnswer]:
    """Working days from Wed Nov 25; from Dec 4 on, each day of waiting moves the finish by one working day."""
    day, finish, found = date(2026, 11, 25), date(2026, 12, 18), []
    while len(found) < count:
        if day.weekday() < 5:
            if day > LATEST:
                finish += timedelta(days=3 if finish.weekday() == 4 else 1)
            found.append(LateAnswer(day, finish))
        day += timedelta(days=1)
    return found


def drawn(rows: list[LateAnswer], needed: date | None = NEEDED, latest: date | None = LATEST) -> ElementTree.Element:
    return ElementTree.fromstring(late_curve(rows, needed, latest))


def dots(root: ElementTree.Element) -> list[tuple[float, float]]:
    return [(float(c.get("cx", "")), float(c.get("cy", ""))) for c in root.iter(f"{NS}circle")]


def texts(root: ElementTree.Element) -> list[str]:
    return [t.text or "" for t in root.iter(f"{NS}text")]


def test_it_has_a_title_and_says_every_step_in_words() -> None:
    root = drawn(answers())
    assert root[0].text == "The finish date, by the day of your answer"
    said = root[1].text or ""
    assert said.startswith("Answer on Wed Nov 25 to Thu Dec 3: the finish is Fri Dec 18.")
    assert "Answer on Fri Dec 4: the finish is Mon Dec 21." in said
    assert "Needed by Tue Dec 1 to keep the booked days. Latest by Thu Dec 3 to keep the finish." in said


def test_each_finish_is_said_once() -> None:
    assert len(curve_sentences(answers())) == len({a.finish for a in answers()})


def ends(rows: list[LateAnswer]) -> list[LateAnswer]:
    """The first and the last day of each step: each is a dot."""
    return [a for n, a in enumerate(rows) if {rows[max(n - 1, 0)].finish, rows[min(n + 1, len(rows) - 1)].finish} != {
        a.finish} or n in (0, len(rows) - 1)]  # fmt: skip


def test_each_step_begins_and_ends_with_a_dot_and_dates_keep_their_proportions() -> None:
    rows = ends(answers())
    got = dots(drawn(answers()))
    assert len(got) == len(rows)
    days = [(a.on - rows[0].on).days for a in rows]
    slope = (got[-1][0] - got[0][0]) / days[-1]
    assert [x for x, _ in got] == pytest.approx([got[0][0] + d * slope for d in days], abs=0.06)


def test_the_curve_is_level_to_the_latest_day_and_rises_on_the_next() -> None:
    heights = {a.on: y for a, (_, y) in zip(ends(answers()), dots(drawn(answers())), strict=True)}
    assert len({y for day, y in heights.items() if day <= LATEST}) == 1
    assert heights[LATEST + timedelta(days=1)] < heights[LATEST]


def test_both_dates_are_marked_where_they_are() -> None:
    rows = ends(answers())
    root = drawn(answers())
    assert "needed by Tue Dec 1" in texts(root) and "latest by Thu Dec 3" in texts(root)
    xs = {a.on: x for a, (x, _) in zip(rows, dots(root), strict=True)}
    starts = [p.get("d", "")[1:].split()[0] for p in root.iter(f"{NS}path") if p.get("stroke-dasharray")]
    needed = xs[rows[0].on] + 6 * (xs[LATEST] - xs[rows[0].on]) / 8  # Dec 1 is 6 of the 8 days to Dec 3
    assert [float(x) for x in starts] == pytest.approx([needed, xs[LATEST]], abs=0.06)


def test_one_date_for_both_is_marked_once() -> None:
    root = drawn(answers(), LATEST, LATEST)
    assert "needed and latest by Thu Dec 3" in texts(root)
    assert len([p for p in root.iter(f"{NS}path") if p.get("stroke-dasharray")]) == 1


@pytest.mark.parametrize("count", [1, 2, 5, 24])
def test_words_stay_in_the_picture_and_off_each_other(count: int) -> None:
    """Widths at 6.4 px a letter, the width that the drawing reckons with."""
    root = drawn(answers(count), None, None)
    rows: dict[float, list[tuple[float, float]]] = {}
    for t in root.iter(f"{NS}text"):
        x, long = float(t.get("x", "")), 6.4 * len(t.text or "")
        low = {"start": x, "middle": x - long / 2, "end": x - long}[t.get("text-anchor", "start")]
        assert low >= 0 and low + long <= 320
        rows.setdefault(float(t.get("y", "")), []).append((low, low + long))
    for spans in rows.values():
        spans.sort()
        assert all(a[1] <= b[0] for a, b in zip(spans, spans[1:], strict=False))
    ys = sorted(rows)
    assert all(b - a >= 11 for a, b in zip(ys, ys[1:], strict=False))


def test_a_single_day_is_still_a_drawing() -> None:
    assert len(dots(drawn(answers(1)))) == 1


def test_a_day_outside_the_curve_is_named_without_a_line() -> None:
    root = drawn(answers(3), None, date(2027, 2, 1))
    assert "latest by Mon Feb 1" in texts(root)
    assert not [p for p in root.iter(f"{NS}path") if p.get("stroke-dasharray")]


def test_a_day_that_is_past_is_said_to_be_past_where_it_stands_at_the_first_day() -> None:
    root = drawn(answers(3), date(2020, 1, 2), None)
    assert "needed by Thu Jan 2 (past)" in texts(root)
    assert "Needed by Thu Jan 2, which is past, to keep the booked days." in ElementTree.tostring(root, "unicode")


def test_a_year_of_working_days_is_still_small() -> None:
    rows = [LateAnswer(date(2026, 1, 5) + timedelta(days=n), date(2027, 3, 1)) for n in range(330)]
    rows += [LateAnswer(date(2026, 12, 1) + timedelta(days=n), date(2027, 3, 2) + timedelta(days=n)) for n in range(20)]
    assert len(late_curve(rows).encode()) < 6 * 1024


def test_it_is_small_and_takes_the_colors_of_the_page() -> None:
    text = late_curve(answers(), NEEDED, LATEST)
    assert len(text.encode()) < 6 * 1024
    assert "#" not in text and "url(" not in text


@pytest.mark.parametrize(
    ("rows", "reason"),
    [
        ([], "at least one day"),
        ([LateAnswer(LATEST, LATEST), LateAnswer(NEEDED, LATEST)], "in order"),
        ([LateAnswer(NEEDED, LATEST), LateAnswer(NEEDED, LATEST)], "each once"),
        ([LateAnswer(NEEDED, LATEST), LateAnswer(LATEST, NEEDED)], "can't finish before"),
    ],
)
def test_what_is_no_curve_is_refused(rows: list[LateAnswer], reason: str) -> None:
    with pytest.raises(SceneError, match=reason):
        late_curve(rows)
