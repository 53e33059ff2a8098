"""What a late answer costs, as a small drawing: the finish date by the day on which the answer comes."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from portal.drawings.scenes.scene import SceneError
from portal.drawings.writers.markup import number, svg_root, words
from portal.words.dates import day_words
from portal.words.drawn import chart_words as said

_WIDTH = 320.0  # CSS px of the narrowest phone; all lengths here are in them
_LEFT, _RIGHT, _TOP, _BOTTOM = 84.0, 12.0, 44.0, 40.0
_HEIGHT = 110.0  # of the curve itself
_TEXT = 12.0
_LETTER = 6.4  # mean width of a letter at 12 px
_MOST_DATES = 5  # finish dates written at the side


@dataclass(frozen=True)
class LateAnswer:
    """If the answer comes `on` that day, the job is done on `finish`."""

    on: date
    finish: date


def late_curve(
    answers: Sequence[LateAnswer],
    needed_by: date | None = None,
    latest_by: date | None = None,
    *,
    title: str = said.LATE_TITLE,
    ident: str = "late",
) -> str:
    """Draw the step curve as SVG, with every step in its description.

    `answers` are in order of their day. Raises SceneError when there are none, when they are out of order, or when a
    later answer would finish earlier.
    """
    _check(answers)
    axes = _Axes(answers)
    body = (
        f'<g fill="none" stroke="currentColor">{axes.frame()}'
        f'<path stroke-width="2.5" d="{axes.steps()}"/></g>'
        f'<g fill="currentColor" font-family="system-ui,sans-serif" font-size="{number(_TEXT)}">'
        f"{axes.dots()}{axes.finishes()}{axes.days()}{_marks(axes, needed_by, latest_by)}</g>"
    )
    height = _TOP + _HEIGHT + _BOTTOM
    description = " ".join([*curve_sentences(answers), *_mark_sentences(needed_by, latest_by, axes.first)])
    return svg_root(
        ident=ident, title=title, description=description, view=(0, 0, _WIDTH, height), body=body
    )


def curve_sentences(answers: Sequence[LateAnswer]) -> list[str]:
    """Say the curve in words, one sentence a step; the first step may have begun before the first day shown."""
    sentences = []
    for finish, run in groupby(answers, key=lambda a: a.finish):
        days = [a.on for a in run]
        sentences.append(said.answer_on(days[0], days[-1], finish))
    return sentences


def _mark_sentences(needed_by: date | None, latest_by: date | None, first: date | None) -> list[str]:
    found = []
    if needed_by is not None:
        found.append(said.needed_by(needed_by, past=first is not None and needed_by < first))
    if latest_by is not None:
        found.append(said.latest_by(latest_by))
    return found


def _check(answers: Sequence[LateAnswer]) -> None:
    if not answers:
        raise SceneError("answers is empty: give at least one day")
    for before, after in zip(answers, answers[1:], strict=False):
        if after.on <= before.on:
            raise SceneError(f"answers: {after.on} comes after {before.on}: give the days in order, each once")
        if after.finish < before.finish:
            raise SceneError(f"answers: an answer on {after.on} can't finish before one on {before.on}")


def _ends(run: list[LateAnswer]) -> list[LateAnswer]:
    return run if len(run) == 1 else [run[0], run[-1]]


class _Axes:
    """Days to the right, finish dates upwards: a later finish is higher up."""

    def __init__(self, answers: Sequence[LateAnswer]) -> None:
        self.answers = answers
        self.first, self.last = answers[0].on, answers[-1].on
        self.low, self.high = answers[0].finish, answers[-1].finish
        self.floor = _TOP + _HEIGHT

    def x(self, day: date) -> float:
        """Give where a day is, in px; days outside stand at the ends."""
        share = (day - self.first).days / max((self.last - self.first).days, 1)
        return _LEFT + 8 + min(max(share, 0.0), 1.0) * (_WIDTH - _LEFT - _RIGHT - 16)

    def y(self, finish: date) -> float:
        share = (finish - self.low).days / max((self.high - self.low).days, 1)
        return self.floor - 12 - share * (_HEIGHT - 24)

    def frame(self) -> str:
        return f'<path d="M{_LEFT} {_TOP}V{number(self.floor)}H{_WIDTH - _RIGHT}"/>'

    def steps(self) -> str:
        """Draw the steps: level to the next day, then up: each day's answer holds until the day ends."""
        start = self.answers[0]
        path = f"M{number(self.x(start.on))} {number(self.y(start.finish))}"
        for answer in self.answers[1:]:
            path += f"H{number(self.x(answer.on))}"
            if answer.finish != start.finish:
                path += f"V{number(self.y(answer.finish))}"
            start = answer
        return path

    def dots(self) -> str:
        """Draw a dot on the first and the last day of each step."""
        ends = [day for _, run in groupby(self.answers, key=lambda a: a.finish) for day in _ends(list(run))]
        return "".join(f'<circle cx="{number(self.x(a.on))}" cy="{number(self.y(a.finish))}" r="3"/>' for a in ends)

    def finishes(self) -> str:
        """Write the finish dates beside the axis: all of them, or as many as can be read, always the first and the
        last."""
        dates = sorted({a.finish for a in self.answers})
        if len(dates) > _MOST_DATES:
            dates = [dates[round(i * (len(dates) - 1) / (_MOST_DATES - 1))] for i in range(_MOST_DATES)]
        shown: list[date] = []
        for finish in dates:
            clear = not shown or self.y(shown[-1]) - self.y(finish) >= _TEXT + 1
            if finish == self.high and not clear and len(shown) > 1:
                shown.pop()
                clear = True
            if clear:
                shown.append(finish)
        return "".join(_text(_LEFT - 5, self.y(d) + 4, day_words(d), "end") for d in shown) + _text(
            4, _TOP - 4, said.FINISH, "start"
        )

    def days(self) -> str:
        """Write the first and the last day under the axis."""
        y = self.floor + 15
        ends = _text(self.x(self.first) - 8, y, day_words(self.first), "start")
        if self.last != self.first:
            ends += _text(_WIDTH - _RIGHT, y, day_words(self.last), "end")
        return ends + _text((_LEFT + _WIDTH - _RIGHT) / 2, y + 17, said.DAY_OF_ANSWER, "middle")


def _marks(axes: _Axes, needed_by: date | None, latest_by: date | None) -> str:
    """A dotted line down from its words for each of the two dates, one row of words for each."""
    if needed_by is not None and needed_by == latest_by:
        return _mark(axes, needed_by, said.mark_both(needed_by), 26)
    marks = ""
    if needed_by is not None:
        marks += _mark(axes, needed_by, said.mark_needed(needed_by), 12)
    if latest_by is not None:
        marks += _mark(axes, latest_by, said.mark_latest(latest_by), 28)
    return marks


def _mark(axes: _Axes, day: date, text: str, y: float) -> str:
    """Words beside their line, on the side where they fit; a day outside the curve is only named."""
    x = axes.x(day)
    inside = axes.first <= day <= axes.last
    long = len(text) * _LETTER
    line = ""
    if day < axes.first:
        text = said.past(text)  # it stands at the first day, where there is no line
        long = len(text) * _LETTER
    if inside:
        line = (
            f'<path stroke="currentColor" stroke-width="1.5" stroke-dasharray="1.5 3" '
            f'd="M{number(x)} {number(y - 9)}V{number(axes.floor)}"/>'
        )
    if x + 4 + long <= _WIDTH:
        return line + _text(x + 4, y, text, "start")
    return line + _text(x - 4, y, text, "end")


def _text(x: float, y: float, text: str, anchor: str) -> str:
    return f'<text x="{number(x)}" y="{number(y)}" text-anchor="{anchor}">{words(text)}</text>'
