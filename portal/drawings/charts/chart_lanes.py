"""The pencil work of the chart: day columns, blocks in lanes, dotted waits, and words that never lie on each other."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from portal.drawings.writers.markup import number, words
from portal.words.dates import weekday_words
from portal.words.drawn.chart_words import TODAY

_DAY = 44.0  # CSS px of a day: seven and the margins make a phone's 320
_SIDE = 6.0
_HEAD = 50.0  # weekday, date, and a word such as `off` or `today`
_TEXT = 11.5
_LETTER = 6.3  # mean width of a letter at that size, on the wide side
_BLOCK = 18.0  # height of a block
_WORDS = 14.0  # height of a line of words beside or under a block
_FROM, _TO = 6.0, 18.0  # hours that a day's column shows; work outside stands at its edge


@dataclass(frozen=True)
class Block:
    """Something in one lane, in px across the chart. `left` and `right` are the work, `wait` where a wait ends.

    What `came_on` from before or `goes_on` afterwards has no line at that end; where work ended in an earlier week,
    `left` and `right` are the same and only the wait is drawn.
    """

    words: str
    left: float
    right: float
    wait: float | None = None
    goes_on: bool = False
    came_on: bool = False
    wait_goes_on: bool = False
    is_mark: bool = False

    @property
    def only_wait(self) -> bool:
        """Say whether its work ended in an earlier week."""
        return not self.is_mark and self.left == self.right

    @property
    def fits(self) -> bool:
        """Say whether the words fit into the block itself."""
        return not self.is_mark and len(self.words) * _LETTER + 8 <= self.right - self.left

    @property
    def height(self) -> float:
        """Give how high its lane must be, in px: with its words below it where they do not fit."""
        return _WORDS + 4 if self.is_mark else _BLOCK + 4 + (0 if self.fits else _WORDS)

    def words_at(self, width: float) -> tuple[float, str]:
        """Give where the words start or end, in px, and which of the two; beside a block they lean back from the
        right edge of the chart."""
        inset = 5.0 if self.is_mark or self.fits else 0.0
        if self.left + inset + len(self.words) * _LETTER <= width - 2:
            return self.left + inset, "start"
        if self.is_mark and self.left - inset - len(self.words) * _LETTER > 0:
            return self.left - inset, "end"
        return width - _SIDE, "end"

    def taken(self, width: float) -> tuple[float, float]:
        """Give from where to where nothing else may stand in its lane, in px, on a chart `width` px wide."""
        at, anchor = self.words_at(width)
        long = len(self.words) * _LETTER
        low, high = (at, at + long) if anchor == "start" else (at - long, at)
        return min(low, self.left), max(high, self.right, self.wait or 0.0)


Lane = list[Block]


def pack(blocks: Sequence[Block], width: float) -> list[Lane]:
    """Put blocks into as few lanes as keep their words apart, in the order in which they are given."""
    lanes: list[Lane] = []
    for block in blocks:
        low, high = block.taken(width)
        for lane in lanes:
            if all(high + 6 <= o.taken(width)[0] or o.taken(width)[1] + 6 <= low for o in lane):
                lane.append(block)
                break
        else:
            lanes.append([block])
    return lanes


class Chart:
    """One week on the board; rooms are added from the top down."""

    def __init__(self, first: date, days: int, off: Mapping[date, str], today: date | None) -> None:
        self.first, self.days, self.off, self.today = first, days, off, today
        self.width = 2 * _SIDE + days * _DAY
        self.height = _HEAD
        self._lines: list[str] = []
        self._strong: list[str] = []
        self._dotted: list[str] = []
        self._words: list[str] = []
        self._head()

    def x(self, moment: datetime) -> float:
        """Give where a moment is, in px; before the week and after it, the edges."""
        day = (moment.date() - self.first).days
        hour = moment.hour + moment.minute / 60
        share = min(max((hour - _FROM) / (_TO - _FROM), 0.0), 1.0)
        return _SIDE + min(max(day + share, 0.0), float(self.days)) * _DAY

    def block(self, text: str, starts: datetime, ends: datetime, wait_ends: datetime | None) -> Block:
        """Make the block of a phase; work so short that it would not show is drawn 6 px wide."""
        after = self.first + timedelta(days=self.days)
        wait = self.x(wait_ends) if wait_ends else None
        wait_goes_on = bool(wait_ends and wait_ends.date() >= after)
        if ends.date() < self.first:
            return Block(self._short(text), _SIDE, _SIDE, wait, came_on=True, wait_goes_on=wait_goes_on)
        right = min(max(self.x(ends), self.x(starts) + 6), self.width - _SIDE)
        return Block(
            self._short(text), min(self.x(starts), right - 6), right, wait, goes_on=ends.date() >= after,
            came_on=starts.date() < self.first, wait_goes_on=wait_goes_on,
        )  # fmt: skip

    def _short(self, text: str) -> str:
        """What is too long for the chart ends in dots; the description has it whole."""
        room = int((self.width - 3 * _SIDE) / _LETTER)
        return text if len(text) <= room else text[: room - 1].rstrip() + "…"

    def mark(self, text: str, on: date) -> Block:
        """Make the mark of a day by whose end something is wanted."""
        x = _SIDE + ((on - self.first).days + 1) * _DAY - 1
        return Block(self._short(text), x, x, is_mark=True)

    def add_room(self, room: str, lanes: Sequence[Lane]) -> None:
        """Draw a room below those that are there: its name, then its lanes."""
        self._lines.append(f"M{_SIDE} {number(self.height)}H{number(self.width - _SIDE)}")
        self._say(_SIDE, self.height + 14, room, weight="bold")
        self.height += 20
        for lane in lanes:
            for block in lane:
                self._draw(block)
            self.height += max(block.height for block in lane) + 2
        self.height += 4

    def body(self) -> str:
        """Give all that is drawn as SVG, without its root."""
        columns = "".join(
            f"M{number(_SIDE + n * _DAY)} {_HEAD - 4}V{number(self.height)}" for n in range(self.days + 1)
        )
        return (
            f'<g fill="none" stroke="currentColor"><path stroke-width=".5" stroke-opacity=".5" d="{columns}"/>'
            f'<path d="{"".join(self._lines)}"/><path stroke-width="1.6" d="{"".join(self._strong)}"/>'
            f'<path stroke-width="1.8" stroke-dasharray="2 4" d="{"".join(self._dotted)}"/></g>'
            f'<g font-family="system-ui,sans-serif" font-size="{_TEXT}" fill="currentColor" '
            'stroke="var(--paper,Canvas)" stroke-width="3" paint-order="stroke">'
            f"{''.join(self._words)}</g>"
        )

    def _head(self) -> None:
        for n in range(self.days):
            day = self.first + timedelta(days=n)
            middle = _SIDE + (n + 0.5) * _DAY
            self._say(middle, 12, weekday_words(day), "middle", weight="bold")
            self._say(middle, 26, f"{day.day}", "middle", weight="bold")
            notes = [self.off[day]] if day in self.off else []
            if day == self.today:
                notes.insert(0, TODAY)
            for note in notes[:1]:
                self._say(middle, 40, note[:7], "middle")

    def _draw(self, block: Block) -> None:
        top = self.height
        if block.is_mark:
            self._flag(block, top)
        else:
            self._outline(block, top)
        at, anchor = block.words_at(self.width)
        line = top + 13 if block.fits or block.is_mark else top + _BLOCK + 12
        self._say(at, line, block.words, anchor)

    def _outline(self, block: Block, top: float) -> None:
        """A box, open at the side where the work comes from or goes on into another week; the wait after it, dotted."""
        left, right, bottom = number(block.left), number(block.right), number(top + _BLOCK)
        if not block.only_wait:
            self._strong.append(f"M{left} {number(top)}H{right}M{left} {bottom}H{right}")
        if not block.came_on:
            self._strong.append(f"M{left} {number(top)}V{bottom}")
        if not block.goes_on and not block.only_wait:
            self._strong.append(f"M{right} {number(top)}V{bottom}")
        if block.wait is not None and block.wait > block.right:
            y = top + _BLOCK / 2
            self._dotted.append(f"M{right} {number(y)}H{number(block.wait)}")
            if not block.wait_goes_on:
                self._strong.append(f"M{number(block.wait)} {number(y - 5)}v10")

    def _flag(self, block: Block, top: float) -> None:
        """A stroke with a foot at the end of the day, and words beside it."""
        x = number(block.left)
        self._strong.append(f"M{x} {number(top)}v{number(_WORDS + 3)}m-3 0h6")

    def _say(self, x: float, y: float, text: str, anchor: str = "start", weight: str = "") -> None:
        more = "" if anchor == "start" else f' text-anchor="{anchor}"'
        more += f' font-weight="{weight}"' if weight else ""
        self._words.append(f'<text x="{number(x)}" y="{number(y)}"{more}>{words(text)}</text>')
