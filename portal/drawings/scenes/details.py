"""The sizes that stand on a cutting or setting-out sheet beside its marks: what a shop asks for before it cuts."""

from portal.layouts.centerline import words as line_words
from portal.layouts.centerline.dimensions import Counter
from portal.layouts.centerline.layout import CenterLine
from portal.layouts.check import GIVEN
from portal.layouts.content_tables.materials import Material
from portal.layouts.overhang.brackets import widest_gap
from portal.layouts.overhang.layout import OverhangLayout
from portal.layouts.seam import words as seam_words
from portal.layouts.seam.cutouts import LEFT, RIGHT, Stretch
from portal.layouts.seam.layout import SeamLayout
from portal.layouts.stone.weights import heft
from portal.layouts.vanity.layout import VanityLayout
from portal.words.drawn import drawing_words as words
from portal.words.lists import listed

Pairs = tuple[tuple[str, str], ...]


def seam_details(layout: SeamLayout) -> Pairs:
    """Give the run and its pieces, each with its weight; where the cut-outs are, and what is left around them."""
    run = layout.run
    pieces = [(words.of_piece(number), words.piece(piece.length.marked_in_both, seam_words.weight_of(piece)))
              for number, piece in enumerate(layout.pieces, 1)]
    cutouts = [row for each in run.cutouts for row in _cutout(each)]
    strips = [(words.left_between(listed(each.sides)), each.wide.marked_in_both) for each in layout.strips
              if not {LEFT, RIGHT} & set(each.sides)]
    return (
        (words.LENGTH, run.length.marked_in_both), (words.DEPTH, run.depth.marked_in_both),
        (words.THICKNESS, run.thickness.marked_in_both), *_material(run.material),
        (words.PROFILE, run.profile or words.NOT_GIVEN), *pieces, *cutouts, *strips,
    )  # fmt: skip


def _cutout(cutout: Stretch) -> Pairs:
    """Where it is along the run and from front to back, and how round its corners are."""
    name = words.cutout(cutout.name)
    front, back, deep = cutout.front, cutout.back, cutout.deep
    if front is not None and back is not None:
        across = words.between(front.marked, back.marked, words.FRONT_EDGE)
    elif front is not None:
        across = words.begins(front.marked, words.FRONT_EDGE)
    else:
        across = words.deep(deep.marked) if deep else words.NOT_GIVEN_CUTOUT
    corners = words.NOT_GIVEN_CUTOUT if cutout.radius is None else words.SQUARE
    if cutout.radius and cutout.radius.mm:
        corners = cutout.radius.marked_in_both
    return (
        (name, words.between(cutout.left.marked, cutout.right.marked, words.LEFT_END)),
        (words.front_to_back(name), across), (words.corners(name), corners),
    )  # fmt: skip


def seam_found(layout: SeamLayout) -> Pairs:
    """Give what is measured once more before the stone is cut."""
    length = layout.run.length.marked_in_both
    return tuple(zip(words.FOUND_RUN, (length, length, layout.run.depth.marked_in_both), strict=True))


def overhang_details(layout: OverhangLayout) -> Pairs:
    """Give the top, how far it reaches out, and what stands under it."""
    found = layout.dimensions
    brackets = words.NO_BRACKETS
    if layout.supported and found.brackets:
        gap = widest_gap(layout.bracket_marks)
        brackets = words.brackets(layout.brackets, found.brackets.reach.marked_in_both,
                                  gap.marked_in_both if gap else None)
    return (
        (words.LENGTH, found.length.marked_in_both), (words.WIDTH, layout.width.marked_in_both),
        (words.THICKNESS, found.thickness.marked_in_both), (words.OVERHANG_DEPTH, layout.depth.marked_in_both),
        (words.CORNER, found.corner.marked_in_both if found.corner else words.SQUARE),
        (words.PROFILE, found.profile or words.NOT_GIVEN), (words.BRACKETS, brackets), *_material(found.material),
        *_weight(layout),
    )  # fmt: skip


def _material(material: Material | None) -> Pairs:
    return ((words.MATERIAL, material.name),) if material else ()


def _weight(layout: OverhangLayout) -> Pairs:
    """The most that it may weigh, for whoever carries it; nothing where nobody says what it is made of."""
    found = layout.dimensions
    if found.material is None and found.density is None:
        return ()
    top = heft(found.material, found.density, found.thickness, None, GIVEN)
    weight = top.weigh(found.length, layout.width)
    return ((words.WEIGHT, words.weight(weight.text, weight.people)),)


def overhang_found(layout: OverhangLayout) -> Pairs:
    """Give what is measured once more before the stone is cut."""
    found = layout.dimensions
    return tuple(zip(words.FOUND_OVERHANG, (found.length.marked_in_both, found.base.marked_in_both, words.LEVEL),
                     strict=True))


def line_details(line: CenterLine) -> Pairs:
    """Give the sink, what it stands between, and the top that it is cut into where that was measured."""
    wall = line.wall
    window, counter = wall.window, wall.counter
    seen = [(words.WINDOW, words.between(window.left.marked, window.right.marked, wall.datum))] if window else []
    top = [_counter(counter, wall.datum)] if counter else []
    return (
        (words.SINK, wall.sink.marked_in_both), (words.ROOM, wall.clips.marked_in_both),
        (words.CABINET, words.between(wall.cabinet.left.marked, wall.cabinet.right.marked, wall.datum)), *seen,
        *top,
    )  # fmt: skip


def _counter(counter: Counter, datum: str) -> tuple[str, str]:
    """The top from end to end, and what is asked to be left of it beside the sink."""
    ends = words.between(counter.left.marked, counter.right.marked, datum)
    asked = [words.asked_on(least.marked, side) for least, side in (
        (counter.least_left, line_words.LEFT_SIDE), (counter.least_right, line_words.RIGHT_SIDE)) if least is not None]
    return words.FREE_COUNTER, words.leaving(ends, asked)


def line_found(line: CenterLine) -> Pairs:
    """Give what is measured once more before the line is marked."""
    wall = line.wall
    inside = wall.cabinet.right - wall.cabinet.left
    seen = wall.window.center.marked_in_both if wall.window else words.NO_WINDOW
    return tuple(zip(words.FOUND_LINE, (inside.marked_in_both, wall.sink.marked_in_both, seen), strict=True))


def vanity_details(layout: VanityLayout) -> Pairs:
    """Give what is below the mirror, the sizes of mirror and lamps, and by whose eyes they hang."""
    vanity = layout.vanity
    mirror, lights = vanity.mirror, vanity.lights
    width = mirror.width.marked_in_both if mirror.width else words.NOT_SAID
    lamps = words.lamps(lights.number, lights.height.marked_in_both) if lights else words.NO_LAMPS
    sash = [(words.SASH, vanity.sash.edge.marked_in_both)] if vanity.sash else []
    eyes = [(words.eyes_of(person.name), person.eyes.marked_in_both) for person in vanity.people]
    return (
        (words.COUNTER, vanity.counter.marked_in_both), (words.SPLASH, vanity.splash_top.marked_in_both),
        (words.TAP, vanity.tap_top.marked_in_both), (words.GLASS, (layout.top - layout.bottom).marked_in_both),
        (words.GLASS_WIDTH, width), (words.FRAME, mirror.frame.marked_in_both), (words.LAMPS, lamps),
        *sash, *eyes,
    )  # fmt: skip


def vanity_found(layout: VanityLayout) -> Pairs:
    """Give what is measured once more before mirror and lamps are marked."""
    vanity = layout.vanity
    ceiling = vanity.ceiling.marked_in_both if vanity.ceiling else words.NOT_SAID
    glass = (layout.top - layout.bottom).marked_in_both
    return tuple(zip(words.FOUND_VANITY, (vanity.counter.marked_in_both, glass, ceiling), strict=True))
