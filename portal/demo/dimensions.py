"""What was measured in the invented house, as it would be typed: the window-wall top, and the fronts of the vanity.

The makers' sheets and the shop (Pell Harbor Stone) are invented with it; a real job takes its own.
"""

from collections.abc import Mapping
from typing import Any

from portal.layouts.sizes.whats import WHATS
from portal.layouts.vanity.dimensions import ON_WALL

# The window's center is at 47-1/2 in and the cabinet's at 48 in from the left end: the sink is on the window.
DECK: dict[str, Any] = {
    "top": {"width": "96 in", "depth": "25-1/2 in", "thickness": "3 cm", "splash": "1/2 in"},
    "cutout": {"from_left": "32-1/2 in", "from_front": "3-1/4 in", "width": "30 in", "depth": "16 in",
               "corner_radius": "1 in"},
    "cabinet": {"left_side": "30-3/4 in", "right_side": "65-1/4 in"},
    "underneath": [
        {"name": "clip", "from_left": at, "from_front": "19-1/4 in", "width": "1 in", "depth": "1 in"}
        for at in ("41-1/2 in", "52-1/2 in")
    ],
    "faucet": {"name": "faucet", "holes": "1", "hole": "1-3/8 in", "base": "2-1/8 in", "thickest_top": "2 in",
               "clearance_behind": "2-1/4 in", "swing": "2-1/4 in", "reach": "9 in"},
    "accessories": [
        {"name": "soap dispenser", "use": "soap", "hole": "1-1/4 in", "flange": "1-3/4 in", "thickest_top": "2 in",
         "shares": "a bottle stands beside the sink", "side": "right"},
    ],
    "minimums": {"between_holes": "2 in", "to_cutout": "2 in", "to_back": "1-1/2 in", "to_edge": "3 in",
                 "to_cabinet_side": "2 in", "to_underneath": "1 in", "cutout_to_front": "3 in",
                 "cutout_to_back": "3 in", "into_bowl": "2 in", "slop": "1/16 in",
                 "source": "Pell Harbor Stone, sheet of the shop"},
    "window": {"left": "29-1/2 in", "right": "65-1/2 in"},
    "place": {"center_line": "47-1/2 in", "row_from_front": "22-1/4 in", "pitch": "4 in"},
}  # fmt: skip

# Never 6-5/16 in: the sheet of the pull says 160 mm.
PULLS: dict[str, Any] = {
    "fronts": [
        {"name": "upper drawer", "type": "drawer", "width": "26 in", "height": "8 in", "from_left": "2 in",
         "from_floor": "20-1/8 in"},
        {"name": "lower drawer", "type": "drawer", "width": "26 in", "height": "10 in", "from_left": "2 in",
         "from_floor": "10 in"},
    ],
    "pull": {"name": "bar pull", "centers": "160 mm", "length": "172 mm", "projection": "1-3/8 in"},
    "drawers": {"from_top": "2 in"},
    "minimums": {"to_edge": "1 in", "source": "the maker of the fronts"},
}  # fmt: skip

_MEASURED, _SHEET = "measured on site by Dana Whitcombe", "its maker’s sheet"


def _kept(what: str, name: str, source: str, given: Mapping[str, Any], **others: str) -> dict[str, Any]:
    """What is kept of a thing: of what was typed, all that is its own."""
    own = {blank.name for blank in WHATS[what].fields}
    return {"what": what, "name": name, "source": source,
            "values": {field: text for field, text in given.items() if field in own} | others}


OF_THE_HOUSE = (
    _kept("top", "Window wall", _MEASURED, DECK["top"], length=DECK["top"]["width"]),
    _kept("sink", "Single bowl", _SHEET, {}, width="32 in", clip_room="1-1/2 in", cutout_width="30 in",
          cutout_depth="16 in", corner_radius="1 in"),
    _kept("faucet", "kitchen faucet", _SHEET, DECK["faucet"]),
    _kept("accessory", "soap dispenser", _SHEET, DECK["accessories"][0]),
    _kept("front", "upper drawer", _MEASURED, PULLS["fronts"][0]),
    _kept("pull", "bar pull", _SHEET, PULLS["pull"]),
    _kept("mirror", "Mirror of the hall bath", _SHEET, {}, height="36 in", width="24 in", frame="1 in"),
    _kept("lamp", "Lamp beside the mirror", _SHEET, {}, height="16 in", width="4-1/2 in", held=ON_WALL),
)
"""Kept for the house: the next question about one of these picks it."""

OF_THE_FIRM = (
    _kept("shop", "Pell Harbor Stone", DECK["minimums"]["source"], DECK["minimums"], seam_to_cutout="4 in",
          strip="4 in", shortest_piece="12 in"),
    _kept("slab", "Slab as Pell Harbor Stone has it", "Pell Harbor Stone, list of slabs", {}, length="120 in",
          depth="55 in"),
    _kept("front_limits", "The maker of the fronts", "its sheet for drilling", PULLS["minimums"]),
    _kept("maker_limits", "The maker of the top", "its sheet for overhangs", {}, alone="10 in", span="24 in"),
    _kept("brackets", "Flat brackets, 12 in", _SHEET, {}, reach="12 in", spacing="24 in", set_back="3 in",
          inset="6 in"),
)
"""Kept by the firm: the limits of those who cut its stone and make its fronts, and what it usually takes."""
