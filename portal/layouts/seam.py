"""Seams in a long top: where the pieces may meet, whether they come out of the slab, what each weighs.

The run is measured from the left end of the top. No rule says where a seam must be (NSI manual); the distance to
cut-outs is the fabricator's.
"""

from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Any, ClassVar

from portal.layouts.check import AT_LEAST, AT_MOST, PRACTICE, Advice, Check, Suggestion, check
from portal.layouts.form import COUNT, STONE_WORK, WORDS, Form, Part, needed, source_of_minimums
from portal.layouts.json_fields import Reader
from portal.layouts.layout import Layout, Mark, verdict
from portal.layouts.length import DimensionError, Length
from portal.layouts.stone import COUNTERTOPS, MANUAL, Weight, weight
from portal.words.lists import listed
from portal.words.plurals import plural

KIND = "seam"
CAUTIONS = (*STONE_WORK, "adhesives")
MOST_SEAMS = 2
DRAWING = f"{MANUAL}, drawing 17-D-1"

_FROM_LEFT, _WIDTH = needed("from_left", "From the left end of the run"), needed("width", "Width")

FORM: Form = (
    Part("", "The run", (
        needed("length", "Length of the run"), needed("depth", "Depth, front to back"),
        needed("thickness", "Thickness"), needed("density", "Density, in kg per cubic meter", COUNT),
    ), needed=True),
    Part("slab", "The slab", (needed("length", "Usable length"), needed("depth", "Usable depth")), needed=True),
    Part("minimums", "Least distance", (
        needed("to_cutout", "From a seam to a cut-out"), source_of_minimums("The fabricator")), needed=True),
    Part("cutouts", "Cut-out", (needed("name", "What it is for", WORDS), _FROM_LEFT, _WIDTH), rows=4),
    Part("dishwasher", "A dishwasher below", (_FROM_LEFT, _WIDTH)),
    Part("proposed", "Seam that somebody would like", (_FROM_LEFT,), rows=2),
)  # fmt: skip
DENSITIES = "ASTM C615, C503, C568, C616: least densities"
LIFTING = "NIOSH lifting equation, load constant 23 kg (from memory)"


@dataclass(frozen=True)
class Stretch:
    """Something on or under the run that a seam keeps away from: a cut-out, a dishwasher."""

    name: str
    left: Length
    right: Length

    def away(self, at: Length) -> Length:
        """Negative when `at` lies within."""
        return max(self.left - at, at - self.right)


@dataclass(frozen=True)
class Run:
    """`density` in kg per cubic meter. `proposed`: seams that somebody would like to see, from the left end."""

    length: Length
    depth: Length
    thickness: Length
    density: int
    slab_length: Length
    slab_depth: Length
    cutouts: tuple[Stretch, ...]
    dishwasher: Stretch | None
    to_cutout: Length
    source: str
    proposed: tuple[Length, ...]

    @property
    def seams(self) -> int:
        """The fewest that make every piece fit a slab."""
        return int(-(-self.length.mm // self.slab_length.mm)) - 1


@dataclass(frozen=True)
class Piece:
    """A piece of the top, and its weight before cut-outs are taken from it: the heaviest that anyone lifts."""

    left: Length
    right: Length
    weight: Weight

    @property
    def length(self) -> Length:
        return self.right - self.left


@dataclass(frozen=True)
class SeamLayout(Layout):
    cannot_be_undone: ClassVar[str] = ("The shop cuts the stone to these lengths. No piece can be made longer later, "
                                       "and no seam can be moved.")
    run: Run
    seams: tuple[Length, ...]
    pieces: tuple[Piece, ...]

    def to_json(self) -> dict[str, Any]:
        pieces = [{"length": piece.length.to_json(), "weight": piece.weight.to_json()} for piece in self.pieces]
        return super().to_json() | {"pieces": pieces}


def from_json(data: Any) -> Run:
    """Reads `length`, `depth`, `thickness`, `density` (kg per cubic meter), `slab`, `minimums` and, where there are
    some, `cutouts`, `dishwasher`, `proposed`. Raises DimensionError."""
    reader = Reader(data)
    slab, least, washer = reader.part("slab"), reader.part("minimums"), reader.part_or_none("dishwasher")
    run = Run(
        reader.size("length"), reader.size("depth"), reader.size("thickness"), reader.count("density", 500, 5000),
        slab.size("length"), slab.size("depth"), tuple(_cutout(part) for part in reader.parts("cutouts", 4)),
        _stretch(washer, "the dishwasher") if washer else None, least.length("to_cutout"), least.name("source"),
        tuple(_proposed(part) for part in reader.parts("proposed", 6)),
    )
    for part in (slab, least, reader):
        part.done()
    _check_run(run)
    return run


def _cutout(reader: Reader) -> Stretch:
    return _stretch(reader, reader.name("name"))


def _stretch(reader: Reader, name: str) -> Stretch:
    left = reader.length("from_left")
    stretch = Stretch(name, left, left + reader.size("width"))
    reader.done()
    return stretch


def _proposed(reader: Reader) -> Length:
    at = reader.size("from_left")
    reader.done()
    return at


def _check_run(run: Run) -> None:
    if run.seams > MOST_SEAMS:
        raise DimensionError("length", f"needs more than {MOST_SEAMS} seams with this slab; give it as separate runs")
    for index, cutout in enumerate(run.cutouts):
        if cutout.right > run.length:
            raise DimensionError(f"cutouts.{index}.width", "runs past the right end of the top; check length")
    for index, at in enumerate(run.proposed):
        if at >= run.length:
            raise DimensionError(f"proposed.{index}.from_left", "lies past the right end of the top")


def layouts(run: Run) -> list[SeamLayout]:
    """With the fewest seams that the slab allows, at each place that suggests itself, and at each that is proposed.

    What passes comes first, then fewer seams, then the seam that keeps the furthest from every cut-out.
    """
    wanted = [*combinations(_places(run), run.seams), *((at,) for at in run.proposed)]
    found = {seams: _layout(run, seams) for seams in wanted}
    return sorted(found.values(), key=lambda each: (len(each.failed), len(each.seams), -_nearest(run, each)))


def suggestions() -> tuple[Suggestion, ...]:
    return (
        Suggestion("density", "granite 2560, marble 2590, dense limestone 2560, quartzite 2560 kg per cubic meter or "
                   "more; the sheet of your stone may say more", DENSITIES),
        Suggestion("minimums.to_cutout", "no published minimum is known: ask the fabricator", MANUAL),
    )


def _places(run: Run) -> list[Length]:
    """Even pieces, the longest that a slab gives from either end, as near a cut-out as is allowed, proposals."""
    places = {run.length * part / (run.seams + 1) for part in range(1, run.seams + 1)}
    for count in range(1, run.seams + 1):
        places |= {run.slab_length * count, run.length - run.slab_length * count}
    for cutout in run.cutouts:
        places |= {cutout.left - run.to_cutout, cutout.right + run.to_cutout}
    within = Length.of_mm(0)
    return sorted(at for at in places | set(run.proposed) if within < at < run.length)


def _layout(run: Run, seams: tuple[Length, ...]) -> SeamLayout:
    pieces = tuple(Piece(left, right, weight(right - left, run.depth, run.thickness, run.density))
                   for left, right in pairwise((Length.of_mm(0, run.length.unit), *seams, run.length)))
    checks = (*_piece_checks(run, pieces), *(each for at in seams for each in _seam_checks(run, at)))
    marks = tuple(Mark(f"seam {number}", "left end", at) for number, at in enumerate(seams, 1))
    return SeamLayout(_title(seams), _effects(pieces, seams), checks, _reason(run, checks, seams), marks,
                      _advice(seams), run, seams, pieces)


def _piece_checks(run: Run, pieces: tuple[Piece, ...]) -> tuple[Check, ...]:
    lengths = (check("length out of the slab", f"piece {number}", piece.length, AT_MOST, run.slab_length)
               for number, piece in enumerate(pieces, 1))
    return (*lengths, check("depth out of the slab", "all pieces", run.depth, AT_MOST, run.slab_depth))


def _seam_checks(run: Run, at: Length) -> tuple[Check, ...]:
    name = f"seam at {at.shown().text}"
    checks = [check("seam to cut-out", f"{name}, {each.name}", each.away(at), AT_LEAST, run.to_cutout, run.source)
              for each in run.cutouts]
    if run.dishwasher:
        away, none = run.dishwasher.away(at), Length.of_mm(0, at.unit)
        checks.append(check("seam off the dishwasher", name, away, AT_LEAST, none, DRAWING))
    return tuple(checks)


def _title(seams: tuple[Length, ...]) -> str:
    if not seams:
        return "One piece, no seam"
    places = listed(at.shown().text for at in seams)
    return f"{plural(len(seams), 'A seam', 'Seams')} {places} from the left end"


def _effects(pieces: tuple[Piece, ...], seams: tuple[Length, ...]) -> tuple[str, ...]:
    each = [f"Piece {number}: {piece.length.shown().text} long, {piece.weight.text} before cut-outs."
            for number, piece in enumerate(pieces, 1)]
    if not seams:
        return (*each, "There is no seam to see.")
    return (*each, "You will see the seam: about 1/16 in wide, give or take 1/64 in.",
            "You should feel no step at the front and back edge; in the middle it may be 1/32 in at most.")


def _nearest(run: Run, layout: SeamLayout) -> float:
    return float(min((cutout.away(at).mm for at in layout.seams for cutout in run.cutouts), default=0))


def _reason(run: Run, checks: tuple[Check, ...], seams: tuple[Length, ...]) -> str:
    away = [cutout.away(at) for at in seams for cutout in run.cutouts]
    if not away:
        fits = "Fits, with the fewest seams that the slab allows." if seams else "Comes out of one slab."
        return verdict(checks, fits)
    return verdict(checks, f"Fits, and the seam keeps {min(away).shown().text} from the nearest cut-out.")


def _advice(seams: tuple[Length, ...]) -> tuple[Advice, ...]:
    lifting = Advice("Long stone is carried on edge, by enough people or with a machine, never flat over a cut-out. "
                     "Even in the best posture 51 lb (23 kg) is the limit for one person.", LIFTING)
    if not seams:
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
