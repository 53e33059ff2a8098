"""The picture of a room, laid out of its parts: solid what stands, dashed what comes or is out of use."""

from collections.abc import Iterator, Mapping

from portal.drawings.symbols.line import Line, drawn
from portal.drawings.vignettes.parts import FLOOR, HIGH, OF_THE_ROOM, ON_THE_RUN, RUN, STANDING, WIDE, Part, Unit
from portal.drawings.writers.markup import number

_EDGE, _GAP = 6, 3
_BEHIND, _BEFORE = ("floor", "wood-floor", "paint", "rough", "shelves"), ("lights",)
_ROOM = Line("M2 2H94V70H2z", "f")
_GROUND = Line("M2 70H94", width=3)
_HOUSE = "M14 70V34H82V70M4 38 48 8 92 38M40 70V48H56V70"

Placed = tuple[Part, float, float, float]
"""A part, how much of it stands (0 to 1), and where its own x and y are counted from."""


def vignette(parts: Mapping[str, float]) -> str:
    """Draw a room of `parts`: by name (of parts.py), how much of each stands, from 0 (all dashed) to 1. Parts for which
    the floor has no room are left out, the last ones first. Empty where nothing is left to draw.
    Raises KeyError for a part that is none."""
    placed = list(_placed(parts))
    return _picture([_ROOM, *_lines(placed), _GROUND]) if placed else ""


def house_picture(done: bool) -> str:
    """Draw the whole house: dashed until all is done."""
    return _picture([Line(_HOUSE, "" if done else "hid"), _GROUND])


def _picture(lines: list[Line]) -> str:
    return f'<svg class="vig" viewBox="0 0 {WIDE} {HIGH}" aria-hidden="true">{drawn(tuple(lines))}</svg>'


def _placed(parts: Mapping[str, float]) -> Iterator[Placed]:
    known = STANDING.keys() | ON_THE_RUN.keys() | OF_THE_ROOM.keys()
    for name in parts:
        if name not in known:
            raise KeyError(name)
    behind = [one for one in _BEHIND if one in parts and not (one == "shelves" and "uppers" in parts)]
    yield from ((OF_THE_ROOM[one], parts[one], 0, 0) for one in behind)
    feet = _feet(parts)
    run = feet.get("cabinets", _EDGE)
    # Where no phase sets cabinets, the run is that of the old ones, which are not drawn.
    on_it = [one for one in ON_THE_RUN if one in parts and run + RUN < WIDE]
    yield from ((STANDING[one], parts[one], at, FLOOR) for one, at in feet.items())
    yield from ((ON_THE_RUN[one], parts[one], run, FLOOR) for one in on_it)
    yield from ((OF_THE_ROOM[one], parts[one], 0, 0) for one in _BEFORE if one in parts)


def _feet(parts: Mapping[str, float]) -> dict[str, float]:
    """Where each part that stands has its left foot: from the left on, a run first; the door at the right."""
    free, feet = float(WIDE - _EDGE), {}
    if "door" in parts:
        feet["door"] = free - STANDING["door"].width
        free = feet["door"] - _GAP
    at = float(_EDGE)
    if "cabinets" not in parts and parts.keys() & ON_THE_RUN.keys():
        at += RUN + _GAP
    for name, part in STANDING.items():
        if name in parts and name not in feet and at + part.width <= free:
            feet[name] = at
            at += part.width + _GAP
    return feet


def _lines(placed: list[Placed]) -> Iterator[Line]:
    """What stands first, in the order in which it is laid; then all that is dashed, as one line."""
    dashed = ""
    for part, share, x, y in placed:
        count = round(share * len(part.units))
        if stands := _path(part.units[:count], x, y):
            yield Line(stands, part.look)
        dashed += _path(part.units[count:], x, y)
    if dashed:
        yield Line(dashed, "hid thin")


def _path(units: tuple[Unit, ...], left: float, foot: float) -> str:
    strokes = (stroke for unit in units for stroke in unit)
    return "".join(f"M{number(left + x)} {number(foot + y)}{path}" for x, y, path in strokes)
