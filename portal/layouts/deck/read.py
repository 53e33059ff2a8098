"""A deck out of JSON. Every refusal is a DimensionError that names the fields."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from portal.layouts.content_tables.materials import read_material
from portal.layouts.content_tables.usual import USUAL
from portal.layouts.deck.dimensions import (
    EDGES,
    ENDS,
    SIDES,
    USES,
    Accessory,
    Area,
    Cabinet,
    Deck,
    ExistingHole,
    Faucet,
    Lifetime,
    Minimums,
    Plate,
    Top,
)
from portal.layouts.deck.rules.distances import between, to_area
from portal.layouts.json_fields import Reader, Rule, only_once, read
from portal.layouts.length import Length
from portal.layouts.unread import known, some
from portal.words.articles import bare

MOST_ACCESSORIES = 4
MOST_HOLES = 6
NONE = Length.of_mm(0)
_NOTHING_DRILLED = Minimums(NONE, NONE, NONE, NONE, None, None, "nothing is drilled", given=False)
"""Where holes are there already and nobody gives any: no stone must be left."""
_RIM = Length.of_inches(2)
"""How far a bowl may reach under the stone past its cut-out; farther, it is mistyped."""


def from_json(data: Any) -> Deck:
    """Read `top`, `cutout`, `faucet`, `minimums` and, where known, `bowls`, `cabinet`, `underneath`, `accessories`,
    `existing_holes`, `cap`, `place`, `measure_from`, `rank_by_lifetime`, `material`, `window`.

    Raises DimensionError, which names every field that is wrong."""
    return read(data, _deck)


def _deck(reader: Reader) -> Deck:
    top = _top(reader.part("top"))
    cutout = _cutout(reader.part("cutout"), top)
    bowls = tuple(_bowl(part, top, cutout) for part in reader.parts("bowls", 3)) or (cutout,)
    underneath = tuple(_underneath(part, top) for part in reader.parts("underneath", 12))
    faucet = _faucet(reader.part("faucet"))
    accessories: list[Accessory] = []
    for part in reader.parts("accessories", MOST_ACCESSORIES):
        accessories.append(_accessory(part, [faucet.name, *(item.name for item in accessories)]))
    existing: list[ExistingHole] = []
    for number, part in enumerate(reader.parts("existing_holes", MOST_HOLES), 1):
        existing.append(_existing(part, number, top, cutout, existing))
    least = _minimums(reader.part("minimums"), bowls, reader.has("cabinet"), bool(underneath)) if (
        reader.has("minimums") or not existing) else _NOTHING_DRILLED
    return Deck(
        top, cutout, bowls, reader.part_or_none("cabinet", _cabinet), underneath, faucet, tuple(accessories), least,
        tuple(existing), *_place(reader, top, cutout),
        *(reader.part_or_none("measure_from", _measure_from) or (ENDS[0], EDGES[0])),
        reader.flag("rank_by_lifetime", True), reader.part_or_none("cap", lambda cap: cap.size("width")),
        read_material(reader), reader.part_or_none("window", lambda window: _sides(window, "left", "right")),
    )  # fmt: skip


def _top(reader: Reader) -> Top:
    width, depth = reader.size("width"), reader.size("depth")
    return Top(width, depth, reader.size("thickness"), reader.length_or_zero("splash", lambda splash: (
        splash >= depth and "is as deep as the top; give the thickness of the splash")))


def _cutout(reader: Reader, top: Top) -> Area:
    """It lies on the top, and not from end to end nor from front to back: one open side is a sink with an apron."""
    left, front = reader.length("from_left"), reader.length("from_front")
    width = reader.size(
        "width", lambda width: (
            left + width > top.width and "runs past the right end of the top; check it against top.width"),
        lambda width: (
            width == top.width and "runs from end to end and cuts the top in two; check it against top.width"))
    depth = reader.size(
        "depth", lambda depth: (
            front + depth > top.depth and "runs past the back edge of the top; check it against top.depth"),
        lambda depth: (
            depth == top.depth and "runs from front to back and cuts the top in two; check it against top.depth"))
    return Area("the cut-out", left, front, width, depth, _corner(reader, width, depth))


def _corner(reader: Reader, width: Length, depth: Length) -> Length:
    return reader.length_or_zero("corner_radius", lambda corner: (
        corner * 2 > min(width, depth) and "is more than half the width or depth; give the radius"))


def _bowl(reader: Reader, top: Top, cutout: Area) -> Area:
    """It is the cut-out's: else water would be measured to where there is stone."""
    width, depth = reader.size("width"), reader.size("depth")
    left = reader.length("from_left", _off_right(top), _not_under(width, cutout.left, cutout.width))
    front = reader.length("from_front", _off_back(top), _not_under(depth, cutout.front, cutout.depth))
    return Area("the bowl", left, front, width, depth, _corner(reader, width, depth))


def _not_under(size: Length, opens: Length, opening: Length) -> Rule:
    def wrong(start: Length) -> object:
        middle, end, closes = start + size / 2, start + size, opens + opening
        return not (opens <= middle <= closes and opens - _RIM <= start and end <= closes + _RIM) and (
            f"does not lie under the cut-out: its middle must, and it may reach {_RIM.text} past it; measure as for "
            "the cut-out")
    return wrong


def _underneath(reader: Reader, top: Top) -> Area:
    """A rectangle by its limits, or a pipe by its center and `diameter`."""
    name = reader.name("name")
    if not reader.has("diameter"):
        left, front = reader.length("from_left", _off_right(top)), reader.length("from_front", _off_back(top))
        width, depth = reader.size("width"), reader.size("depth")
        return Area(name, left, front, width, depth, _corner(reader, width, depth))
    diameter = reader.size("diameter")
    x = reader.length("from_left", lambda x: _off_right(top)(x - diameter / 2))
    y = reader.length("from_front", lambda y: _off_back(top)(y - diameter / 2))
    return known(lambda: Area(name, x - diameter / 2, y - diameter / 2, diameter, diameter, diameter / 2))


def _off_right(top: Top) -> Rule:
    """Refuse what lies off the top with all of it: it is mistyped, and nothing would ever be checked against it."""
    return lambda left: left >= top.width and "lies past the right end of the top; measure from its left end"


def _off_back(top: Top) -> Rule:
    return lambda front: front >= top.depth and "lies past the back edge of the top; measure from its front edge"


def _cabinet(reader: Reader) -> Cabinet:
    return Cabinet(*_sides(reader, "left_side", "right_side"))


def _sides(reader: Reader, one: str, other: str) -> tuple[Length, Length]:
    left = reader.length(one)
    return left, reader.size(other, lambda right: (
        left >= right and f"is not right of {one}; measure both from the left end"))


def _faucet(reader: Reader) -> Faucet:
    holes, hole = reader.of("holes", {"1": (1,), "3": (3,), "1 or 3": (1, 3)}), reader.size("hole")
    outer = reader.size_or_none("outer_to_outer")
    reader.needs("outer_to_outer", lambda: 3 in holes)
    return Faucet(
        reader.name("name", "the faucet"), holes, hole, _over(reader, "base", hole), reader.size("thickest_top"),
        outer, reader.size_or_none("outer_least", lambda least: (
            outer and least > outer and "is more than outer_to_outer; check the maker's sheet")),
        reader.size_or_none("outer_most", lambda most: (
            outer and most < outer and "is less than outer_to_outer; check the maker's sheet")),
        reader.part_or_none("plate", _plate), reader.length_or_none("swing"), reader.length_or_none("clearance_behind"),
        reader.size_or_none("reach"), reader.length_or_none("lever_swing"),
    )  # fmt: skip


def _over(reader: Reader, name: str, hole: Length) -> Length:
    """Read the width of what lies over a hole."""
    return reader.size(name, lambda wide: wide < hole and "is smaller than its hole; check the maker's sheet")


def _plate(reader: Reader) -> Plate:
    return Plate(reader.size("length"), reader.size("width"))


def _accessory(reader: Reader, before: Sequence[str]) -> Accessory:
    once = only_once(known(partial(bare, name)) for name in before)
    name = reader.unless("name", reader.name("name"), lambda name: once(bare(name)))
    use, hole = reader.choice("use", USES, "other"), reader.size("hole")
    # An air gap may be required by the local code, so that leaving it out must be said, not assumed.
    return Accessory(
        name, use, hole, _over(reader, "flange", hole), reader.size_or_none("reach"),
        reader.size_or_none("thickest_top"),
        reader.name("shares") if reader.has("shares") else None,
        reader.flag("may_omit", known(lambda: use != "air_gap")), reader.choice("side", SIDES, "either"),
        _lifetime(reader, use),
    )


def _lifetime(reader: Reader, use: str) -> Lifetime | None:
    if reader.has("lasts") or reader.has("lasts_source"):
        return Lifetime(reader.name("lasts"), reader.name("lasts_source"))
    usual = known(lambda: USUAL.get(use), None)
    return Lifetime(usual.lasts, usual.lasts_source) if usual and usual.lasts and usual.lasts_source else None


def _minimums(reader: Reader, bowls: Sequence[Area], has_cabinet: bool, has_underneath: bool) -> Minimums:
    sides = reader.length("to_cabinet_side") if has_cabinet else reader.length_or_none("to_cabinet_side")
    below = reader.length("to_underneath") if has_underneath else reader.length_or_none("to_underneath")
    return Minimums(
        reader.length("between_holes"), reader.length("to_cutout"), reader.length("to_back"),
        reader.length("to_edge"), sides, below, reader.name("source"),
        reader.length_or_none("cutout_to_front"), reader.length_or_none("cutout_to_back"),
        reader.length_or_none("cutout_radius"), reader.length_or_none("into_bowl", lambda into: (
            some(lambda bowl: into * 2 >= bowl.width or into * 2 >= bowl.depth, bowls)
            and "leaves nothing of the bowl; give how far inside its edge the water must land")),
        reader.length_or_none("slop"), cutout_to_ends=reader.length_or_none("cutout_to_ends"))


def _place(reader: Reader, top: Top, cutout: Area) -> tuple[Length, Length | None, Length | None]:
    center, row, pitch = reader.part_or_none("place", lambda place: (
        place.length_or_none("center_line", _off_right(top)), place.length_or_none("row_from_front", _off_back(top)),
        place.size_or_none("pitch"))) or (None, None, None)
    return known(lambda: center or cutout.center[0]), row, pitch


def _measure_from(reader: Reader) -> tuple[str, str]:
    return reader.choice("end", ENDS, ENDS[0]), reader.choice("edge", EDGES, EDGES[0])


def _existing(reader: Reader, number: int, top: Top, cutout: Area, before: Sequence[ExistingHole]) -> ExistingHole:
    """A hole that is one of its own: not off the top, nor a part of the cut-out or of another hole."""
    name = reader.unless("name", reader.name("name", f"hole {number}"),
                         only_once((one.name for one in before), "name each hole once"))
    off = "lies outside the top; measure from its left end and front edge"
    x = reader.unless("", reader.length("from_left"), lambda x: x >= top.width and off)
    y = reader.unless("", reader.length("from_front"), lambda y: y >= top.depth and off)
    hole = ExistingHole(name, x, y, reader.size("diameter"))
    return replace(hole, x=reader.unless(
        "", x, lambda _: round(to_area(*_center(hole), cutout.floats) - float(hole.diameter.mm) / 2, 6) < 0 and (
            "lies in the cut-out; measure to the center of the hole, from the left end and the front edge of the top"),
        *(_overlaps(hole, other) for other in before)))


def _overlaps(hole: ExistingHole, other: ExistingHole) -> Rule:
    def wrong(_: Length) -> object:
        apart = between(*_center(hole), *_center(other))
        return round(apart - float(hole.diameter.mm) / 2 - float(other.diameter.mm) / 2, 6) < 0 and (
            f"overlaps “{other.name}”; measure both from center to center once more")
    return wrong


def _center(hole: ExistingHole) -> tuple[float, float]:
    return float(hole.x.mm), float(hole.y.mm)
