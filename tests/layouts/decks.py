"""One invented deck, in inches, as JSON: a single bowl under a top of 30 mm stone, one faucet, three accessories."""

from copy import deepcopy
from typing import Any

_DECK: dict[str, Any] = {
    "top": {"width": "60 in", "depth": "25-1/2 in", "thickness": "30 mm", "splash": "3/4 in"},
    "cutout": {"from_left": "15 in", "from_front": "3 in", "width": "30 in", "depth": "16 in",
               "corner_radius": "1 in"},
    "cabinet": {"left_side": "12-3/4 in", "right_side": "47-1/4 in"},
    "underneath": [{"name": "clip", "from_left": "40 in", "from_front": "18-1/2 in", "width": "1 in",
                    "depth": "2 in"}],
    "faucet": {"name": "faucet", "holes": "1 or 3", "hole": "1-3/8 in", "base": "2 in",
               "thickest_top": "2-1/2 in", "outer_to_outer": "8 in", "outer_least": "7-1/2 in",
               "outer_most": "8-1/2 in",
               "plate": {"length": "10-1/4 in", "width": "2-1/2 in"}, "swing": "2 in", "clearance_behind": "2-1/4 in",
               "reach": "9 in"},
    "accessories": [
        {"name": "soap dispenser", "use": "soap", "hole": "1-1/4 in", "flange": "2 in", "reach": "3-1/2 in",
         "thickest_top": "2 in"},
        {"name": "filtered water", "use": "filtered_water", "hole": "1-3/8 in", "flange": "2-1/8 in", "reach": "5 in",
         "thickest_top": "2 in"},
        {"name": "air gap", "use": "air_gap", "hole": "1-1/4 in", "flange": "1-3/4 in", "may_omit": False},
    ],
    "minimums": {"between_holes": "2 in", "to_cutout": "1-1/2 in", "to_back": "1-1/2 in", "to_edge": "3 in",
                 "to_cabinet_side": "1 in", "to_underneath": "1/2 in", "source": "the fabricator's sheet"},
}

FOUR_HOLES = [{"from_left": at, "from_front": "22 in", "diameter": "1-3/8 in"}
              for at in ("26 in", "30 in", "34 in", "38 in")]


def deck_json(**changed: Any) -> dict[str, Any]:
    """The deck, with fields replaced: `deck_json(faucet__hole="1 in")` reaches into a part; None takes a field away."""
    deck = deepcopy(_DECK)
    for path, value in changed.items():
        *parts, name = path.split("__")
        target: Any = deck
        for part in parts:
            target = target[int(part) if part.isdigit() else part]
        if value is None:
            del target[name]
        else:
            target[name] = value
    return deck


def four_hole_json(**changed: Any) -> dict[str, Any]:
    """The same deck with four holes in it, 4 in apart."""
    return deck_json(**{"existing_holes": deepcopy(FOUR_HOLES), **changed})
