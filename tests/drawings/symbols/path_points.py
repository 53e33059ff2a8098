"""The points that an SVG path goes through, and the controls of its curves, as the path data says (SVG 2, 9.3)."""

import re

_TAKES = {"M": 2, "L": 2, "T": 2, "H": 1, "V": 1, "Q": 4, "C": 6, "A": 7, "Z": 0}
_PIECE = re.compile(r"[A-Za-z]|-?(?:\d+\.\d*|\.\d+|\d+)")


def points(d: str) -> list[tuple[float, float]]:
    """In their order; of an arc only its end. Raises ValueError for what is no path data."""
    pieces, at, x, y, begun, found = _PIECE.findall(d), 0, 0.0, 0.0, (0.0, 0.0), []
    command = ""
    while at < len(pieces):
        if pieces[at].isalpha():
            command, at = pieces[at], at + 1
        take = _TAKES[command.upper()]
        values, at = [float(one) for one in pieces[at:at + take]], at + take
        if len(values) != take:
            raise ValueError(f"{command} wants {take} numbers in {d!r}")
        pairs = _pairs(command.upper(), values, x, y, relative=command.islower())
        found += pairs
        x, y = begun if command.upper() == "Z" else pairs[-1]
        if command.upper() == "M":
            begun, command = (x, y), "l" if command.islower() else "L"
        elif command.upper() == "Z":
            command = ""
    return found


def _pairs(kind: str, values: list[float], x: float, y: float, *, relative: bool) -> list[tuple[float, float]]:
    from_x, from_y = (x, y) if relative else (0.0, 0.0)
    if kind == "H":
        return [(from_x + values[0], y)]
    if kind == "V":
        return [(x, from_y + values[0])]
    if kind == "A":
        values = values[5:]
    return [(from_x + one, from_y + two) for one, two in zip(values[::2], values[1::2], strict=True)]
