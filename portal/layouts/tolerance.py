"""General tolerances for sizes without one of their own: ISO 2768-1:1989, tables 1 and 2."""

from fractions import Fraction

from portal.layouts.length import Length, Unit

GRADES = ("f", "m", "c", "v")
"""Fine, medium, coarse, very coarse."""

_LINEAR = (
    (6, {"m": "0.1"}),
    (30, {"f": "0.1", "m": "0.2", "c": "0.5", "v": "1"}), (120, {"f": "0.15", "m": "0.3", "c": "0.8", "v": "1.5"}),
    (400, {"f": "0.2", "m": "0.5", "c": "1.2", "v": "2.5"}), (1000, {"f": "0.3", "m": "0.8", "c": "2", "v": "4"}),
    (2000, {"f": "0.5", "m": "1.2", "c": "3", "v": "6"}), (4000, {"m": "2", "c": "4", "v": "8"}),
)
"""Up to and including so many mm. Copies disagree about c below 6 mm, so only m is kept there."""

_RADII = ((3, "0.2", "0.4"), (6, "0.5", "1"), (None, "1", "2"))
"""Up to and including so many mm: f and m, c and v."""

_SMALLEST = Fraction("0.5")


def linear(size: Length, grade: str) -> Length | None:
    """Say how much a size may be off, either way; None where the table has no value (below 0.5 mm or above 4 m, too).

    Raises ValueError for a grade that is none of GRADES.
    """
    _known(grade)
    if size.mm < _SMALLEST:
        return None
    row: dict[str, str] = next((row for most, row in _LINEAR if size.mm <= most), {})
    return Length.of_mm(row[grade], Unit.MM) if grade in row else None


def radius(size: Length, grade: str) -> Length | None:
    """Say the same for a rounded corner or a chamfer; None below 0.5 mm. Raises ValueError as `linear` does."""
    _known(grade)
    if size.mm < _SMALLEST:
        return None
    _, close, wide = next(row for row in _RADII if row[0] is None or size.mm <= row[0])
    return Length.of_mm(close if grade in "fm" else wide)


def _known(grade: str) -> None:
    if grade not in GRADES:
        raise ValueError(f"“{grade}” is no tolerance grade; use one of: {', '.join(GRADES)}")
