"""All that is said of seams: title and effects, checks, the drawing and the sheet."""

from collections.abc import Iterator
from fractions import Fraction

from portal.layouts.check import PRACTICE, Advice, Measure
from portal.layouts.content_tables.materials import called
from portal.layouts.layout import each_mend, verdict
from portal.layouts.length import Length
from portal.layouts.seam.cutouts import Stretch, Strip
from portal.layouts.seam.dimensions import Run
from portal.layouts.seam.division import Division, Piece
from portal.layouts.seam.places import longer_slab
from portal.layouts.stone.limits import COUNTERTOPS, DRAWING
from portal.layouts.stone.weights import LIFTING, ONE_PERSON, Weight
from portal.words.articles import with_the
from portal.words.capitals import first_upper
from portal.words.drawn.layout_words import carried_by
from portal.words.lists import listed
from portal.words.plurals import plural, spelled

LENGTH_OUT, DEPTH_OUT, ALL_PIECES = Measure("seam.length-out"), Measure("seam.depth-out"), "all pieces"
PIECE_LEAST, STRIP = Measure("seam.piece-least"), Measure("seam.strip")
TO_CUTOUT, OFF_DISHWASHER = Measure("seam.to-cutout"), Measure("seam.off-dishwasher")
CUTOUT_RADIUS = Measure("seam.cutout-radius")
LEFT_END, SEAM, SHEET = "left end", "seam", "Cutting sheet"
_MOVES = {LENGTH_OUT.key, PIECE_LEAST.key, TO_CUTOUT.key}
"""What another place for the seams may mend."""


def title(layout: Division) -> str:
    """Tell it apart by where its seams are."""
    if not layout.seams:
        return "One piece, no seam"
    places = listed(at.marked for at in layout.seams)
    return f"{'A seam' if len(layout.seams) == 1 else 'Seams'} {places} from the left end"


def effects(layout: Division) -> tuple[str, ...]:
    """Say how long and how heavy each piece is, what is left around cut-outs, where else a seam may be, and what one
    sees and feels of it."""
    return (*(f"Piece {number}: {each.length.shown().text} long, {weight_of(each)}."
              for number, each in enumerate(layout.pieces, 1)), *_left(layout), *_places(layout), *_seen(layout))


def weight_of(piece: Piece) -> str:
    """Say what a piece weighs and who carries it: `at most 74 lb (34 kg) before cut-outs; 3 people carry it`."""
    return f"at most {piece.weight.text} before cut-outs; {carried_by(piece.weight.people)}"


def _left(layout: Division) -> Iterator[str]:
    for cutout in layout.run.cutouts:
        before, behind = cutout.front, layout.run.depth - cutout.back if cutout.back else None
        left = [f"{wide.shown().text} is left {side} it"
                for side, wide in (("before", before), ("behind", behind)) if wide and wide.mm]
        if left:
            yield f"{first_upper(with_the(cutout.name))}: {listed(left)}."


def _places(layout: Division) -> Iterator[str]:
    seams = len(layout.seams)
    staying = f", one at a time: the {plural(seams - 1, 'other', 'others')} then {plural(seams - 1, 'stays', 'stay')}"
    for number, ours in enumerate(layout.alone, 1):
        where = listed((_from_to(*each) for each in ours), "or")
        where = f"anywhere {where}" if where.startswith("from") else where
        if seams == 1:
            yield f"The seam can be {where} from the left end."
        else:
            yield f"Seam {number} can be {where} from the left end{staying}."


def _from_to(low: Length, high: Length) -> str:
    """To 1/16 in or 0.1 mm, and never past an end; exact where that leaves nothing."""
    step = Fraction(127, 80) if low.unit.is_inch else Fraction(1, 10)
    least, most = -(-low.mm // step) * step, high.mm // step * step
    if least > most:
        least, most = low.mm, high.mm
    ends = [Length.of_mm(each, low.unit).text for each in (least, most)]
    return f"at {ends[0]}" if least == most else f"from {ends[0]} to {ends[1]}"


def _seen(layout: Division) -> tuple[str, ...]:
    material = layout.run.material
    if not layout.seams:
        return ("There is no seam to see.",)
    if material and not material.natural:
        return (f"How much one sees of a seam in {called(material)}, its maker’s sheet says.",)
    return ("You will see the seam: about 1/16 in wide, give or take 1/64 in.",
            "You should feel no step at the front and back edge; in the middle it may be 1/32 in at most.")


def cannot_be_undone(layout: Division) -> str:
    """Say that the pieces are cut for good."""
    return (f"The shop cuts the {called(layout.run.material)} to these lengths. No piece can be made longer later, and "
            "no seam can be moved.")


def reason(layout: Division) -> str:
    """Say how far the seams keep from cut-outs, where there are any, and that it takes one piece more than the slab
    alone asks for, where it does."""
    away = layout.from_cutouts
    if away is not None:
        fits = f"Fits, and the seam keeps {away.shown().text} from the nearest cut-out."
    else:
        fits = "Fits, with the fewest seams that the slab allows." if layout.seams else "Comes out of one slab."
    if layout.one_more:
        fits += f" With {spelled(layout.run.seams, 'seam')} nothing fits."
    return verdict(layout, fits)


def not_checked(layout: Division) -> tuple[str, ...]:
    """Name what could not be checked because it was not given."""
    run = layout.run
    unknown = [] if run.material else ["what the top is made of (natural stone is taken)"]
    unknown += [f"how much is left before and behind {with_the(each.name)}"
                for each in run.cutouts if each.back is None]
    unknown += [f"how round the corners of {with_the(each.name)} are" for each in run.cutouts if each.radius is None]
    if run.least.cutout_radius is None and any(each.radius is not None for each in run.cutouts):
        unknown.append("how round the corners of cut-outs must be")
    if run.cutouts and run.least.strip is None:
        unknown.append("how wide the strips around cut-outs must be")
    if layout.heft.over is None:
        unknown.append("how much thicker than nominal the slab is")
    if layout.seams and run.least.piece is None:
        unknown.append("how short a piece may be")
    if layout.seams and run.dishwasher is None:
        unknown.append("whether a dishwasher stands below")
    return tuple(unknown)


def mends(layout: Division) -> tuple[str, ...]:
    """Say what would make it pass: other places for the seams, a longer slab, and by how much the rest falls short."""
    moves = [check for check in layout.failed if check.what.key in _MOVES]
    rest = tuple(check.mend for check in layout.failed if check.what.key not in _MOVES)
    if not moves:
        return rest
    if layout.nearest:
        return (_at(layout.nearest), *rest)
    slab = longer_slab(layout.run)
    if slab is None:
        return each_mend(layout)
    return (f"Take a slab with a usable length of {slab.text}: with this one nothing fits.", *rest)


def _at(seams: tuple[Length, ...]) -> str:
    places = listed(at.text for at in seams)
    return f"Put the {plural(len(seams), 'seam')} {places} from the left end."


def advice(layout: Division) -> tuple[Advice, ...]:
    """Say what weights are reckoned with, how a piece is carried, and what a seam may look like."""
    material = layout.run.material
    said = [*_weights(layout), Advice(
        f"One person lifts {Weight(ONE_PERSON).text} at most, and that in the best posture. Two lift two thirds of "
        "what both could alone, three or four half of it, and more than four don’t work.", LIFTING)]
    if called(material) in ("stone", "quartz"):
        said.append(Advice("A long piece is carried on edge, never flat over a cut-out."))
    if not layout.seams:
        return tuple(said)
    if material is None or material.natural:
        said.append(Advice(
            "A seam is 1/16 in (1.5 mm) wide, give or take 1/64 in (0.4 mm), with a step of at most 1/32 in (0.8 mm) "
            "in the middle and none at the edges. Slabs may differ by 1/8 in (3 mm) in thickness.", COUNTERTOPS))
        said.append(Advice("No rule says where a seam must be. One drawing shows seams in front of and behind a sink, "
                           "with rods or plates, and none over a dishwasher.", DRAWING))
    return (*said, Advice("A seam shows less away from a window and in a fine grain.", PRACTICE))


def _weights(layout: Division) -> Iterator[Advice]:
    run, heaviest = layout.run, layout.heft
    yield Advice(f"Weights are reckoned at {heaviest.density} kg per cubic meter, with no cut-out taken off.",
                 heaviest.density_source)
    if heaviest.over and heaviest.over.mm:
        yield Advice(f"Weights are reckoned {heaviest.over.text} thicker than nominal: slabs differ.",
                     heaviest.over_source)
    if run.material and run.density and run.density < run.material.least:
        yield Advice(f"{run.density} kg per cubic meter is less than {run.material.name} has: {run.material.least} or "
                     "more. Look at its sheet again.", run.material.source)


def piece(number: int) -> str:
    """Name a piece, counted from the left."""
    return f"piece {number}"


def seam(number: int) -> str:
    """Name a seam, counted from the left."""
    return f"seam {number}"


def seam_at(at: Length) -> str:
    """Name a seam by its place."""
    return f"seam at {at.marked}"


def seam_and(at: Length, cutout: str) -> str:
    """Name a seam and the cut-out that it is checked against."""
    return f"{seam_at(at)}, {cutout}"


def sides(strip: Strip) -> str:
    """Name a strip by what it lies between."""
    return f"{strip.sides[0]} to {strip.sides[1]}"


def label(stretch: Stretch) -> str:
    """Name a cut-out or a dishwasher where the drawing has room for a few letters."""
    return stretch.name.removeprefix("the ")


def description(layout: Division) -> str:
    """Say all that the drawing shows, then the effects."""
    run = layout.run
    seams = ", ".join(at.marked for at in layout.seams)
    unknown = "" if all(each.back is not None for each in run.cutouts) else (
        " Depths of cut-outs that are not given are not to scale.")
    parts = [
        f"The top from above, front edge at the bottom.{unknown}",
        _cutouts(run), f"Seams from the left end: {seams}." if seams else "", *effects(layout),
    ]
    return " ".join(part for part in parts if part)


def _cutouts(run: Run) -> str:
    each = (f"{one.name} from {one.left.shown().text} to {one.right.shown().text}" for one in run.cutouts)
    return f"Cut-outs from the left end: {', '.join(each)}." if run.cutouts else ""
