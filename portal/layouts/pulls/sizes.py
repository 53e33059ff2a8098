"""Sizes of pulls: the 32 mm system, what an inch name hides, and the one-third hint."""

from fractions import Fraction

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
    """Say whether the holes are a whole number, three or more, of 32 mm apart (96, 128, 160 ...)."""
    steps = centers.mm / _SYSTEM.mm
    return steps.denominator == 1 and steps >= 3


def metric_meant(centers: Length) -> Length | None:
    """Find the size of the 32 mm system whose inch name this is: within half of 1/16 in of it, and not the same. None
    where there is no such size."""
    steps = max(round(centers.mm / _SYSTEM.mm), 3)
    meant = _SYSTEM * steps
    return meant if centers != meant and abs(centers - meant) <= _HALF_MARK else None


def suggested(width: Length) -> tuple[str, ...]:
    """Give the lengths of pull that the guide hints at for a drawer of this width, each once; on a limit both rows,
    none below 12 in and above 48 in."""
    inches = width.mm / Fraction("25.4")
    return tuple(dict.fromkeys(size for least, most, sizes in THIRDS if least <= inches <= most for size in sizes))
