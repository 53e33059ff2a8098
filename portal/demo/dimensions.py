"""What was measured in the invented house, as it would be typed: the window-wall top, and the fronts of the vanity.

The makers' sheets and the shop (Pell Harbor Stone) are invented with it; a real job takes its own.
"""

from typing import Any

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

TOP: dict[str, Any] = {
    "what": "top", "name": "Window wall", "source": "measured on site by Dana Whitcombe",
    "values": {("length" if name == "width" else name): text for name, text in DECK["top"].items()},
}
"""Kept for the house: the next question about this top picks it."""

SHOP: dict[str, Any] = {
    "what": "shop", "name": "Pell Harbor Stone", "source": DECK["minimums"]["source"],
    "values": {name: value for name, value in DECK["minimums"].items() if name != "source"},
}
"""Kept by the firm: the limits of the shop that cuts its stone."""
