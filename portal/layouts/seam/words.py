"""All that is said of seams: title and effects, checks, the drawing and the sheet."""

from portal.layouts.check import PRACTICE, Advice, Measure
from portal.layouts.layout import each_mend, verdict
from portal.layouts.length import Length
from portal.layouts.seam.dimensions import Run, Stretch
from portal.layouts.seam.division import Division
from portal.layouts.stone import COUNTERTOPS, DRAWING
from portal.words.lists import listed

LIFTING = "NIOSH lifting equation, load constant 23 kg (from memory)"

LENGTH_OUT, DEPTH_OUT, ALL_PIECES = Measure("seam.length-out"), Measure("seam.depth-out"), "all pieces"
TO_CUTOUT, OFF_DISHWASHER = Measure("seam.to-cutout"), Measure("seam.off-dishwasher")
LEFT_END, SEAM, SHEET = "left end", "seam", "Cutting sheet"


def title(layout: Division) -> str:
    """Tell it apart by where its seams are."""
    if not layout.seams:
        return "One piece, no seam"
    places = listed(at.shown().text for at in layout.seams)
    return f"{'A seam' if len(layout.seams) == 1 else 'Seams'} {places} from the left end"


def effects(layout: Division) -> tuple[str, ...]:
    """Say how long and how heavy each piece is, and what one sees and feels of the seams."""
    each = [f"Piece {number}: {piece.length.shown().text} long, {piece.weight.text} before cut-outs."
            for number, piece in enumerate(layout.pieces, 1)]
    if not layout.seams:
        return (*each, "There is no seam to see.")
    return (*each, "You will see the seam: about 1/16 in wide, give or take 1/64 in.",
            "You should feel no step at the front and back edge; in the middle it may be 1/32 in at most.")


def cannot_be_undone(layout: Division) -> str:
    """Say that the pieces are cut for good."""
    return "The shop cuts the stone to these lengths. No piece can be made longer later, and no seam can be moved."


def reason(layout: Division) -> str:
    """Say how far the seams keep from cut-outs, where there are any."""
    away = layout.from_cutouts
    if away is None:
        fits = "Fits, with the fewest seams that the slab allows." if layout.seams else "Comes out of one slab."
        return verdict(layout, fits)
    return verdict(layout, f"Fits, and the seam keeps {away.shown().text} from the nearest cut-out.")


def not_checked(layout: Division) -> tuple[str, ...]:
    """Name what could not be checked because it was not given."""
    return ()


def mends(layout: Division) -> tuple[str, ...]:
    """Say what would make it pass."""
    return each_mend(layout)


def advice(layout: Division) -> tuple[Advice, ...]:
    """Say how stone is carried, and what a seam may look like."""
    lifting = Advice("Long stone is carried on edge, by enough people or with a machine, never flat over a cut-out. "
                     "Even in the best posture 51 lb (23 kg) is the limit for one person.", LIFTING)
    if not layout.seams:
        return (lifting,)
    return (
        lifting,
        Advice("A seam is 1/16 in (1.5 mm) wide, give or take 1/64 in (0.4 mm), with a step of at most 1/32 in "
               "(0.8 mm) in the middle and none at the edges. Slabs may differ by 1/8 in (3 mm) in thickness.",
               COUNTERTOPS),
        Advice("No rule says where a seam must be. One drawing shows seams in front of and behind a sink, with rods or "
               "plates, and none over a dishwasher.", DRAWING),
        Advice("A seam shows less away from a window and in a fine grain.", PRACTICE),
    )


def piece(number: int) -> str:
    """Name a piece, counted from the left."""
    return f"piece {number}"


def seam(number: int) -> str:
    """Name a seam, counted from the left."""
    return f"seam {number}"


def seam_at(at: Length) -> str:
    """Name a seam by its place."""
    return f"seam at {at.shown().text}"


def seam_and(at: Length, cutout: str) -> str:
    """Name a seam and the cut-out that it is checked against."""
    return f"{seam_at(at)}, {cutout}"


def label(stretch: Stretch) -> str:
    """Name a cut-out or a dishwasher where the drawing has room for a few letters."""
    return stretch.name.removeprefix("the ")


def description(layout: Division) -> str:
    """Say all that the drawing shows, then the effects."""
    seams = ", ".join(at.shown().text for at in layout.seams)
    parts = [
        "The top from above, front edge at the bottom. Depths of cut-outs are not to scale.",
        _cutouts(layout.run), f"Seams from the left end: {seams}." if seams else "", *effects(layout),
    ]
    return " ".join(part for part in parts if part)


def _cutouts(run: Run) -> str:
    each = (f"{one.name} from {one.left.shown().text} to {one.right.shown().text}" for one in run.cutouts)
    return f"Cut-outs from the left end: {', '.join(each)}." if run.cutouts else ""
