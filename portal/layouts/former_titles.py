"""The titles of layouts as version 0.2.0 worded them.

Until then a title was what a layout was called by: clients hold them, and so do decisions and proposals that were kept
before layouts had keys. They name a layout still, so nothing here is ever worded anew, nor made of words that may be:
what a page shows is in the words module of each kind.
"""

from collections.abc import Callable, Iterable
from typing import Any

from portal.layouts.centerline.line import Line, Rule
from portal.layouts.deck.arrangement import Arrangement
from portal.layouts.layout import Layout
from portal.layouts.overhang.reach import Reach
from portal.layouts.pulls.placement import Placement
from portal.layouts.seam.division import Division

_HOLES = {1: "one hole", 3: "three holes"}
_LINES = {
    Rule.WINDOW: "On the window", Rule.CABINET: "On the cabinet",
    Rule.BOTH: "On the window and the cabinet, which agree", Rule.BETWEEN: "Between window and cabinet",
    Rule.NEAR_WINDOW: "As near the window as the sink can come",
    Rule.NEAR_CABINET: "As near the cabinet as the sink can come",
}  # fmt: skip
_HEIGHTS = {
    "middle": "In the middle of each drawer", "rail": "On the upper rail of each drawer",
    "top": "Along the upper edge of each drawer",
}  # fmt: skip


def former_title(layout: Layout) -> str:
    """Give the title that version 0.2.0 gave it; empty for a kind or a rule that is younger."""
    return next((worded(layout) for kind, worded in _FORMER.items() if isinstance(layout, kind)), "")


def _deck(layout: Arrangement) -> str:
    return _capital(_old_top(layout) if layout.deck.existing else _new_top(layout))


def _new_top(layout: Arrangement) -> str:
    faucet = layout.deck.faucet.name
    text = f"{_HOLES[layout.faucet_holes]} for the {faucet}"
    if not layout.own:
        return f"{text}, and no other"
    return f"{text}; from the left: {_listed(faucet if hole is layout.faucet else hole.name for hole in layout.row)}"


def _old_top(layout: Arrangement) -> str:
    seats = _listed(hole.site for hole in layout.holes[: layout.faucet_holes])
    parts = [f"{layout.deck.faucet.name} in {seats}{' with its plate' if layout.plate else ''}"]
    parts += [f"{hole.name} in {hole.site}" for hole in layout.own]
    parts += [f"a cap on {_listed(hole.site for hole in layout.caps)}"] if layout.caps else []
    return "; ".join(parts)


def _centerline(line: Line) -> str:
    return _LINES.get(line.rule, "")


def _pulls(layout: Placement) -> str:
    if not layout.has_drawers:
        return "On the side that opens"
    two = f"; two on wide ones, each a {layout.share} of the width in" if layout.share else ""
    return _HEIGHTS[layout.height] + two


def _overhang(layout: Reach) -> str:
    return f"{layout.depth.shown().text} out, {'on brackets' if layout.supported else 'with nothing under it'}"


def _seam(layout: Division) -> str:
    places = _listed(at.shown().text for at in layout.seams)
    if not places:
        return "One piece, no seam"
    return f"{'A seam' if len(layout.seams) == 1 else 'Seams'} {places} from the left end"


def _listed(names: Iterable[str]) -> str:
    *most, last = [*names] or [""]
    return f"{', '.join(most)} and {last}" if most else last


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


_FORMER: dict[type, Callable[[Any], str]] = {
    Arrangement: _deck, Line: _centerline, Placement: _pulls, Reach: _overhang, Division: _seam,
}
