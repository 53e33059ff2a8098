"""The plan as rows along one line of days, for one sheet of paper: work, answers, deliveries, each with its dates."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from portal.drawings.charts.time_marks import line, ring
from portal.drawings.scenes.scene import SceneError
from portal.drawings.writers.markup import number, svg_root, words
from portal.words.dates import short_span_words
from portal.words.drawn import chart_words as said

WORK, RUNNING, HELD, DELIVERY, ANSWER = "work", "running", "held", "delivery", "answer"
MOST_ROWS = 29
"""As many as stand on a sheet of Letter, lying, in letters of 11 points."""

_WIDTH, _NAMES = 980.0, 350.0  # CSS px: what Letter, lying, has between its margins
_HEAD, _ROW, _TEXT = 24.0, 18.0, 14.67  # 14.67 px are 11 points
_LETTER = 8.4  # mean width of a letter at that size, on the wide side
_TOP, _BOX = 3.5, 11.0  # of a box within its row


@dataclass(frozen=True, slots=True)
class PlanRow:
    """What is in a row: its `name`, a word of its `state`, its first and last day, and which of the five kinds it is;
    `rests`: the day on which a wait after it is over. `late`: its day is past, and it stands at today."""

    name: str
    first: date
    last: date
    kind: str = WORK
    rests: date | None = None
    late: bool = False
    state: str = ""

    @property
    def until(self) -> date:
        """Give the last day with anything of it."""
        return max(self.last, self.rests or self.last)


@dataclass(frozen=True, slots=True)
class PlanSheet:
    """`svg`, and the rows that had no room in it: those that begin last."""

    svg: str
    left_out: tuple[PlanRow, ...]


def plan_rows(
    rows: Sequence[PlanRow], today: date, off: Collection[date] = (), finish: date | None = None
) -> PlanSheet:
    """Draw the rows in the order in which they begin, MOST_ROWS of them, to scale from the first day to the last,
    described in words. `off`: days without work, shaded; `finish`: the day of the flag.

    Raises SceneError when there are none.
    """
    if not rows:
        raise SceneError("rows is empty: give at least one")
    in_order = sorted(rows, key=lambda row: (row.first, row.last, row.name))
    shown, left_out = in_order[:MOST_ROWS], tuple(in_order[MOST_ROWS:])
    return PlanSheet(_Sheet(shown, today, off, finish).svg(), left_out)


class _Sheet:
    def __init__(self, rows: Sequence[PlanRow], today: date, off: Collection[date], finish: date | None) -> None:
        self.rows, self.today, self.finish = rows, today, finish
        self.first = min(today, *(max(row.first, today - timedelta(days=3)) for row in rows))
        self.days = (max([today, *(row.until for row in rows), *([finish] if finish else [])]) - self.first).days + 1
        self.unit = (_WIDTH - _NAMES) / self.days
        self.off = [day for day in sorted(off) if 0 <= (day - self.first).days < self.days]
        self.height = _HEAD + len(rows) * _ROW + 4

    def x(self, day: date) -> float:
        """The left edge of a day; what began before the drawing begins at its edge."""
        return _NAMES + max(0, (day - self.first).days) * self.unit

    def svg(self) -> str:
        at = range(len(self.rows))
        body = "".join((
            f'<g fill="none" stroke="currentColor">{self._ground()}{"".join(map(self._mark, at))}</g>',
            f'<g font-size="{_TEXT}" fill="currentColor" stroke="var(--paper,#fff)" stroke-width="3" ',
            f'paint-order="stroke">{self._heads()}{"".join(map(self._words, at))}</g>',
        ))
        sentences = (said.plan_row(row.name, row.state, row.first, row.last, row.rests) for row in self.rows)
        return svg_root(
            ident="rows", title=said.PLAN_ROWS, description=" ".join(sentences), view=(0, 0, _WIDTH, self.height),
            body=body,
        )

    def _ground(self) -> str:
        """Days off shaded, Mondays as lines, today as the hook."""
        bottom, hook = number(self.height), self.x(self.today)
        mondays = "".join(f"M{number(self.x(day))} {_HEAD}V{bottom}" for day in self._mondays())
        off = "".join(
            f"M{number(self.x(day))} {_HEAD}h{number(self.unit)}V{bottom}h-{number(self.unit)}z" for day in self.off
        )
        flag = self.x(self.finish) + self.unit if self.finish else 0.0
        return "".join((
            line(off, fill="currentColor", fill_opacity=".12", stroke="none"), line(mondays, stroke_width=".7"),
            line(f"M{number(hook)} {_HEAD - 6}V{bottom}h-8", stroke_width="3"),
            line(f"M{number(flag)} {bottom}V6h-13l4 5-4 5h13", fill="currentColor") if flag else "",
        ))  # fmt: skip

    def _mondays(self) -> list[date]:
        days = (self.first + timedelta(days=n) for n in range(1, self.days))
        return [day for day in days if day.weekday() == 0]

    def _heads(self) -> str:
        """The date of each Monday, where there is room beside the last one."""
        texts, free = [], _NAMES
        for day in self._mondays():
            if self.x(day) >= free:
                texts.append(_text(self.x(day) + 2, _HEAD - 8, short_span_words(day, day)))
                free = self.x(day) + 7 * _LETTER
        return "".join(texts)

    def _mark(self, at: int) -> str:
        row, y = self.rows[at], _HEAD + at * _ROW + _TOP
        left, right = self.x(row.first), max(self.x(row.last), self.x(self.first)) + self.unit
        middle = (left + min(right, left + self.unit)) / 2
        if row.kind == ANSWER:
            return ring(middle, y + _BOX / 2, 5, "rd" if row.late else "bl")
        if row.kind == DELIVERY:
            return line(f"M{number(middle - 5)} {number(y)}h10v10h-10z", "fw", stroke_width="1.5")
        rests = f"M{number(right)} {number(y + _BOX / 2)}H{number(self.x(row.rests) + self.unit)}" if row.rests else ""
        box = f"M{number(left + 1)} {number(y)}H{number(right - 1)}v{number(_BOX)}H{number(left + 1)}z"
        look = {"stroke_dasharray": "4 3"} if row.kind == HELD else {}
        fill = {"fill": "currentColor"} if row.kind == RUNNING else {}
        dots = line(rests, stroke_width="1.6", stroke_dasharray="1.5 3.5")
        return line(box, stroke_width="1.6", **look, **fill) + dots

    def _words(self, at: int) -> str:
        """Name at the left; the dates after the mark, or before it where the sheet ends."""
        row, y = self.rows[at], _HEAD + at * _ROW + 14
        dates = short_span_words(row.first, row.last)
        after = max(self.x(row.until), self.x(self.first)) + self.unit + 5
        name = said.plan_name(row.name, row.state, int((_NAMES - 8) / _LETTER))
        if after + len(dates) * _LETTER > _WIDTH:
            return _text(0, y, name) + _text(self.x(row.first) - 5, y, dates, "end")
        return _text(0, y, name) + _text(after, y, dates)


def _text(x: float, y: float, text: str, anchor: str = "") -> str:
    at = f' text-anchor="{anchor}"' if anchor else ""
    return f'<text x="{number(x)}" y="{number(y)}"{at}>{words(text)}</text>'
