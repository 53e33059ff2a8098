"""The plan week by week, as a carpenter would pencil it on a board: days across, a row per room, words in the blocks.

Each week is a drawing of its own, so that it can be read on a phone and never breaks between two printed pages.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta

from portal.drawings.charts.chart_lanes import Block, Chart, pack
from portal.drawings.scenes.scene import SceneError
from portal.drawings.writers.markup import svg_root
from portal.words.drawn import chart_words as said


@dataclass(frozen=True)
class Stretch:
    """A phase on the chart, in the house's own time.

    `wait_ends` is when the cure or wait after it is over; `state` is a word that stands beside the name.
    """

    room: str
    phase: str
    starts: datetime
    ends: datetime
    state: str = ""
    wait_ends: datetime | None = None

    def __post_init__(self) -> None:
        if self.ends < self.starts:
            raise SceneError(f"Stretch.ends of {self.phase} lies before its start: give a later time")
        if self.wait_ends is not None and self.wait_ends < self.ends:
            raise SceneError(f"Stretch.wait_ends of {self.phase} lies before its end: give a later time, or none")

    @property
    def last(self) -> datetime:
        """Give when it is all over, the wait included."""
        return self.wait_ends or self.ends


@dataclass(frozen=True)
class Mark:
    """A day that something is wanted by: `words` such as `answer by: faucet holes`."""

    room: str
    on: date
    words: str


@dataclass(frozen=True)
class Week:
    """One drawing of the chart: its first day, a heading, and the SVG."""

    first: date
    title: str
    svg: str


@dataclass(frozen=True)
class Board:
    """All that the chart shows. `off` names the days without work; `days` is how many stand side by side."""

    stretches: Sequence[Stretch]
    marks: Sequence[Mark] = ()
    off: Mapping[date, str] = field(default_factory=dict)
    today: date | None = None
    days: int = 7


def chart(board: Board, *, ident: str = "chart") -> list[Week]:
    """Draw the plan as SVG, one drawing for each week in which something happens, each described in words.

    Raises SceneError when there is nothing to show.
    """
    if not board.stretches and not board.marks:
        raise SceneError("Board.stretches is empty: give at least one phase")
    weeks = []
    for number, first in enumerate(_mondays(board), start=1):
        within = _within(board, first)
        if within.stretches or within.marks:
            weeks.append(_week(within, first, f"{ident}-{number}"))
    return weeks


def _mondays(board: Board) -> Iterable[date]:
    days = [d.date() for s in board.stretches for d in (s.starts, s.last)] + [m.on for m in board.marks]
    first = min(days) - timedelta(days=min(days).weekday())
    while first <= max(days):
        yield first
        first += timedelta(days=board.days)


def _within(board: Board, first: date) -> Board:
    """What of the plan falls into the days from `first`."""
    after = first + timedelta(days=board.days)
    return replace(
        board,
        stretches=[s for s in board.stretches if s.starts.date() < after and s.last.date() >= first],
        marks=[m for m in board.marks if first <= m.on < after],
    )


def _week(board: Board, first: date, ident: str) -> Week:
    last = first + timedelta(days=board.days - 1)
    title = said.week_title(first, last)
    drawing = Chart(first, board.days, board.off, board.today)
    for room, blocks in _rooms(board, drawing).items():
        drawing.add_room(room, pack(blocks, drawing.width))
    svg = svg_root(
        ident=ident,
        title=said.plan_for(title),
        description=" ".join(week_sentences(board)),
        view=(0, 0, drawing.width, drawing.height),
        body=drawing.body(),
    )
    return Week(first, title, svg)


def _rooms(board: Board, drawing: Chart) -> dict[str, list[Block]]:
    """Blocks by room, rooms in the order in which they come up."""
    rooms: dict[str, list[Block]] = {}
    for s in sorted(board.stretches, key=lambda s: (s.starts, s.phase)):
        words = said.block(s.phase, s.state, only_wait=s.ends.date() < drawing.first)
        rooms.setdefault(s.room, []).append(drawing.block(words, s.starts, s.ends, s.wait_ends))
    for m in sorted(board.marks, key=lambda m: (m.on, m.words)):
        rooms.setdefault(m.room, []).append(drawing.mark(m.words, m.on))
    return rooms


def week_sentences(board: Board) -> list[str]:
    """Say the same in words, room by room."""
    rooms: dict[str, list[str]] = {}
    for s in sorted(board.stretches, key=lambda s: (s.starts, s.phase)):
        wait = s.wait_ends.date() if s.wait_ends else None
        words = said.stretch(s.phase, s.starts.date(), s.ends.date(), s.state, wait)
        rooms.setdefault(s.room, []).append(words)
    for m in sorted(board.marks, key=lambda m: (m.on, m.words)):
        rooms.setdefault(m.room, []).append(said.mark(m.words, m.on))
    return [said.room(room, lines) for room, lines in rooms.items()]
