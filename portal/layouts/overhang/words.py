"""All that is said of an overhang: its title and effects, its checks, its drawing and its sheet."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from portal.layouts.check import GIVEN, PRACTICE, Advice, Measure
from portal.layouts.content_tables.materials import called
from portal.layouts.island import PLANNING, Aisle
from portal.layouts.layout import verdict
from portal.layouts.length import Length
from portal.layouts.overhang.dimensions import Load, Overhang
from portal.layouts.overhang.limits import alone, deepest_alone, is_unknown, span
from portal.layouts.overhang.mending import brackets_needed, depth_that_does, stand_needed
from portal.layouts.overhang.reach import Reach
from portal.layouts.stone.limits import MANUAL, limits
from portal.layouts.stone.tipping import STATICS
from portal.words.capitals import first_upper
from portal.words.lists import listed
from portal.words.plurals import counted, plural

UNSUPPORTED, PAST_BRACKETS, PAST_CABINETS = Measure("overhang.unsupported"), "past the brackets", "past the cabinets"
TIPS, SPAN, BETWEEN_CABINETS = Measure("overhang.tips"), Measure("overhang.span"), "between cabinets"
BRACKET_TO_BRACKET, ALONG_EDGE = Measure("overhang.bracket-to-bracket"), "along the edge"
BRACKET_SPACING, BRACKET_LOAD = Measure("overhang.bracket-spacing"), Measure("overhang.bracket-load")
SET_BACK, TO_EDGE, BRACKET_END = Measure("overhang.set-back"), "to the edge", Measure("overhang.bracket-end")
KNEE_DEPTH, SEAT_WIDTH = Measure("overhang.knee-depth"), Measure("overhang.seat-width")
AISLE = Measure("overhang.aisle")
CORNER_LEAST, CORNER_MOST, OF_TOP = Measure("overhang.corner-least"), Measure("overhang.corner-most"), "of the top"
LEFT_END, RIGHT_END, SHEET = "left end", "right end", "Cutting sheet"
_REACHES = {UNSUPPORTED.key, TIPS.key, SET_BACK.key}
_STANDS = {BRACKET_TO_BRACKET.key, BRACKET_SPACING.key, BRACKET_END.key, BRACKET_LOAD.key}
"""What other brackets, or a lesser depth, may mend; and what another gable or stud, or a stronger bracket, may."""


def title(layout: Reach) -> str:
    """Tell it apart by its depth and by what is under it."""
    return f"{layout.depth.marked} out, {'on brackets' if layout.supported else 'with nothing under it'}"


def effects(layout: Reach) -> tuple[str, ...]:
    """Say how far it reaches, what stands under it, what knees have and what is left of each aisle."""
    found, depth = layout.dimensions, layout.depth
    sentences = [f"The top reaches {depth.shown().text} past the cabinets."]
    if layout.supported and found.brackets:
        stand = plural(layout.brackets, "stands", "stand")
        end = plural(layout.brackets, "It ends", "They end")
        sentences.append(f"{counted(layout.brackets, 'bracket')} {stand} under it, and must be in place before the top "
                         f"is set. {end} {layout.past.shown().text} before the edge.")
    if found.seats:
        sentences.append(f"Knees have {depth.shown().text}, and {found.seats.depth.text} is advised for a seat at "
                         f"{found.seats.height}.")
    sentences += [f"Aisle, {aisle.name}: {aisle.left(depth).shown().text} is left." for aisle in found.aisles]
    return tuple(sentences)


def cannot_be_undone(layout: Reach) -> str:
    """Say that a top grows no longer."""
    what = first_upper(called(layout.dimensions.material))
    return f"{what} that is cut can be made shorter, with dust and at a cost. It can’t be made longer."


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
    found = layout.dimensions
    unknown = [] if found.material else ["what the top is made of (sound natural stone is taken)"]
    if not found.fastening:
        if found.load is None:
            unknown.append("whether a load on the edge lifts the top")
        elif layout.light is None:
            unknown.append("whether the load on the edge lifts the top: that needs its material")
    if found.span is None:
        unknown.append("what the top spans between cabinets")
    elif span(found) is None:
        unknown.append("what the top may span between cabinets")
    if layout.supported:
        unknown += _unknown_of_brackets(layout)
    if not found.aisles:
        unknown.append("whether the aisles stay wide enough")
    return tuple(unknown)


def _unknown_of_brackets(layout: Reach) -> Iterator[str]:
    found = layout.dimensions
    brackets = found.brackets
    if brackets and brackets.set_back is None:
        yield "how far before the edge brackets must end"
    if not found.fixings:
        yield "what the brackets are fixed to"
    if not any(check.what.key == BRACKET_LOAD.key for check in layout.checks):
        yield "whether the brackets carry it: that needs their rating, a load on the edge and the material"


def mends(layout: Reach) -> tuple[str, ...]:
    """Say what would make it pass: brackets, a lesser depth, more to fix them to, by how much the rest falls short."""
    failed = {check.what.key for check in layout.failed}
    said: list[str] = []
    told: set[str] = set()
    if failed & _REACHES:
        said += _on_other_brackets(layout) if layout.supported else _on_brackets(layout)
        said += _less(layout, "Or let" if said else "Let")
        told |= _REACHES if said else set()
    stand = stand_needed(layout) if failed & _STANDS else None
    if stand and stand.missing:
        said.append(f"Give the brackets a gable or stud at {_from_left(stand.missing)}.")
        told |= _STANDS
    if stand and stand.rating and BRACKET_LOAD.key in failed:
        said.append(f"Take brackets that each carry at least {stand.rating.text}.")
        told.add(BRACKET_LOAD.key)
    return (*said, *(check.mend for check in layout.failed if check.what.key not in told))


def _less(layout: Reach, let: str) -> list[str]:
    less, bare = depth_that_does(layout), deepest_alone(layout.dimensions).rounded(up=False)
    if less:
        return [f"{let} it reach out {less.text} at most."]
    if layout.supported and let == "Let" and bare.mm and bare < layout.depth:
        return [f"{let} it reach out {bare.text} at most, without brackets."]
    return []


def _on_brackets(layout: Reach) -> list[str]:
    needed = brackets_needed(layout)
    if needed is None:
        return []
    reach, stand = _from_to(needed.least, needed.most), needed.stand
    if stand is None:
        return [f"Put brackets under it that reach {reach} past the cabinets, as far apart as their maker says."]
    carries = "carries" if stand.count == 1 else "each carry"
    carry = f" and {carries} at least {stand.rating.text}" if stand.rating else ""
    on = f", with a gable or stud at {_from_left(stand.missing)}" if stand.missing else ""
    if stand.count == 1:
        return [f"Put 1 bracket under it that reaches {reach} past the cabinets{carry}{on}."]
    put = f"Put {stand.count} brackets under it that reach {reach} past the cabinets{carry}"
    return [f"{put}, at most {stand.apart.text} apart{on}."]


def _from_left(places: Sequence[Length]) -> str:
    return f"{listed(at.text for at in places)} from the {LEFT_END}"


def _on_other_brackets(layout: Reach) -> list[str]:
    needed = brackets_needed(layout)
    return [f"Take brackets that reach {_from_to(needed.least, needed.most)} past the cabinets."] if needed else []


def _from_to(least: Length, most: Length) -> str:
    return least.text if least == most else f"{least.text} to {most.text}"


def advice(layout: Reach) -> tuple[Advice, ...]:
    """Say what the top can't do alone, what lifts it, and that nobody sits on it."""
    found = layout.dimensions
    said = [*_alone(found)]
    most = deepest_alone(found)
    if found.seats and found.seats.depth > most:
        limit = alone(found, found.width)
        said.append(Advice(f"A seat at {found.seats.height} wants {found.seats.depth.text} for knees, and this "
                           f"{called(found.material)} may reach {most.shown().text} alone: supports are needed.",
                           f"{PLANNING}; {limit.source}"))
    bare = not layout.supported and not layout.ok
    said += [Advice(one, alone(found, layout.width).source) for one in (_on_brackets(layout) if bare else [])]
    said += _held(layout)
    said.append(Advice("Nobody sits or stands on an overhang. The sheet of its maker and local code come first."))
    return tuple(said)


def _alone(found: Overhang) -> Iterator[Advice]:
    if found.natural and not found.fragile and limits(found.thickness) is None:
        yield Advice("No limit is published for stone this thin: the whole overhang needs support.", MANUAL)
    elif is_unknown(found):
        what = "fragile stone" if found.natural else called(found.material)
        yield Advice(f"How far {what} may reach alone, its maker’s or fabricator’s sheet says. Until that is given, "
                     "the whole overhang needs support.", PRACTICE)


def _held(layout: Reach) -> Iterator[Advice]:
    """What lifts a loose top, without a verdict: it has one where a load is given."""
    found, lifted = layout.dimensions, layout.lifted_by
    if found.fastening:
        yield Advice(f"The top is held down: {found.fastening}. Whoever fastens it answers for that.", GIVEN)
    elif lifted and layout.light and lifted.kg > 0 and not layout.supported:
        yield Advice(f"Loose, it is lifted by {lifted.low} on the edge, which is no load that it may bear. A cut-out "
                     "in it makes that less.", f"{STATICS}; {layout.light.density_source}")
    yield Advice("The cabinets under it are fastened, too: a loose island tips with its top.", PRACTICE)


def under_load(about: str, load: Load) -> str:
    """Say past what it reaches, and under which load at its edge."""
    return f"{about}, {load.weight.text} on the edge"


def at_height(height: str) -> str:
    """Say at which height of the counter knees are checked."""
    return f"at {height}"


def side_by_side(count: int) -> str:
    """Say for how many seats the width is checked."""
    return f"{count} side by side"


def aisle(each: Aisle) -> str:
    """Name an aisle and its use."""
    return f"{each.name}, {each.use}"


def bracket(number: int) -> str:
    """Name a bracket, counted from the left."""
    return f"bracket {number}"


def bracket_names(marks: Sequence[Length], length: Length) -> tuple[str, ...]:
    """Name brackets by what of them is marked: their middle, and at an end of the top the side that lies on it."""
    sides = ("left side" if not at.mm else "right side" if at == length else "middle" for at in marks)
    return tuple(f"{bracket(number)}, its {side}" for number, side in enumerate(sides, 1))


def drawing(layout: Reach) -> str:
    """Give the drawing its title."""
    return f"Overhang: {title(layout)}"


def under(layout: Reach, gaps_are_dimensioned: bool) -> str:
    """Say what is under the top, with the gaps of brackets where no dimension line can show them."""
    marks = layout.bracket_marks
    if not marks or gaps_are_dimensioned:
        return "cabinets under the top"
    gaps = {other - one for one, other in pairwise(marks)}
    apart = f" {gaps.pop().marked} apart" if len(gaps) == 1 else ""
    return f"cabinets, and {counted(layout.brackets, 'bracket')}{apart}"


def description(layout: Reach) -> str:
    """Say all that the drawing shows, then the effects."""
    shown = ["the cabinets"] + ([counted(layout.brackets, "bracket")] if layout.brackets else [])
    seats = layout.dimensions.seats
    before = ""
    if seats:
        before = f" {counted(seats.count, 'seat')} {plural(seats.count, 'stands', 'stand')} before it."
    across = [each.name for each in layout.dimensions.aisles if each.at_overhang or each.far]
    before += f" Lines across an aisle: {', '.join(across)}." if across else ""
    names = zip(bracket_names(layout.bracket_marks, layout.dimensions.length), layout.bracket_marks, strict=True)
    marks = "".join(f" {first_upper(name)}: {at.marked} from the {LEFT_END}." for name, at in names)
    return (
        f"The top from above, the edge that reaches out at the bottom. Dashed under it: {' and '.join(shown)}."
        f"{before}{marks} {' '.join(effects(layout))}"
    )
