"""What a front view shows, in words, and the lettering in it. Pure."""

from collections.abc import Iterable

from portal.words.lists import listed
from portal.words.plurals import counted

BOTTLE, SEAM, NO_HOLE = "bottle", "seam", "no new hole"
LETTERED = {"soap": "soap", "spray": "spray", "filtered_water": "water", "hot_water": "hot water",
            "air_gap": "air gap", "air_switch": "switch", "cap": "cap"}  # fmt: skip
"""What stands beside a faucet, as short as a picture has room for, by its use."""

ALONG = "Widths and places are to scale. Heights and the wall are only drawn in."
LINE = "Widths along the wall are to scale. Heights are only drawn in."
FRONTS = "Drawn to scale; only how thick a pull is, is not."
SIDE = "Depths are to scale. The stool is only drawn in."
SIDE_ONLY = "Depths are to scale. Heights and the stool are only drawn in."
RUN = "Widths are to scale. Heights are only drawn in."
HEIGHTS = "Heights are to scale, and so are widths that were measured."


def seen(things: Iterable[str], lettered: str) -> str:
    """Say what a picture shows. `lettered`: the words in it."""
    return f"Seen from the front: {listed(things)}; {lettered}"


def holes(count: int, apart: Iterable[str]) -> str:
    """Count new holes; `apart`: from each to the next, each distance once."""
    if not count:
        return NO_HOLE
    distances = listed(apart)
    return f"{counted(count, 'hole')}, {distances} apart" if distances else counted(count, "hole")


def pulls(count: int, holes: int) -> str:
    """Count pulls and their holes."""
    return f"{counted(count, 'pull')}, {counted(holes, 'hole')}"


def fronts(count: int, lettered: str) -> str:
    """Say what a picture of pulls shows."""
    return f"Seen from the front: {counted(count, 'front')}; {lettered}"


def off(distance: str, of: str) -> str:
    """Say how far the sink stands off the middle of something: `1 in off the window`."""
    return f"{distance} off the {of}"


def on(of: Iterable[str]) -> str:
    """Say in the middle of what the sink stands."""
    return f"in the middle of the {listed(of)}"


def sink(place: str) -> str:
    """Say what a picture of a center line shows. `place`: where the sink stands."""
    return f"Seen from the front: the sink, {place}"


def under(seats: int, brackets: int) -> str:
    """Count seats and brackets; empty where there is neither."""
    return listed([*([counted(seats, "seat")] if seats else []), *([counted(brackets, "bracket")] if brackets else [])])


def overhang(out: str, lettered: str) -> str:
    """Say what a picture of an overhang shows. `lettered`: its seats and brackets."""
    reaches = f"Seen from the side: the top reaches {out} past the cabinets"
    return f"{reaches}; {lettered}" if lettered else reaches


def seams(places: Iterable[str]) -> str:
    """Say where the seams are, from the left."""
    every = [*places]
    return f"{'seam' if len(every) == 1 else 'seams'} {listed(every)} from the left" if every else "one piece, no seam"


def run(things: Iterable[str], lettered: str) -> str:
    """Say what a picture of a run shows."""
    return f"Seen from the front: the top with {listed([*things, lettered])}"


def vanity(bottom: str, top: str, lamps: int) -> str:
    """Say what a picture of a mirror shows."""
    beside = f", {counted(lamps, 'lamp')}" if lamps else ""
    return f"Seen from the front: the mirror from {bottom} to {top} above the floor{beside}"
