"""The time that is left, from today's hook to the flag of the finish, to scale, small enough for the first screen."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from portal.drawings.charts.time_marks import foot, line, ring, ticks, unheard
from portal.drawings.writers.markup import number

_WIDTH, _HEIGHT = 354.0, 28.0
_HOOK, _HOOK_AFTER_LATE, _RIGHT = 10.0, 34.0, 346.0
_PASSED = 20.0
_LINE, _RINGS = 16.0, 23.0
_RING, _APART = 4.0, 10.8
_SOON = 0.45
_WEEKS = 40
"""Up to so many weeks there is a tick for each; beyond, for every fourth."""


@dataclass(frozen=True, slots=True)
class Span:
    """`finish`: the day of the flag, today at the earliest. `promised`: None without a promise. `visits`: days on which
    a crew comes, `answers`: days by which open answers are due; those that are over have `late` instead. `until`: the
    last day of a scale that several spans share, None for one of its own."""

    today: date
    finish: date
    promised: date | None = None
    visits: Sequence[date] = ()
    answers: Sequence[date] = ()
    late: bool = False
    until: date | None = None

    @property
    def is_late(self) -> bool:
        """Tell whether the flag stands past the promise."""
        return self.promised is not None and self.finish > self.promised


@dataclass(frozen=True, slots=True)
class DrawnSpan:
    """`svg`, and where flag and promise stand in it, as shares of its width from the left (0 to 1): there stand their
    words. `promised`: None without a promise, and for one that is over; `rings`: the middle of the rings, None without
    any."""

    svg: str
    flag: float
    promised: float | None
    rings: float | None

    @property
    def soon(self) -> bool:
        """Tell whether the flag stands so far left that its words have no room before it."""
        return self.flag < _SOON


def draw_span(span: Span) -> DrawnSpan:
    """Draw it. A promise that is over stands before the hook, where nothing is to scale; so does what is late."""
    return _Drawing(span).drawn()


class _Drawing:
    def __init__(self, span: Span) -> None:
        self.span = span
        self.passed = span.promised is not None and span.promised < span.today
        self.hook = _HOOK_AFTER_LATE if span.late or self.passed else _HOOK
        ends = [span.finish, span.today + timedelta(days=1), *filter(None, (span.promised, span.until))]
        self.unit = (_RIGHT - self.hook) / (max(ends) - span.today).days

    def x(self, day: date) -> float:
        return min(_RIGHT, self.hook + max(0, (day - self.span.today).days) * self.unit)

    def drawn(self) -> DrawnSpan:
        span, flag, rings = self.span, self.x(self.span.finish), self._rings()
        promised = None if span.promised is None else _PASSED if self.passed else self.x(span.promised)
        body = "".join((
            line(f"M{number(self.hook)} 8v17h-7", stroke_width="3"),
            line(f"M{number(self.hook)} {number(_LINE)}H{number(flag)}"),
            line(ticks(self._ticks(flag), 13, 19), "thin"), line(self._feet(), "ft"),
            "".join(ring(x, _RINGS, _RING, "bl") for x in rings), self._before(),
            self._flag(flag),
            "" if promised is None else line(f"M{number(promised)} 8v18", "hid", stroke_dasharray="4 3"),
        ))  # fmt: skip
        return DrawnSpan(
            unheard("span", _WIDTH, _HEIGHT, body), flag / _WIDTH,
            None if promised is None or self.passed else promised / _WIDTH,
            sum(rings) / len(rings) / _WIDTH if rings else None,
        )

    def _ticks(self, flag: float) -> list[float]:
        days = (self.span.finish - self.span.today).days
        step = 7 if days <= _WEEKS * 7 else 28
        every = [self.hook + day * self.unit for day in range(step, days, step)]
        return [x for x in every if flag - x > 3]

    def _feet(self) -> str:
        """That of today stands beside the hook."""
        span = self.span
        days = sorted({day for day in span.visits if span.today <= day <= max(span.finish, span.today)})
        return "".join(foot(max(self.x(day), self.hook + 6), 8) for day in days)

    def _rings(self) -> list[float]:
        """Side by side where their days are too near for them, and none beyond the drawing."""
        found: list[float] = []
        for day in sorted(day for day in self.span.answers if day >= self.span.today):
            found.append(max(self.x(day), found[-1] + _APART if found else self.hook + 6))
        over = max(0.0, found[-1] - _RIGHT) if found else 0.0
        return [max(self.hook + 6, x - over) for x in found]

    def _before(self) -> str:
        """What was missed has slipped off before the hook."""
        if not self.span.late:
            return ""
        return line("M28 16H14", "rd", stroke_dasharray="4 4") + line("M13 10 3 16l10 6z", "rd fi")

    def _flag(self, x: float) -> str:
        """It flies back over the time that is left, where there is some."""
        look = "rd" if self.span.is_late else ""
        back = x - self.hook > 16
        cloth = f"M{number(x)} 1{'h-12l4 4.5-4 4.5h12z' if back else 'h12l-4 4.5 4 4.5h-12z'}"
        return line(f"M{number(x)} 25V1", look) + line(cloth, f"{look} fi".strip(), stroke_width="1")
