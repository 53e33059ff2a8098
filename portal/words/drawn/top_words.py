"""What the drawing and the sheet of a top with holes say: its lines by name, each hole, from where to measure. Pure.

Lengths come in as they are said.
"""

from collections import Counter
from collections.abc import Iterable

from portal.words.articles import bare, with_the
from portal.words.capitals import first_upper
from portal.words.lists import listed
from portal.words.plurals import spelled

SHEET = "Drilling sheet"
FIRST = (
    "Measure the top, and the distance from each hole to its edges, yourself.",
    "Look below the top, where each hole comes out: no pipe, wire, clip or rail may be there.",
)
CUTOUT, CUTOUT_EDGE, BOWL_EDGE = "sink cut-out", "edge of the sink cut-out", "edge of the bowl"
FRONT_EDGE, BACK_EDGE = "front edge of the top", "back edge of the top"
LEFT_END, RIGHT_END = "left end of the top", "right end of the top"
WALL_FACE, FOLD = "face of the splash or wall finish", "fold here, up the wall"
LEFT_SIDE, RIGHT_SIDE = "left side of the cabinet, below", "right side of the cabinet, below"
PLATE, BASE = "plate: don't drill", "base: don't drill"
BACK_OF_CUTOUT, MIDDLE_OF_CUTOUT = "back edge of the cut-out", "middle of the cut-out"

TO_DRILL, USED, UNDER_PLATE, CAPPED = (
    "to drill", "there already, used", "there already, under the plate", "there already, gets a cap")
"""What becomes of a hole."""

MEASURED_FROM = (
    "Mark the middle of the cut-out, and take its back edge as the other line. Measure from these two to the center of "
    "each hole; the distances to an end and an edge of the top are the check."
)
ON_IT, MATERIAL = "on it", "Material of the top"


def caption(width: str, depth: str, thickness: str) -> str:
    """Say what the drawing shows, and from where it is seen."""
    return f"The top seen from above, {width} by {depth}, {thickness} thick: front edge at the bottom, wall at the top."


def described(mark: str, name: str, size: str, fate: str, along: str, inward: str) -> str:
    """Say all of one hole. `along` and `inward`: from which end and edge, with the distance."""
    return f"{mark}, {name}: {size} hole, {fate}, {along}, {inward}."


def dashed(cabinet: bool, names: Iterable[str]) -> str:
    """Say what the dashed lines stand for: all that the top hides. Empty where it hides nothing known."""
    found = ["both sides of the cabinet"] if cabinet else []
    found += [name if number == 1 else f"{name} ({number} of them)" for name, number in Counter(names).items()]
    return f"Dashed lines are what is below the top: {'; '.join(found)}." if found else ""


def work(drilled: Iterable[tuple[str, str, str]]) -> str:
    """Say what is to be drilled, all holes counted together: a faucet of one hole beside a dispenser makes two.
    `drilled`: letter, name and size of each."""
    each = [f"{mark} for {with_the(name)}, {size}" for mark, name, size in drilled]
    if not each:
        return "Drill no hole. The table says what becomes of those that are there."
    return f"Drill {spelled(len(each), 'hole')}: {'; '.join(each)}."


def columns(end: str, edge: str, *, zones: bool) -> tuple[str, ...]:
    """Head the table of the sheet. `end` and `edge`: of the top, for the check."""
    drift = ("May be off by",) if zones else ()
    return ("Hole", "For", "Hole size", "From the middle of the cut-out", "Behind its back edge",
            f"Check: from the {end}", f"Check: from the {edge}", *drift)


def purpose(name: str, fate: str) -> str:
    """Say what a hole is for, and what becomes of it."""
    return f"{name}, {fate}"


def to_the_side(distance: str, *, right: bool) -> str:
    """Say how far beside a line something is."""
    return f"{'right' if right else 'left'} {distance}"


def before(distance: str) -> str:
    """Say that something is before an edge, not behind it."""
    return f"{distance} before it"


def from_the(distance: str, where: str) -> str:
    """Say how far something is from an end or an edge."""
    return f"{distance} from the {where}"


def hole_note(mark: str, name: str, size: str, *, new: bool, held: bool = False) -> str:
    """Name a hole on the template: its letter, what it is for, how wide. `held`: it has no room to be off."""
    return f"{mark}: {name}, {'drill' if new else 'there already,'} {size}{'; no room to be off' if held else ''}"


def below(name: str) -> str:
    """Name what hangs below the top."""
    return f"{name}, below"


def center_line(from_end: str) -> str:
    """Name the line that the faucet stands on, where that is not the middle of the cut-out."""
    return f"center line of the faucet, {from_end}"


def front_caption(middle_from_end: str) -> str:
    """Name the front edge; where the end that one measures from isn't drawn, say where the middle of the cut-out is
    instead. `middle_from_end`: empty where the end is drawn."""
    return f"{MIDDLE_OF_CUTOUT}, {middle_from_end}" if middle_from_end else "front edge"


def apart(one: str, other: str, distance: str) -> str:
    """Say how far two holes are apart, from center to center."""
    return f"{one} to {other}: {distance}"


def folded(name: str) -> str:
    """Name the line at which a template is folded."""
    return f"{name}: {FOLD}"


def drift(slop: str, *, wider: bool = False) -> str:
    """Say what the last column means. `slop`: of bit and tape, as entered; empty where it was not. `wider`: whether a
    bit is named that is wider than its hole."""
    off = [*([f"the slop of bit and tape, {slop},"] if slop else []),
           *(["half of what the widest bit named here is wider"] if wider else [])]
    less = f" {first_upper(' and '.join(off))} {'are' if len(off) > 1 else 'is'} taken off already." if off else ""
    whole = "; of the outline nothing is taken off" if off else ""
    inside = f", so aim at least {slop} inside it" if slop else ""
    return (f"“May be off by”: each hole from its exact place, in any direction, all holes at once.{less} Within the "
            f"dotted outline on the template every rule still holds{whole}{inside}.")


def no_drift(names: Iterable[str]) -> str:
    """Say of which holes nothing may be off. Empty for none."""
    held = [bare(name) for name in names]
    return f"No room to be off: {listed(held)}. Drill exactly on the mark, or ask first." if held else ""


FOUND = ("Cut-out, left to right", "Cut-out's back edge to the wall or splash", "Thickness of the top")
"""What is measured once more before the first hole."""
