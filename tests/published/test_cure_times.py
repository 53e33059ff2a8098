"""Cure times against what was published; what nobody published has no number."""

import pytest

from portal.content import cures

PUBLISHED = [
    # A sealant maker's published questions and answers (check-values section 3): static water after 24 h, 48 h when it
    # is cold or dry; full cure 7 to 21 days and more.
    ("silicone", 24, 24), ("sink_clips", 24, 24), ("silicone_cold", 24, 48), ("silicone_full", 7 * 24, 21 * 24),
    # Product practice (check-values section 3): grout thin-set after 24 h and more, 48 to 72 h for large tile; water on
    # grout after 48 to 72 h; seal after about 72 h and more; full strength after 28 days (ANSI A118 tests at 28 d).
    ("tile_set", 24, 24), ("tile_set_large", 48, 72), ("grout_water", 48, 72), ("grout_seal", 72, 72),
    ("cement_full", 28 * 24, 28 * 24),
]
"""Key, the shortest and the longest published, in hours."""


@pytest.mark.parametrize(("key", "least", "most"), PUBLISHED)
def test_each_figure_is_the_published_one(key: str, least: int, most: int) -> None:
    found = cures()[key]
    assert (found.least, found.hours) == (least, most) and found.source


def test_no_other_row_has_a_figure() -> None:
    """Check-values section 3: paint and wall-board have no common time; of seam and sink adhesives, membranes and floor
    finishes nothing was seen that holds for all products."""
    assert [key for key, one in cures().items() if not one.by_label] == [key for key, *_ in sorted(
        PUBLISHED, key=lambda row: list(cures()).index(row[0]))]
    assert {"seam_polyester", "seam_epoxy", "seam_acrylic", "sink_adhesive", "membrane", "joint_compound", "paint",
            "floor_finish_water", "floor_finish_oil"} <= {key for key, one in cures().items() if one.by_label}
