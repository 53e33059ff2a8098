"""A deck out of JSON. Every refusal is a DimensionError that names the field."""

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
from portal.layouts.json_fields import Reader
from portal.layouts.length import DimensionError, Length
from portal.words.articles import bare

MOST_ACCESSORIES = 4
MOST_HOLES = 6
NONE = Length.of_mm(0)
_RIM = Length.of_inches(2)
"""How far a bowl may reach under the stone past its cut-out; farther, it is mistyped."""


def from_json(data: Any) -> Deck:
    """Read `top`, `cutout`, `faucet`, `minimums` and, where known, `bowls`, `cabinet`, `underneath`, `accessories`,
    `existing_holes`, `cap`, `place`, `measure_from`, `rank_by_lifetime`, `material`, `window`.

    Raises DimensionError."""
    reader = Reader(data)
    top, cutout = _top(reader.part("top")), _area(reader.part("cutout"), "the cut-out")
    _inside(top, cutout, "cutout")
    _in_one_piece(top, cutout)
    cabinet = _cabinet(reader.part_or_none("cabinet"))
    underneath = tuple(_underneath(part, top) for part in reader.parts("underneath", 12))
    accessories = tuple(_accessory(part) for part in reader.parts("accessories", MOST_ACCESSORIES))
    existing = tuple(_existing(part, index) for index, part in enumerate(reader.parts("existing_holes", MOST_HOLES), 1))
    bowls = tuple(_bowl(part, top, cutout) for part in reader.parts("bowls", 3)) or (cutout,)
    least = _minimums(reader.part_or_none("minimums") if existing else reader.part("minimums"),
                      cabinet is not None, bool(underneath))
    _leaves_a_bowl(least, bowls)
    deck = Deck(
        top, cutout, bowls, cabinet, underneath,
        _faucet(reader.part("faucet")), accessories, least, existing,
        *_place(reader.part_or_none("place"), cutout), *_measure_from(reader.part_or_none("measure_from")),
        reader.flag("rank_by_lifetime", True), _cap(reader.part_or_none("cap")),
        read_material(reader), _window(reader.part_or_none("window")),
    )
    reader.done()
    _check_names(deck)
    _check_place(deck)
    _check_existing(deck)
    return deck


def _top(reader: Reader) -> Top:
    top = Top(reader.size("width"), reader.size("depth"), reader.size("thickness"), reader.length_or_zero("splash"))
    reader.done()
    if top.splash >= top.depth:
        raise DimensionError(reader.at("splash"), "is as deep as the top; give the thickness of the splash")
    return top


def _area(reader: Reader, name: str) -> Area:
    area = Area(name, reader.length("from_left"), reader.length("from_front"), reader.size("width"),
                reader.size("depth"), reader.length_or_zero("corner_radius"))
    reader.done()
    if area.corner * 2 > min(area.width, area.depth):
        raise DimensionError(reader.at("corner_radius"), "is more than half the width or depth; give the radius")
    return area


def _bowl(reader: Reader, top: Top, cutout: Area) -> Area:
    bowl = _area(reader, "the bowl")
    _touches(top, bowl, reader)
    _under(cutout, bowl, reader)
    return bowl


def _under(cutout: Area, bowl: Area, reader: Reader) -> None:
    """Refuse a bowl that is not the cut-out's: water would be measured to where there is stone."""
    for starts, start, size, opens, opening in (
            ("from_left", bowl.left, bowl.width, cutout.left, cutout.width),
            ("from_front", bowl.front, bowl.depth, cutout.front, cutout.depth)):
        middle = start + size / 2
        if not (opens <= middle <= opens + opening and opens - _RIM <= start
                and start + size <= opens + opening + _RIM):
            raise DimensionError(reader.at(starts), "does not lie under the cut-out: its middle must, and it may reach "
                                                    f"{_RIM.text} past it; measure as for the cut-out")


def _underneath(reader: Reader, top: Top) -> Area:
    """A rectangle by its limits, or a pipe by its center and `diameter`."""
    name = reader.name("name")
    if not reader.has("diameter"):
        area = _area(reader, name)
    else:
        diameter = reader.size("diameter")
        x, y = reader.length("from_left"), reader.length("from_front")
        reader.done()
        area = Area(name, x - diameter / 2, y - diameter / 2, diameter, diameter, diameter / 2)
    _touches(top, area, reader)
    return area


def _inside(top: Top, area: Area, field: str) -> None:
    if area.left + area.width > top.width:
        raise DimensionError(f"{field}.width", "runs past the right end of the top; check it against top.width")
    if area.front + area.depth > top.depth:
        raise DimensionError(f"{field}.depth", "runs past the back edge of the top; check it against top.depth")


def _in_one_piece(top: Top, cutout: Area) -> None:
    """Refuse a cut-out from end to end, or from front to back; one open side is a sink with an apron."""
    if cutout.width == top.width:
        raise DimensionError("cutout.width", "runs from end to end and cuts the top in two; check it against top.width")
    if cutout.depth == top.depth:
        raise DimensionError("cutout.depth", "runs from front to back and cuts the top in two; check it against "
                                             "top.depth")


def _touches(top: Top, area: Area, reader: Reader) -> None:
    """Refuse what lies off the top with all of it: it is mistyped, and nothing would ever be checked against it."""
    if area.left >= top.width:
        raise DimensionError(reader.at("from_left"), "lies past the right end of the top; measure from its left end")
    if area.front >= top.depth:
        raise DimensionError(reader.at("from_front"), "lies past the back edge of the top; measure from its front edge")


def _leaves_a_bowl(least: Minimums, bowls: tuple[Area, ...]) -> None:
    if least.into_bowl and any(least.into_bowl * 2 >= min(bowl.width, bowl.depth) for bowl in bowls):
        raise DimensionError("minimums.into_bowl", "leaves nothing of the bowl; give how far inside its edge the water "
                                                   "must land")


def _cabinet(reader: Reader | None) -> Cabinet | None:
    if reader is None:
        return None
    cabinet = Cabinet(reader.length("left_side"), reader.size("right_side"))
    reader.done()
    if cabinet.left >= cabinet.right:
        raise DimensionError(reader.at("right_side"), "is not right of left_side; measure both from the left end")
    return cabinet


def _faucet(reader: Reader) -> Faucet:
    holes = {"1": (1,), "3": (3,), "1 or 3": (1, 3)}[reader.choice("holes", ("1", "3", "1 or 3"))]
    outer = reader.size("outer_to_outer") if 3 in holes else reader.size_or_none("outer_to_outer")
    faucet = Faucet(
        reader.name("name", "the faucet"), holes, reader.size("hole"), reader.size("base"), reader.size("thickest_top"),
        outer, reader.size_or_none("outer_least"), reader.size_or_none("outer_most"),
        _plate(reader.part_or_none("plate")), reader.length_or_none("swing"), reader.length_or_none("clearance_behind"),
        reader.size_or_none("reach"), reader.length_or_none("lever_swing"),
    )
    reader.done()
    _check_range(reader, faucet)
    if faucet.base < faucet.hole:
        raise DimensionError(reader.at("base"), "is smaller than its hole; check the maker's sheet")
    return faucet


def _check_range(reader: Reader, faucet: Faucet) -> None:
    least, most, outer = faucet.outer_least, faucet.outer_most, faucet.outer_to_outer
    if least and outer and least > outer:
        raise DimensionError(reader.at("outer_least"), "is more than outer_to_outer; check the maker's sheet")
    if most and outer and most < outer:
        raise DimensionError(reader.at("outer_most"), "is less than outer_to_outer; check the maker's sheet")


def _plate(reader: Reader | None) -> Plate | None:
    if reader is None:
        return None
    plate = Plate(reader.size("length"), reader.size("width"))
    reader.done()
    return plate


def _accessory(reader: Reader) -> Accessory:
    use = reader.choice("use", USES, "other")
    # An air gap may be required by the local code, so that leaving it out must be said, not assumed.
    accessory = Accessory(
        reader.name("name"), use, reader.size("hole"), reader.size("flange"), reader.size_or_none("reach"),
        reader.size_or_none("thickest_top"), reader.name("shares") if reader.has("shares") else None,
        reader.flag("may_omit", use != "air_gap"), reader.choice("side", SIDES, "either"),
        _lifetime(reader, use),
    )
    reader.done()
    if accessory.flange < accessory.hole:
        raise DimensionError(reader.at("flange"), "is smaller than its hole; check the maker's sheet")
    return accessory


def _lifetime(reader: Reader, use: str) -> Lifetime | None:
    if reader.has("lasts") or reader.has("lasts_source"):
        return Lifetime(reader.name("lasts"), reader.name("lasts_source"))
    usual = USUAL.get(use)
    return Lifetime(usual.lasts, usual.lasts_source) if usual and usual.lasts and usual.lasts_source else None


def _minimums(reader: Reader | None, has_cabinet: bool, has_underneath: bool) -> Minimums:
    if reader is None:  # only where holes are there already: nothing is drilled, so no stone must be left
        return Minimums(NONE, NONE, NONE, NONE, None, None, "nothing is drilled", given=False)
    sides = reader.length("to_cabinet_side") if has_cabinet else reader.length_or_none("to_cabinet_side")
    below = reader.length("to_underneath") if has_underneath else reader.length_or_none("to_underneath")
    minimums = Minimums(reader.length("between_holes"), reader.length("to_cutout"), reader.length("to_back"),
                        reader.length("to_edge"), sides, below, reader.name("source"),
                        reader.length_or_none("cutout_to_front"), reader.length_or_none("cutout_to_back"),
                        reader.length_or_none("cutout_radius"), reader.length_or_none("into_bowl"),
                        reader.length_or_none("slop"),
                        cutout_to_ends=reader.length_or_none("cutout_to_ends"))
    reader.done()
    return minimums


def _window(reader: Reader | None) -> tuple[Length, Length] | None:
    if reader is None:
        return None
    left, right = reader.length("left"), reader.size("right")
    reader.done()
    if left >= right:
        raise DimensionError(reader.at("right"), "is not right of left; measure both from the left end")
    return left, right


def _cap(reader: Reader | None) -> Length | None:
    if reader is None:
        return None
    width = reader.size("width")
    reader.done()
    return width


def _existing(reader: Reader, number: int) -> ExistingHole:
    hole = ExistingHole(reader.name("name", f"hole {number}"), reader.length("from_left"), reader.length("from_front"),
                        reader.size("diameter"))
    reader.done()
    return hole


def _place(reader: Reader | None, cutout: Area) -> tuple[Length, Length | None, Length | None]:
    if reader is None:
        return cutout.center[0], None, None
    found = (reader.length_or_none("center_line") or cutout.center[0], reader.length_or_none("row_from_front"),
             reader.size_or_none("pitch"))
    reader.done()
    return found


def _measure_from(reader: Reader | None) -> tuple[str, str]:
    if reader is None:
        return ENDS[0], EDGES[0]
    found = reader.choice("end", ENDS, ENDS[0]), reader.choice("edge", EDGES, EDGES[0])
    reader.done()
    return found


def _check_names(deck: Deck) -> None:
    names = [bare(name) for name in (deck.faucet.name, *(item.name for item in deck.accessories))]
    for index, name in enumerate(names[1:]):
        if name in names[: index + 1]:
            raise DimensionError(f"accessories.{index}.name", f"“{name}” is there twice; give each its own name")


def _check_place(deck: Deck) -> None:
    if deck.center_line >= deck.top.width:
        raise DimensionError("place.center_line", "lies past the right end of the top; measure from its left end")
    if deck.row is not None and deck.row >= deck.top.depth:
        raise DimensionError("place.row_from_front", "lies past the back edge of the top; measure from its front edge")


def _check_existing(deck: Deck) -> None:
    for index, hole in enumerate(deck.existing):
        if hole.x >= deck.top.width or hole.y >= deck.top.depth:
            raise DimensionError(f"existing_holes.{index}",
                                 "lies outside the top; measure from its left end and front edge")
        if any(hole.name == other.name for other in deck.existing[:index]):
            raise DimensionError(f"existing_holes.{index}.name", f"“{hole.name}” is there twice; name each hole once")
        _in_stone(deck, index, hole)


def _in_stone(deck: Deck, index: int, hole: ExistingHole) -> None:
    """Refuse a hole that is not one of its own: a part of the cut-out, or of another hole."""
    x, y, radius = float(hole.x.mm), float(hole.y.mm), float(hole.diameter.mm) / 2
    if round(to_area(x, y, deck.cutout.floats) - radius, 6) < 0:
        raise DimensionError(f"existing_holes.{index}", "lies in the cut-out; measure to the center of the hole, from "
                                                        "the left end and the front edge of the top")
    for other in deck.existing[:index]:
        apart = between(x, y, float(other.x.mm), float(other.y.mm))
        if round(apart - radius - float(other.diameter.mm) / 2, 6) < 0:
            raise DimensionError(f"existing_holes.{index}", f"overlaps “{other.name}”; measure both from center to "
                                                            "center once more")
