"""All that is said of an overhang: its title and effects, its checks, its drawing and its sheet."""

from portal.layouts.check import Advice, Measure
from portal.layouts.island import PLANNING, Aisle
from portal.layouts.layout import each_mend, verdict
from portal.layouts.overhang.reach import Reach
from portal.layouts.stone.limits import MANUAL, cantilever, limits
from portal.words.capitals import first_upper
from portal.words.plurals import counted, plural

UNSUPPORTED, PAST_BRACKETS, PAST_CABINETS = Measure("overhang.unsupported"), "past the brackets", "past the cabinets"
SPAN, BETWEEN_CABINETS = Measure("overhang.span"), "between cabinets"
BRACKET_TO_BRACKET, ALONG_EDGE = Measure("overhang.bracket-to-bracket"), "along the edge"
KNEE_DEPTH, SEAT_WIDTH = Measure("overhang.knee-depth"), Measure("overhang.seat-width")
AISLE = Measure("overhang.aisle")
CORNER_LEAST, CORNER_MOST, OF_TOP = Measure("overhang.corner-least"), Measure("overhang.corner-most"), "of the top"
LEFT_END, SHEET = "left end", "Cutting sheet"


def title(layout: Reach) -> str:
    """Tell it apart by its depth and by what is under it."""
    return f"{layout.depth.shown().text} out, {'on brackets' if layout.supported else 'with nothing under it'}"


def effects(layout: Reach) -> tuple[str, ...]:
    """Say how far it reaches, what stands under it, what knees have and what is left of each aisle."""
    found, depth = layout.dimensions, layout.depth
    sentences = [f"The top reaches {depth.shown().text} past the cabinets."]
    if layout.supported:
        stand = plural(layout.brackets, "stands", "stand")
        sentences.append(f"{counted(layout.brackets, 'bracket')} {stand} under it, and must be in place before the top "
                         "is set.")
    if found.seats:
        sentences.append(f"Knees have {depth.shown().text}, and {found.seats.depth.text} is advised for a seat at "
                         f"{found.seats.height}.")
    sentences += [f"Aisle, {aisle.name}: {aisle.left(depth).shown().text} is left." for aisle in found.aisles]
    return tuple(sentences)


def cannot_be_undone(layout: Reach) -> str:
    """Say that stone grows no longer."""
    return "Cut stone can be made shorter, with dust and at a cost. It can't be made longer."


def reason(layout: Reach) -> str:
    """Say how near it comes to what was wanted."""
    found, depth = layout.dimensions, layout.depth
    if depth == found.wanted:
        return verdict(layout, "Fits, as deep as wanted.")
    word = "deeper" if depth > found.wanted else "less"
    off = abs(depth - found.wanted).shown().text
    return verdict(layout, f"Fits, {off} {word} than wanted.")


def not_checked(layout: Reach) -> tuple[str, ...]:
    """Name what could not be checked because it was not given."""
    return ()


def mends(layout: Reach) -> tuple[str, ...]:
    """Say what would make it pass."""
    return each_mend(layout)


def advice(layout: Reach) -> tuple[Advice, ...]:
    """Say what the stone can't do alone, and that nobody sits on it."""
    found, depth = layout.dimensions, layout.depth
    said = []
    if limits(found.thickness) is None:
        said.append(Advice("No limit is published for stone this thin: the whole overhang needs support.", MANUAL))
    if found.seats and found.seats.depth > found.alone:
        said.append(Advice(f"A seat at {found.seats.height} wants {found.seats.depth.text} for knees, and this stone "
                           f"may reach {found.alone.shown().text} alone: supports are needed.",
                           f"{PLANNING}; {MANUAL}"))
    alone = cantilever(found.thickness, layout.width)
    if not layout.supported and depth > alone:
        said.append(Advice(f"Needs brackets that reach at least {(depth - alone).shown().text}, from a maker who says "
                           "what they carry.", MANUAL))
    said.append(Advice("Nobody sits or stands on an overhang. Man-made stone may have other limits: its maker's sheet "
                       "and local code come first."))
    return tuple(said)


def at_height(height: str) -> str:
    """Say at which height of the counter knees are checked."""
    return f"at {height}"


def side_by_side(count: int) -> str:
    """Say for how many seats the width is checked."""
    return f"{count} side by side"


def aisle(each: Aisle) -> str:
    """Name an aisle and its use."""
    return f"{each.name}, {each.use}"


def bracket_names(count: int) -> tuple[str, ...]:
    """Name the marks of so many brackets. The outer ones stand within the ends of the top, so that there an outer side
    is marked, and not a middle."""
    sides = ("left side", *("middle" for _ in range(count - 2)), "right side")
    return tuple(f"bracket {number}, its {side}" for number, side in enumerate(sides[:count], 1))


def drawing(layout: Reach) -> str:
    """Give the drawing its title."""
    return f"Overhang: {title(layout)}"


def under(layout: Reach, gaps_are_dimensioned: bool) -> str:
    """Say what is under the top, with the gaps of brackets where no dimension line can show them."""
    marks = layout.bracket_marks
    if not marks or gaps_are_dimensioned:
        return "cabinets under the top"
    return f"cabinets, and {counted(layout.brackets, 'bracket')} {(marks[1] - marks[0]).shown().text} apart"


def description(layout: Reach) -> str:
    """Say all that the drawing shows, then the effects."""
    shown = ["the cabinets"] + ([counted(layout.brackets, "bracket")] if layout.brackets else [])
    seats = layout.dimensions.seats
    before = ""
    if seats:
        before = f" {counted(seats.count, 'seat')} {plural(seats.count, 'stands', 'stand')} before it."
    across = [each.name for each in layout.dimensions.aisles if each.at_overhang or each.far]
    before += f" Lines across an aisle: {', '.join(across)}." if across else ""
    names = zip(bracket_names(layout.brackets), layout.bracket_marks, strict=True)
    marks = "".join(f" {first_upper(name)}: {at.shown().text} from the {LEFT_END}." for name, at in names)
    return (
        f"The top from above, the edge that reaches out at the bottom. Dashed under it: {' and '.join(shown)}."
        f"{before}{marks} {' '.join(effects(layout))}"
    )
