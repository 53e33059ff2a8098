"""All that is said of pulls: title and effects, checks, the drawing and the sheet."""

from collections.abc import Iterable

from portal.layouts.check import Advice, Measure
from portal.layouts.layout import each_mend, verdict
from portal.layouts.length import Length
from portal.layouts.pulls.dimensions import Bank, Front
from portal.layouts.pulls.mending import EXACTLY, Change
from portal.layouts.pulls.placement import Placement
from portal.layouts.pulls.sizes import GUIDE, in_32_mm_system, suggested
from portal.words.capitals import first_upper
from portal.words.lists import listed
from portal.words.plurals import counted, spelled

_HEIGHTS = {
    "middle": "in the middle of each drawer", "rail": "on the upper rail of each drawer",
    "top": "along the upper edge of each drawer",
}  # fmt: skip

HOLE_TO_EDGE, WITHIN_FRONT = Measure("pulls.hole-to-edge"), Measure("pulls.within-front")
HOLE_WITHIN, BASE_COVERS = Measure("pulls.hole-within"), Measure("pulls.base-covers")
FOOT_FLAT = Measure("pulls.foot-flat")
PULL_TO_PULL, PAST_PULL = Measure("pulls.pull-to-pull"), Measure("pulls.past-pull")
INCH_NAME, MAKERS_SHEET = Measure("pulls.inch-name"), "the maker's sheet"
LEFT_EDGE, TOP_EDGE = "left edge of the front", "top edge of the front"


def title(layout: Placement) -> str:
    """Tell it apart by the rule for drawers, and by how two pulls share a wide one."""
    if not layout.has_drawers:
        return "On the side that opens"
    two = f"; two on wide ones, each a {layout.share} of the width in" if layout.share else ""
    return first_upper(_HEIGHTS[layout.height] + two)


def effects(layout: Placement) -> tuple[str, ...]:
    """Count pulls and holes, and say which lines run through."""
    sentences = [f"{counted(len(layout.pulls), 'pull')}, {counted(layout.holes, 'hole')}."]
    for height, row in layout.lines:
        names = ", ".join(front.name for front in row)
        sentences.append(f"One line runs {height.shown().text} above the floor through {names}.")
    if not layout.lines and layout.side_by_side:
        sentences.append("No line runs through: each front has its own height.")
    if layout.in_column and not layout.side_by_side:
        sentences.append("The pulls stand one above the other.")
    return tuple(sentences)


def cannot_be_undone(layout: Placement) -> str:
    """Say that a hole in a front stays."""
    return "A hole in a front stays. Filled holes show in wood and in most paint."


def reason(layout: Placement) -> str:
    """Say the numbers that rank it, in their order."""
    shared = f"{layout.in_line} fronts share a line; " if layout.in_line else "no two fronts share a line; "
    if not layout.side_by_side:
        shared = ""
    at = "one height" if layout.heights == 1 else f"{layout.heights} heights"
    holes = counted(layout.holes, "hole")
    return verdict(layout, f"Fits; {shared}pulls at {at}; {holes} to drill.")


def not_checked(layout: Placement) -> tuple[str, ...]:
    """Name what could not be checked because it was not given."""
    bank = layout.bank
    missing = {
        "whether the holes stay within their fronts and under the pull, as wide as they are drilled":
            bank.pull.drill is None,
        "whether the foot of the pull covers its holes": bank.pull.base is None and bank.pull.drill is not None,
        "whether the foot of the pull sits flat on frame or panel":
            bank.pull.base is None and any(front.rail for front in bank.fronts),
        "drawers that open past each other at an inside corner": not bank.corners and layout.has_drawers,
    }  # fmt: skip
    return tuple(name for name, is_missing in missing.items() if is_missing)


def mends(layout: Placement) -> tuple[str, ...]:
    """Say what would make it pass: what to change, all of it; else by how much each check fails."""
    return tuple(_changed(layout, each) for each in layout.changes) or each_mend(layout)


_MENDS = {
    "drawers.from_top": "Put the pulls {} below the upper edge of the drawers.",
    "doors.from_side": "Put the pulls {} from the side of the door that opens.",
    "doors.from_end": "Put the nearest hole {} from the end of the door.",
    "pull.centers": "Take a pull with its holes {} apart.", "pull.length": "Take a pull {} long.",
    "pull.drill": "Drill {} wide, or take a pull with a wider foot.",
}  # fmt: skip


def _changed(layout: Placement, change: Change) -> str:
    to = f"{'' if change.rule == EXACTLY else f'{change.rule} '}{change.to.shown().text}"
    if change.field in _MENDS:
        return _MENDS[change.field].format(to)
    _, index, gap = change.field.split(".")
    corner = layout.bank.corners[int(index)]
    return f"Leave {to} beside {corner.one if gap == 'one_gap' else corner.other}, with a filler at the inside corner."


def advice(layout: Placement) -> tuple[Advice, ...]:
    """Say what to try first, what an inch name hides, and which length goes with the width of each drawer."""
    bank = layout.bank
    said = [Advice("Drill one front first and look at it. For old fronts, measure the old holes in three places: if "
                   "they drift by more than 1/8 in, plan new holes.", GUIDE)]
    warning = not_by_inch_name(bank.pull.centers)
    if warning:
        said.append(Advice(warning, "arithmetic"))
    for front in bank.fronts:
        sizes = suggested(front.width) if front.is_drawer else ()
        if sizes:
            said.append(Advice(f"{front.name}: a pull about a third of its width is {' or '.join(sizes)}; a hint, "
                               "not a rule.", GUIDE))
    return tuple(said)


def not_by_inch_name(centers: Length | None) -> str:
    """Say what to drill, and what not, for a pull of the 32 mm system; empty for any other and for a knob."""
    if not centers or not in_32_mm_system(centers):
        return ""
    shown = centers.inches()
    name, off = shown.text.removeprefix("about "), float(abs(shown.off_mm))
    return f"Drill {centers.millimeters().text}, not {name}: the inch name is off by {off:g} mm."


def inch_name_of(centers: Length, meant: Length) -> str:
    """Say which metric pull an inch size is the name of."""
    return f"{centers.text} is the inch name of a {meant.text} pull; each hole would be off by half"


def opens_past(opened: str, closed: str) -> str:
    """Name two fronts at an inside corner."""
    return f"{opened} opens past the pull of {closed}"


def hole(front: Front, number: int) -> str:
    """Name a hole by its front and its number on it."""
    return f"{front.name}, hole {number}"


# What its drawing says, and the sheet that the crew drills from.

SHEET = "Drilling sheet"
FIRST = (
    "Measure each front, and the pull in your hand from hole to hole, yourself.",
    "Look behind each front: nothing may be in the way of the drill or of the screws.",
)
COLUMNS = ("Front", "Name", "Middle of the pull, from the left edge", "Middle, from the top edge", "Then each way",
           "Check: each hole")
MEASURED_FROM = (
    "Mark the middle of each pull from the edges of its own front, seen from in front. Then go half the distance from "
    "hole to hole each way. Never add up marks that were rounded one by one."
)
ONE_HOLE, NO_CHECK = "one hole, in the middle", "none"
FOUND_PULL = "The pull in hand, hole to hole"
FRAME, FLOOR = "inner edge of its frame", "floor"
_SWINGS = {"drawer": "drawer", "door hinged left": "door, hinges left", "door hinged right": "door, hinges right"}


def drawing(layout: Placement) -> str:
    """Give the drawing its title."""
    return f"Pulls: {title(layout)}"


def hole_note(bank: Bank, front: Front, number: int) -> str:
    """Name a hole on the template, with its drill where that is known."""
    drill = bank.pull.drill
    return f"{hole(front, number)}{f', drill {drill.marked_in_both}' if drill else ''}"


def found_front(mark: str) -> str:
    """Head what is found of one front on the day."""
    return f"Front {mark}, width by height"


def measured(front: Front) -> str:
    """Say how wide and how high a front is, as it was drawn."""
    return f"{front.width.marked_in_both} by {front.height.marked_in_both}"


def told(bank: Bank, at: Length) -> str:
    """Say a distance as it is set out. A metric pull is set out in mm: inches rounded one by one would move its holes
    apart or together."""
    centers = bank.pull.centers
    return (at if centers is None or centers.unit.is_inch else Length(at.mm)).marked_in_both


def in_the_middle(at: str) -> str:
    """Say that a pull is in the middle of its front: the mark that needs no tape."""
    return f"middle of the front, {at}"


def each_way(half: str, *, upright: bool) -> str:
    """Say how far its holes are from its middle."""
    return f"{half} {'up and down' if upright else 'left and right'}"


def check_of(holes: Iterable[str], *, upright: bool) -> str:
    """Say where the holes are from one edge, to be checked against the marks."""
    return f"{'top' if upright else 'left'} edge {listed(holes)}"


def bare_of(bank: Bank, at: Length) -> str:
    """Say a distance as `told`, in one system."""
    return told(bank, at).partition(" (")[0]


def apart(at: str) -> str:
    """Say how far the two holes of a pull are apart."""
    return f"hole to hole {at}"


def work(layout: Placement) -> str:
    """Say what is to be drilled."""
    return f"Drill {spelled(layout.holes, 'hole')} for {spelled(len(layout.pulls), 'pull')}."


def sizes(bank: Bank) -> tuple[str, ...]:
    """Say what decides whether the pull fits: from hole to hole, exactly, and the drill."""
    pull = bank.pull
    drill = f"Drill size: {pull.drill.marked_in_both}." if pull.drill else "Drill size: from the maker's sheet."
    if pull.centers is None:
        return (f"One hole for each pull. {drill}",)
    apart = f"Hole to hole of each pull: {_exactly(pull.centers)}. {drill}"
    return tuple(filter(None, (apart, not_by_inch_name(pull.centers))))


def _exactly(centers: Length) -> str:
    return f"{centers.marked_in_both}{'' if centers.unit.is_inch else ' exactly'}"


def description(layout: Placement, lettered: Iterable[tuple[str, Front]]) -> str:
    """Say all that the drawing shows. `lettered`: each front with its letter."""
    fronts = " ".join(
        f"{mark}, {front.name} ({_SWINGS[front.type]}), {_size(front)}: {_holes_of(layout, front)}."
        for mark, front in lettered
    )
    return f"The fronts from in front. {' '.join(effects(layout))} {' '.join(sizes(layout.bank))} {fronts}"


def _size(front: Front) -> str:
    return f"{front.width.shown().text} wide and {front.height.shown().text} high"


def _holes_of(layout: Placement, front: Front) -> str:
    """Where the holes of one front are, from its own edges."""
    holes = [hole for pull in layout.pulls if pull.front is front for hole in pull.holes]
    across, down = ([told(layout.bank, at) for at in ats] for ats in (
        [hole.from_left for hole in holes], [hole.from_top for hole in holes]))
    return f"{_each_once(across)} from its left edge, {_each_once(down)} from its top edge"


def _each_once(lengths: list[str]) -> str:
    return " and ".join(dict.fromkeys(lengths))
