"""Sizes of pulls: the 32 mm system, what an inch name hides, and the one-third hint."""

from fractions import Fraction

from portal.layouts.check import AT_MOST, PRACTICE, Check, Suggestion, check
from portal.layouts.length import Length

GUIDE = "pull maker's guide"
_SYSTEM = Length.of_mm(32)
_HALF_MARK = Length.of_inches("1/32")

THIRDS = (
    (12, 18, ("3 in", "3-3/4 in")), (18, 24, ("5 in", "6-1/4 in")), (24, 30, ("7 in", "8 in")),
    (30, 36, ("8 in", "12 in")), (36, 48, ("12 in", "18 in", "two of 7 in to 8 in")),
)
"""Width of a drawer from and to, in inches, and the lengths of pull that a maker's guide hints at (GUIDE)."""


def in_32_mm_system(centers: Length) -> bool:
    """Whether the holes are a whole number, three or more, of 32 mm apart (96, 128, 160 ...)."""
    steps = centers.mm / _SYSTEM.mm
    return steps.denominator == 1 and steps >= 3


def metric_meant(centers: Length) -> Length | None:
    """The size of the 32 mm system whose inch name this is: within half of 1/16 in of it, and not the same. None where
    there is no such size."""
    steps = max(round(centers.mm / _SYSTEM.mm), 3)
    meant = _SYSTEM * steps
    return meant if centers != meant and abs(centers - meant) <= _HALF_MARK else None


def inch_name_check(centers: Length | None, inch_sheet: bool) -> tuple[Check, ...]:
    """Fails for an inch size that is a metric size's name, unless the maker's own sheet gives inches."""
    meant = metric_meant(centers) if centers and not inch_sheet else None
    if not centers or not meant:
        return ()
    about = f"{centers.text} is the inch name of a {meant.text} pull; each hole would be off by half"
    off = Length(abs(centers - meant).mm)
    return (check("metric pull by its inch name", about, off, AT_MOST, Length.of_mm(0), "the maker's sheet"),)


def metric_by_name(centers: Length) -> str:
    """What to drill, and what not, for a pull of the 32 mm system; empty for any other."""
    if not in_32_mm_system(centers):
        return ""
    shown = centers.inches()
    name, off = shown.text.removeprefix("about "), float(abs(shown.off_mm))
    return f"Drill {centers.millimeters().text}, not {name}: the inch name is off by {off:g} mm."


def suggested(width: Length) -> tuple[str, ...]:
    """Lengths of pull that the guide hints at for a drawer of this width, each once; on a limit both rows, outside it
    none."""
    inches = width.mm / Fraction("25.4")
    return tuple(dict.fromkeys(size for least, most, sizes in THIRDS if least <= inches <= most for size in sizes))


def suggestions() -> tuple[Suggestion, ...]:
    table = "; ".join(f"{least} to {most} in wide: {' or '.join(sizes)}" for least, most, sizes in THIRDS)
    return (
        Suggestion("pull.length", f"about a third of the drawer's width. {table}", GUIDE),
        Suggestion("pull.centers", "metric pulls are 96, 128, 160, 192, 224, 256 or 320 mm: give the mm of the sheet",
                   "32 mm system"),
        Suggestion("two_over", "30 in or 36 in", PRACTICE),
    )
