"""A top with its sink from the front: what stands in each hole, and how many holes that makes.

Places along the top are those of the kept drawing, at one scale for all options of a question, so that two pictures
differ by what is chosen and by nothing else.
"""

from collections.abc import Iterator, Sequence

from portal.drawings.fronts import front_words as words
from portal.drawings.fronts import silhouettes
from portal.drawings.fronts.deck_things import SOAP, Standing, faucet_of, has_bottle, side_asked, side_of, standing
from portal.drawings.fronts.front import (
    CARD,
    FIRM,
    HIGH,
    OUTLINE,
    WIDE,
    Disc,
    Frame,
    Front,
    Shape,
    Stroke,
    Word,
    around,
    basin,
    box,
    line,
    n,
    span,
    within,
)
from portal.drawings.fronts.kept_parts import Kept
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Circle
from portal.layouts.length import Length

_TOP, _STONE, _SINK, _LETTERS = 150.0, 8.0, 44.0, 220.0
"""In units: where the top lies, how thick it is drawn, how far a sink reaches below it, the baseline of the count."""
_USUAL = 0.21
"""Units a mm at which silhouettes have their size 1."""
_LEAST, _PAST = 450.0, 170.0
"""In mm: the least that is drawn to either side of the middle, and past the outermost hole."""
_TILE, _ROWS = 40, (108, 122, 136, 150)
_STEP = 18.0  # between the names of things that stand side by side


def deck_fronts(every: Sequence[Kept]) -> list[Front]:
    """Draw the options of one question, all at one scale."""
    frame = _frame(every, WIDE, _TOP)
    return [_front(kept, frame) for kept in every]


def deck_card(every: Sequence[Kept]) -> Front:
    """Draw the question on a card: what stands in each of the options is there, the rest is dashed."""
    frame = _closer(every)
    stands = [standing(kept) for kept in every]
    sure = {(one.use, round(one.x)) for one in stands[0]}.intersection(
        *({(one.use, round(one.x)) for one in found} for found in stands))
    shapes: list[Shape] = [
        *_window(every[0], frame, CARD, sill=46), Stroke(box(-2, 62, CARD + 2, 69), "fs"),
        *(basin(frame.x(left), frame.x(right), 69, 84) for left, right in _bowls(every[0])),
    ]
    drawn: set[tuple[str, int]] = set()
    for found in stands:
        side = side_of(found)
        for one in found:
            name = (one.use, round(one.x))
            if name not in drawn:
                drawn.add(name)
                shapes += _dashed(_silhouette(one, frame, 62, 0.72, side), dashed=name not in sure)
    return Front("", "", tuple(shapes), CARD, CARD)


def _front(kept: Kept, frame: Frame) -> Front:
    found = standing(kept)
    size, side = _size(frame), side_of(found)
    bottle = _bottle_at(kept) if has_bottle(kept) else None
    lettered = words.holes(*_new_holes(kept))
    names = [*dict.fromkeys(one.name for one in found), *([words.BOTTLE] if bottle else [])]
    busy = [frame.x(one.x) for one in found] + ([frame.x(bottle)] if bottle else [])
    shapes = [
        *_window(kept, frame, WIDE, sill=92), *_tiles(kept, frame, busy), *_below(kept, frame), *_stone(kept, frame),
        *(shape for one in found for shape in _silhouette(one, frame, _TOP, size, side)),
        *_letters(found, frame, size), *(_bottle(frame.x(bottle), size) if bottle else ()),
        *_holes(kept, frame, lettered),
    ]
    return Front(words.seen(names, lettered), words.ALONG, tuple(shapes), WIDE, HIGH)


def _frame(every: Sequence[Kept], width: float, ground: float) -> Frame:
    """The middle of the sink in the middle, and as much of the top as shows every hole of every option."""
    left, right = span(x for kept in every for bowl in _cutouts(kept) for x in bowl)
    middle, reach = (left + right) / 2, right - left
    far = [abs(hole.x - middle) for kept in every for hole in _circles(kept)]
    half = max(reach, _LEAST, max(far, default=0.0) + _PAST)
    return around(middle - half, middle + half, width, ground)


def _closer(every: Sequence[Kept]) -> Frame:
    """The same for a card: about the holes, and a little of the sink."""
    left, right = span([hole.x for kept in every for hole in _circles(kept)] or [0.0])
    middle, half = (left + right) / 2, max((right - left) / 2 + 90, 200.0)
    return around(middle - half, middle + half, CARD, 62)


def _size(frame: Frame) -> float:
    return min(max(frame.scale / _USUAL, 0.6), 1.25)


def _cutouts(kept: Kept) -> list[tuple[float, float]]:
    return [(one.x, one.x + one.width) for one in kept.rects(Layer.CUT_OUT)]


def _bowls(kept: Kept) -> list[tuple[float, float]]:
    """Each bowl where there are several, else the cut-out."""
    bowls = [(one.x, one.x + one.width) for one in kept.rects(Layer.CLEARANCE)]
    return bowls or _cutouts(kept)


def _circles(kept: Kept) -> list[Circle]:
    return kept.circles(Layer.HOLE, Layer.COVERED)


def _window(kept: Kept, frame: Frame, width: float, sill: float) -> Iterator[Shape]:
    """The window that the question was asked with; a wall whose window nobody gave has none."""
    left, right = kept.length("window", "left"), kept.length("window", "right")
    if left is None or right is None:
        return
    x1, x2 = max(frame.x(left), -4.0), min(frame.x(right), width + 4)
    middle, low = frame.x((left + right) / 2), sill - 4
    bar = f"M{n(x1)} {n(low - 48)}H{n(x2)}" if low > 60 else ""
    yield Stroke(f"{box(x1, -2, x2, low)}M{n(middle)} -2V{n(low)}{bar}", "fg", OUTLINE)
    yield Stroke(line(x1 - 8, sill, x2 + 8, sill), width=FIRM if low > 60 else OUTLINE)


def _tiles(kept: Kept, frame: Frame, busy: Sequence[float]) -> Iterator[Shape]:
    """Joints of what stands on the back of the top, where there is any; none behind what stands before it."""
    wall = {one.y1 for one in kept.lines(Layer.WALL)}
    if len(wall) < 2:
        return
    joints = ["".join(line(0, y, WIDE, y) for y in _ROWS[:-1])]
    for number, (top, bottom) in enumerate(zip(_ROWS, _ROWS[1:], strict=False)):
        for x in range(20 + number % 2 * 20, int(WIDE), _TILE):
            if all(abs(x - at) > 26 for at in busy):
                joints.append(line(x, top, x, bottom))
    yield Stroke("".join(joints), "thin jt")


def _below(kept: Kept, frame: Frame) -> Iterator[Shape]:
    """The cabinets with the sides that were measured, and the sink in them."""
    under = _TOP + _STONE
    sides = "".join(line(frame.x(one.x1), under, frame.x(one.x1), HIGH + 4) for one in kept.lines(Layer.CABINET))
    yield Stroke(box(-4, under, WIDE + 4, HIGH + 4) + sides, "fw wd")
    for left, right in _bowls(kept):
        yield basin(frame.x(left), frame.x(right), under, under + _SINK - 8)


def _stone(kept: Kept, frame: Frame) -> Iterator[Shape]:
    """The top, with its ends where they lie in the picture."""
    ends = [one.x1 for one in kept.lines(Layer.EDGE) if one.x1 == one.x2]
    cut = [frame.x(x) for x in ends if 0 < frame.x(x) < WIDE]
    left = next((x for x in cut if x < WIDE / 2), -4.0)
    right = next((x for x in cut if x > WIDE / 2), WIDE + 4)
    yield Stroke(box(left, _TOP, right, _TOP + _STONE), "fs")


def _silhouette(one: Standing, frame: Frame, ground: float, size: float, side: int) -> Sequence[Stroke]:
    x = frame.x(one.x)
    if one.use == "faucet":
        if len(one.holes) == 3:
            return silhouettes.spread([frame.x(at) for at in one.holes], ground, size, side)
        return silhouettes.faucet(x, ground, size, side)
    return silhouettes.THINGS[one.use](x, ground, size, 1 if side < 0 else -1)


def _dashed(shapes: Sequence[Stroke], *, dashed: bool) -> list[Stroke]:
    """What may come, as an outline: fine and dashed."""
    if not dashed:
        return list(shapes)
    return [Stroke(one.d, "f hid thin" if one.look == "fi" else "hid", min(one.width, 2.0)) for one in shapes]


def _letters(found: Sequence[Standing], frame: Frame, size: float) -> Iterator[Shape]:
    """The name of each thing beside the faucet, outward of it; of two on one side, the inner one's is set higher, on a
    line of its own."""
    faucet, spout = faucet_of(found), -side_of(found)
    for way in (-1, 1):
        beside = sorted((one for one in found if one.use != "faucet" and (one.x > faucet) == (way > 0)),
                        key=lambda one: way * one.x, reverse=True)
        low = _TOP
        for one in beside:
            x, top = frame.x(one.x), _TOP - silhouettes.TALL[one.use] * size
            beyond = silhouettes.WIDE.get(one.use, 0.0) * size if way == spout else 0.0
            at = min(top + 10, _TOP - 5) if low == _TOP else min(top - 6, low - _STEP)
            if low != _TOP:
                yield Stroke(line(x, top - 2, x, at), "dim")
            aside = way * (max(beyond, 6.0 * size) + 5 if low == _TOP else 5)
            yield within(Word(x + aside, at, one.lettered, "start" if way > 0 else "end"))
            low = at


def _bottle_at(kept: Kept) -> float:
    """Beside the sink, on the side that the thing itself would have, else on the right; in mm."""
    left, right = span(x for bowl in _cutouts(kept) for x in bowl)
    return left - 75 if side_asked(kept, SOAP) == "left" else right + 75


def _bottle(x: float, size: float) -> Iterator[Shape]:
    yield from silhouettes.bottle(x, _TOP, size)
    yield within(Word(x + 5, _TOP - 39 * size, words.BOTTLE, "start"))


def _new_holes(kept: Kept) -> tuple[int, list[str]]:
    """How many holes are drilled, and each distance from one to the next, once."""
    xs = sorted(hole.x for hole in kept.circles(Layer.HOLE))
    inch = any(one.get("diameter", {}).get("text", "").endswith("in") for one in kept.layout.get("holes", ()))
    apart = [_told(other - one, inch) for one, other in zip(xs, xs[1:], strict=False)]
    return len(xs), [*dict.fromkeys(apart)]


def _told(mm: float, inch: bool) -> str:
    """A distance as one reads it off a tape."""
    exact = Length.of_mm(f"{mm:.4f}")
    return (Length.of_inches(0) + exact).shown().text if inch else exact.shown().text


def _holes(kept: Kept, frame: Frame, lettered: str) -> Iterator[Shape]:
    """Every hole in the edge of the stone, at its place and as wide as it is; from each new one down to the count."""
    middle = _TOP + _STONE / 2
    new = [frame.x(hole.x) for hole in kept.circles(Layer.HOLE)]
    if new:
        yield Stroke("".join(line(x, middle, x, _LETTERS - 17) for x in new), "dim")
    for hole in _circles(kept):
        yield Disc(frame.x(hole.x), middle, max(frame.size(hole.diameter / 2), 2.2))
    at = sum(span(new)) / 2 if new else WIDE / 2
    yield within(Word(at, _LETTERS, lettered, look="w"))

