"""What is published about stone tops: spans, cantilevers, seams, thickness. Sources beside each number."""

from dataclasses import dataclass

from portal.layouts.length import Length

MANUAL = "NSI, Dimension Stone Design Manual, chapter 17"
DRAWING = f"{MANUAL}, drawing 17-D-1"
COUNTERTOPS = "MIA (now Natural Stone Institute), residential countertops, 2008"

DIFFERENCE = Length.of_inches("1/8")
"""How much slabs may differ in thickness, 3 mm in metric sheets (COUNTERTOPS)."""


@dataclass(frozen=True)
class Limits:
    """What stone of a thickness may do without support: span between cabinets, reach past them."""

    span: Length
    cantilever: Length


_LIMITS = (
    (Length.of_mm(30), Limits(Length.of_inches(36), Length.of_inches(10))),
    (Length.of_inches("3/4"), Limits(Length.of_inches(24), Length.of_inches(6))),
)


def limits(thickness: Length) -> Limits | None:
    """Give the limits for 3/4 in (20 mm) and 1-1/4 in (30 mm), the two thicknesses with published limits (MANUAL). In
    between, those of the thinner one hold. None for less than 3/4 in, for which nothing is published."""
    return next((found for least, found in _LIMITS if thickness >= least), None)


def cantilever(thickness: Length, width: Length) -> Length:
    """Say how far a top may reach out unsupported: the limit of its thickness, and never more than a third of its whole
    width in the direction of the overhang (MANUAL). Zero where nothing is published."""
    found = limits(thickness)
    return min(found.cantilever, width / 3) if found else Length.of_mm(0)
