"""Where seams can stand, by hand; and what would mend a division that fails, done."""

from fractions import Fraction
from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts import seam
from portal.layouts.length import Length
from portal.layouts.seam.layout import SeamLayout
from portal.layouts.seam.places import longer_slab, placing
from tests.layouts.seam.test_layout import RUN, found

INCH = Fraction("25.4")


def places(**changed: Any) -> list[list[tuple[float, float]]] | None:
    """In inches."""
    ways = placing(seam.from_json({**RUN, "dishwasher": None, "cutouts": None, **changed}))
    return ways and [[(float(low / INCH), float(high / INCH)) for low, high in ours] for ours in ways.places]


def test_one_seam_lies_within_a_slab_of_either_end_and_off_every_cut_out() -> None:
    """144 in of slabs of 100 in: 44 to 100. Less 4 in beside the sink (40 to 70) and the cooktop (100 to 128 in)."""
    assert places() == [[(44, 100)]]
    assert places(cutouts=RUN["cutouts"]) == [[(74, 96)]]
    assert places(cutouts=RUN["cutouts"], dishwasher=RUN["dishwasher"]) == [[(74, 76)]]


def test_two_seams_leave_each_other_room() -> None:
    """230 in of slabs of 100 in: seam 1 from 30, seam 2 up to 200; a piece between them of at most 100 in. A cut-out
    from 90 to 120 in, 4 in off: seam 1 up to 86, or (none up to 100) ; seam 2 from 130, not before 124."""
    assert places(length="230 in") == [[(30, 100)], [(130, 200)]]
    wide = [{"name": "range", "from_left": "90 in", "width": "30 in"}]
    assert places(length="230 in", cutouts=wide) == [[(30, 86)], [(130, 186)]]


def test_a_shortest_piece_keeps_seams_from_the_ends_and_from_each_other() -> None:
    least = RUN["minimums"] | {"piece": "50 in"}
    assert places(minimums=least) == [[(50, 94)]]
    assert places(length="230 in", minimums=RUN["minimums"] | {"piece": "70 in"}) == [[(70, 90)], [(140, 160)]]


def test_a_seam_over_the_dishwasher_is_taken_before_one_more_piece() -> None:
    run = seam.from_json({**RUN, "cutouts": None, "dishwasher": {"from_left": "43 in", "width": "58 in"}})
    ways = placing(run)
    assert ways is not None and (ways.seams, ways.strict) == (1, False)
    best = seam.layouts(run)[0]
    assert best.ok and [check.name for check in best.noted] == ["seam off the dishwasher"]


def test_one_piece_has_no_places() -> None:
    assert places(length="100 in") is None


def test_what_is_proposed_is_one_of_the_seams_where_it_can_be() -> None:
    three = found(length="230 in", cutouts=None, dishwasher=None, proposed=[{"from_left": "150 in"}])
    assert any(layout.ok and Length.parse("150 in") in layout.seams for layout in three)
    assert not any(layout.ok and Length.parse("20 in") in layout.seams for layout in found(
        length="230 in", cutouts=None, dishwasher=None, proposed=[{"from_left": "20 in"}]))


@settings(max_examples=5)
@given(st.integers(0, 2**32))
def test_what_mends_a_division_does_mend_it(seed: int) -> None:
    """The seams that it names, proposed, pass; with the slab that it names, something passes."""
    data = random_run(Random(seed))
    layouts = seam.layouts(seam.from_json(data))
    failing = [layout for layout in layouts if layout.failed]
    for layout in failing[:3] + failing[-3:]:
        assert layout.mends
        if layout.nearest:
            assert layout.mends[0].startswith("Put the seam")
            assert all(at.text in layout.mends[0] for at in layout.nearest)
            again = with_seams(data, layout)
            assert again.ok and again.mends == ()
        else:
            slab = longer_slab(layout.run)
            assert slab is not None and slab.text in layout.mends[0]
            longer = seam.from_json({**data, "slab": {"length": slab.text, "depth": "60 in"}})
            assert seam.layouts(longer)[0].ok


def with_seams(data: dict[str, Any], layout: SeamLayout) -> SeamLayout:
    assert layout.nearest
    run = seam.from_json({**data, "proposed": [{"from_left": at.text} for at in layout.nearest]})
    return next(one for one in seam.layouts(run) if one.seams == layout.nearest)


def random_run(chance: Random) -> dict[str, Any]:
    slab = chance.randint(60, 120)
    length = chance.randint(slab + 1, 3 * slab)
    cutouts, at = [], 0
    for number in range(chance.randint(0, 4)):
        apart = 1 if cutouts else 0  # two that touch are refused
        left, width = at + chance.randint(apart, length // 3), chance.randint(10, 60)
        if left + width <= length:
            cutouts.append({"name": f"cut-out {number}", "from_left": f"{left} in", "width": f"{width} in"})
            at = left + width
    return {**RUN, "length": f"{length} in", "slab": {"length": f"{slab} in", "depth": "60 in"}, "cutouts": cutouts,
            "minimums": {"to_cutout": f"{chance.randint(0, 8)} in", "source": "a sheet"}, "dishwasher": None,
            "proposed": [{"from_left": f"{chance.randint(1, length - 1)} in"}]}


def test_where_nothing_fits_it_says_which_slab_would_do() -> None:
    """A cut-out from 2 to 120 in of 124 in, kept 2 in off: only 122 in is free, and the slab ends at 100 in."""
    whole = [{"name": "range", "from_left": "2 in", "width": "118 in"}]
    worst = found(length="124 in", cutouts=whole, dishwasher=None, minimums={"to_cutout": "2 in", "source": "x"})[0]
    assert worst.mends == ("Take a slab with a usable length of 122 in: with this one nothing fits.",)


def test_where_no_slab_would_do_either_it_says_by_how_much_each_check_fails() -> None:
    least = {"to_cutout": "2 in", "piece": "125 in", "source": "a sheet"}
    worst = found(length="124 in", cutouts=None, dishwasher=None, minimums=least)[0]
    assert longer_slab(worst.run) is None
    assert worst.mends == tuple(check.mend for check in worst.failed)
