"""Sets a scene out for one size of lettering: where words stand and in which row each dimension line runs.

Everything that depends on the paper or the screen is one number, the height of the text in mm of the scene. So the
phone, the sheet and the machine's file show the same drawing, and words are readable in each.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from portal.drawings.scenes.hatching import hatch_lines
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Dimension, Hatch, Label, Line, Point, Scene, Side

_GLYPH = 0.56  # mean width of a sans-serif letter in text heights; common practice, errs on the wide side
_GAP = 0.45  # between a line and its words, in text heights
_ROW = 1.7  # from one dimension line to the next, in text heights
_TICK = 0.3  # half the slanting tick at the end of a dimension line
_BASELINE = 0.36  # from the middle of capital letters down to the line they stand on


@dataclass(frozen=True)
class Words:
    """Text with the start, middle or end of its baseline at a point; `upright` text reads from the right."""

    x: float
    y: float
    text: str
    anchor: str = "middle"
    upright: bool = False

    def corners(self, height: float) -> list[Point]:
        """Give two corners of the space it takes, in mm of the scene."""
        box = self.box(height)
        return [(box.left, box.bottom), (box.right, box.top)]

    def box(self, height: float) -> Box:
        """Give about the space it takes, in mm of the scene, for text of this height."""
        long = width_of(self.text, height)
        back = {"start": 0.0, "middle": long / 2, "end": long}[self.anchor]
        low, high = -0.25 * height, 0.8 * height
        if self.upright:
            return Box(self.x - high, self.y - back, self.x - low, self.y - back + long)
        return Box(self.x - back, self.y + low, self.x - back + long, self.y + high)


@dataclass(frozen=True)
class SetOut:
    """What a scene adds when it is drawn with text of height `text`: strokes, words, and the space it all takes."""

    text: float
    strokes: tuple[Line, ...]
    words: tuple[Words, ...]
    box: Box


def width_of(text: str, height: float) -> float:
    """Say about how wide `text` runs, in the unit of `height`."""
    return len(text) * _GLYPH * height


def set_out(scene: Scene, text: float) -> SetOut:
    """Place the words, hatches and dimension lines of `scene` for text `text` mm high (in mm of the scene)."""
    words = [_label(item, text) for item in scene.items if isinstance(item, Label)]
    strokes = [
        Line(Layer.HATCH, *a, *b)
        for item in scene.items
        if isinstance(item, Hatch)
        for a, b in hatch_lines(item.points, text)
    ]
    inner = _around(scene.bounds, words, text)
    outer = inner
    for side in (Side.BELOW, Side.ABOVE, Side.LEFT, Side.RIGHT):
        dims = [i for i in scene.items if isinstance(i, Dimension) and i.side is side]
        more_strokes, more_words = _dimensions(dims, side, inner, text)
        strokes += more_strokes
        words += more_words
        outer = _around(outer, more_words, text, more_strokes)
    return SetOut(text, tuple(strokes), tuple(words), outer)


def _around(box: Box, words: list[Words], text: float, strokes: list[Line] | None = None) -> Box:
    corners: list[Point] = [(box.left, box.bottom), (box.right, box.top)]
    for word in words:
        corners += word.corners(text)
    for stroke in strokes or []:
        corners += stroke.limits()
    return Box.around(corners)


def _label(label: Label, text: float) -> Words:
    gap = _GAP * text
    dx, dy, anchor = {
        Side.CENTER: (0.0, -_BASELINE * text, "middle"),
        Side.ABOVE: (0.0, gap, "middle"),
        Side.BELOW: (0.0, -gap - 0.72 * text, "middle"),
        Side.LEFT: (-gap, -_BASELINE * text, "end"),
        Side.RIGHT: (gap, -_BASELINE * text, "start"),
    }[label.side]
    return Words(label.x + dx, label.y + dy, label.text, anchor)


@dataclass(frozen=True)
class _Span:
    """A dimension seen along its own line: from `low` to `high`, its words centered at `middle`."""

    dimension: Dimension
    low: float
    high: float
    middle: float
    room: float  # width of the words

    @property
    def inside(self) -> bool:
        return self.low < self.middle < self.high

    @property
    def taken(self) -> tuple[float, float]:
        return (min(self.low, self.middle - self.room / 2), max(self.high, self.middle + self.room / 2))


def _span(dim: Dimension, limits: tuple[float, float], text: float) -> _Span:
    """Words go in the middle of the line; where they don't fit, beyond its end, towards the middle of the drawing."""
    a, b = (dim.x1, dim.x2) if dim.along_x else (dim.y1, dim.y2)
    low, high = min(a, b), max(a, b)
    room = width_of(dim.text, text)
    beside = _GAP * text + room / 2
    if room + 1.2 * text <= high - low:
        middle = (low + high) / 2
    elif high + beside + room / 2 <= limits[1]:
        middle = high + beside
    elif low - beside - room / 2 >= limits[0]:
        middle = low - beside
    else:
        middle = high + beside
    return _Span(dim, low, high, middle, room)


def _rows(spans: list[_Span], text: float) -> list[list[_Span]]:
    """Pack spans into rows from the drawing outwards, short ones first, so that few lines cross."""
    rows: list[list[_Span]] = []
    for span in sorted(spans, key=lambda s: (s.high - s.low, s.low)):
        for row in rows:
            if all(_apart(span, other, text) for other in row):
                row.append(span)
                break
        else:
            rows.append([span])
    return rows


def _apart(one: _Span, other: _Span, text: float) -> bool:
    """Lines may meet end to end in one row; words need room on both sides."""
    first, second = sorted((one, other), key=lambda s: s.low)
    if first.high > second.low + 1e-9:
        return False
    gap = 0.3 * text
    words = [(s.middle - s.room / 2 - gap, s.middle + s.room / 2 + gap) for s in (first, second)]
    lines = [(first.low, first.high), (second.low, second.high)]
    return (
        not _meet(words[0], words[1]) and not _meet(words[0], lines[1]) and not _meet(words[1], lines[0])
    )


def _meet(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return a[0] < b[1] and b[0] < a[1]


def _dimensions(dims: list[Dimension], side: Side, inner: Box, text: float) -> tuple[list[Line], list[Words]]:
    along_x = side in {Side.ABOVE, Side.BELOW}
    limits = (inner.left, inner.right) if along_x else (inner.bottom, inner.top)
    edge, out = {
        Side.BELOW: (inner.bottom, -1.0),
        Side.ABOVE: (inner.top, 1.0),
        Side.LEFT: (inner.left, -1.0),
        Side.RIGHT: (inner.right, 1.0),
    }[side]
    strokes: list[Line] = []
    words: list[Words] = []
    for number, row in enumerate(_rows([_span(d, limits, text) for d in dims], text), start=1):
        at = edge + out * text * (_ROW * number - 0.4)
        for span in row:
            put = partial(_put, along_x)
            strokes += _dimension_lines(span, at, out, text, put)
            words.append(_dimension_words(span, at, along_x, text))
    return strokes, words


def _put(along_x: bool, u1: float, v1: float, u2: float, v2: float) -> Line:
    """A line from coordinates along (u) and across (v) the dimension."""
    return Line(Layer.DIMENSION, u1, v1, u2, v2) if along_x else Line(Layer.DIMENSION, v1, u1, v2, u2)


def _dimension_lines(
    span: _Span, at: float, out: float, text: float, put: Callable[[float, float, float, float], Line]
) -> list[Line]:
    """Extension lines from what is measured, ticks as carpenters and architects make them, and the line itself."""
    dim = span.dimension
    ends = ((dim.x1, dim.y1), (dim.x2, dim.y2))
    starts = [(x, y) if dim.along_x else (y, x) for x, y in ends]
    tick, gap = _TICK * text, _GAP * text
    lines = [put(u, v + out * gap, u, at + out * tick) for u, v in starts]
    lines += [put(u - tick, at - tick, u + tick, at + tick) for u in (span.low, span.high)]
    if not span.inside:
        return [*lines, put(span.low, at, span.high, at)]
    half = span.room / 2 + 0.3 * text
    return [
        *lines, put(span.low, at, span.middle - half, at), put(span.middle + half, at, span.high, at),
    ]  # fmt: skip


def _dimension_words(span: _Span, at: float, along_x: bool, text: float) -> Words:
    if along_x:
        return Words(span.middle, at - _BASELINE * text, span.dimension.text)
    return Words(at + _BASELINE * text, span.middle, span.dimension.text, upright=True)
