"""Reads a DXF file by itself: pairs of a group code and a value, as the DXF reference (Autodesk, R2010) lays them down.

The second reader beside ezdxf, which wrote the file: it knows nothing of it. A pair is two lines; code 0 begins a
section, a table entry or an entity; 9 names a variable of the header.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

Pair = tuple[int, str]


@dataclass
class Entity:
    """One entity: its kind, its layer, and its other values by code, in the order in which they come."""

    kind: str
    values: dict[int, list[str]] = field(default_factory=dict)

    @property
    def layer(self) -> str:
        return self.values[8][0]

    def numbers(self, code: int) -> list[float]:
        return [float(value) for value in self.values.get(code, [])]

    @property
    def points(self) -> list[tuple[float, float]]:
        """Its points: codes 10 and 20, and 11 and 21 of a line or of words that are aligned."""
        ends = zip(self.numbers(11), self.numbers(21), strict=True) if self.kind in ("LINE", "TEXT") else []
        points = [*zip(self.numbers(10), self.numbers(20), strict=True), *ends]
        if self.kind != "CIRCLE":
            return points
        ((x, y),), (r,) = points, self.numbers(40)
        return [(x - r, y - r), (x + r, y + r)]


def pairs(data: bytes) -> list[Pair]:
    lines = data.decode("utf-8").splitlines()
    assert len(lines) % 2 == 0
    return [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]


def sections(data: bytes) -> dict[str, list[Pair]]:
    """The pairs of each section by its name."""
    found: dict[str, list[Pair]] = {}
    name = ""
    every = pairs(data)
    for before, (code, value) in zip([(-1, ""), *every], every, strict=False):
        if before == (0, "SECTION") and code == 2:
            name = value
            found[name] = []
        elif (code, value) == (0, "ENDSEC"):
            name = ""
        elif name:
            found[name].append((code, value))
    return found


def header(data: bytes) -> dict[str, list[float | str]]:
    """The variables of the header; numbers as numbers."""
    found: dict[str, list[float | str]] = {}
    name = ""
    for code, value in sections(data)["HEADER"]:
        if code == 9:
            name = value
            found[name] = []
        elif name:
            found[name].append(float(value) if 10 <= code < 60 else value)
    return found


def entities(data: bytes) -> list[Entity]:
    return list(_things(sections(data)["ENTITIES"]))


def layers(data: bytes) -> set[str]:
    """The names of the layer table."""
    return {thing.values[2][0] for thing in _things(sections(data)["TABLES"]) if thing.kind == "LAYER"}


def _things(found: list[Pair]) -> Iterator[Entity]:
    one: Entity | None = None
    for code, value in found:
        if code == 0:
            if one:
                yield one
            one = Entity(value)
        elif one:
            one.values.setdefault(code, []).append(value)
    if one:
        yield one
