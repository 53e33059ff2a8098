"""Safe zones and layouts of random tops against shapely: nothing infeasible passes, nothing feasible is missed."""

from functools import cache

import numpy as np
import pytest
import shapely
from hypothesis import Phase, find, given, settings
from shapely import MultiPoint
from shapely.geometry.base import BaseGeometry

from portal.layouts import deck
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.rules.measures import DRIFT, of_places
from portal.layouts.deck.zones import Zone, safe_zones
from tests.layouts.random_decks import Json, mirrored, old_tops, tops
from tests.published.decks_by_shapely import Oracle, core, mm, ring

NEAR = 1e-5
STEP = 0.25
"""Of the grid, in mm: no circle can be larger by so much."""
AROUND = 120


def some(made: Json) -> list[DeckLayout]:
    """The best layout that passes and the last."""
    passing = [layout for layout in deck.layouts(deck.from_json(made)) if layout.ok]
    return [*passing[:1], *passing[1:][-1:]]


def shape(zone: Zone) -> BaseGeometry:
    return MultiPoint(list(zone.outline)).convex_hull


@settings(max_examples=15, deadline=None)
@given(tops())
def test_a_layout_passes_where_shapely_says_that_every_rule_is_kept(made: Json) -> None:
    for layout in deck.layouts(deck.from_json(made)):
        oracle = Oracle(layout)
        spares = [float(oracle.spare(number, np.array([center]))[0]) for number, center in enumerate(oracle.centers)]
        spares += [pair.spare(np.array([oracle.centers[pair.one]]), np.array([oracle.centers[pair.other]]))
                   for pair in oracle.pairs()]
        worst = min([check.margin for check in layout.checks if of_places(check) and check.what is not DRIFT])
        assert (worst < 0) == (min(spares) < -NEAR), (layout.key, worst, min(spares))
        if worst >= 0 and layout.deck.minimums.slop:
            assert any(check.what is DRIFT for check in layout.failed) == lacks_room(layout, oracle)


def lacks_room(layout: DeckLayout, oracle: Oracle) -> bool:
    """Whether some hole can't be off by the slop, all around, while the others are."""
    slop = mm(layout.deck.minimums.slop)
    around = [ring(center, slop, AROUND) for center in oracle.centers]
    return (any(oracle.spare(number, places).min() < -NEAR for number, places in enumerate(around))
            or any(pair.spare(np.array([oracle.centers[pair.one]]), np.array([oracle.centers[pair.other]]))
                   < 2 * slop - NEAR for pair in oracle.pairs()))


@settings(max_examples=8, deadline=None)
@given(tops())
def test_all_holes_may_drift_in_their_zones_at_once_and_every_rule_is_kept(made: Json) -> None:
    """Whole zones against whatever they must be off, by the distance of one polygon from the other."""
    for layout in some(made):
        oracle, zones = Oracle(layout), safe_zones(layout)
        shapes = [shape(zone) for zone in zones]
        assert [zone.hole for zone in zones] == list(layout.holes)
        for number, (zone, area) in enumerate(zip(zones, shapes, strict=True)):
            assert area.distance(oracle.centers[number]) < NEAR
            assert oracle.spare(number, places_in(area, zone)).min() > -NEAR, (layout.key, zone.hole.name)
            least, half = oracle.deck.minimums, oracle.half(number)
            cut = area.distance(core(layout.deck.cutout)) - mm(layout.deck.cutout.corner)
            assert cut - max(half + mm(least.to_cutout), oracle.flange(number)) > -NEAR
            for below in layout.deck.underneath:
                assert area.distance(core(below)) - mm(below.corner) - half - mm(least.to_underneath) > -NEAR
        for pair in oracle.pairs():
            one, other = shapes[pair.one], shapes[pair.other]
            if pair.most:
                corners = shapely.points(zones[pair.one].outline), shapely.points(zones[pair.other].outline)
                assert pair.spare(*corners) > -NEAR
            else:
                assert one.distance(other) - pair.apart > -NEAR, (layout.key, pair)


def places_in(area: BaseGeometry, zone: Zone) -> np.ndarray:
    """The corners of a zone, and a grid over it."""
    left, front, right, back = area.bounds
    grid = shapely.points(*(each.ravel() for each in np.meshgrid(np.linspace(left, right, 25),
                                                                  np.linspace(front, back, 25))))
    return np.concatenate([shapely.points(zone.outline), grid[shapely.intersects(area, grid)]])


@settings(max_examples=5, deadline=None)
@given(tops())
def test_no_tolerance_could_be_larger_without_one_that_is_smaller_still_becoming_so(made: Json) -> None:
    """Each circle is kept from growing by a step of the grid, by a rule of its own, or by a neighbour whose circle is
    no larger: so the least is the largest circle for all at once, and each of the rest as large as the others leave."""
    for layout in some(made):
        oracle, zones = Oracle(layout), safe_zones(layout)
        radii = [float(zone.circle.mm) for zone in zones]
        around = cache(lambda number, radius, of=oracle: ring(of.centers[number], radius, AROUND))
        for number, radius in enumerate(radii):
            assert oracle.spare(number, around(number, radius)).min() > -NEAR
            assert shape(zones[number]).buffer(0.06).contains(MultiPoint(list(around(number, radius))))
        pairs = list(oracle.pairs())
        for pair in pairs:
            assert pair.spare(around(pair.one, radii[pair.one]), around(pair.other, radii[pair.other])) > -NEAR
        for number, radius in enumerate(radii):
            wider = around(number, radius + STEP)
            kept = oracle.spare(number, wider).min() < 0 or any(
                pair.spare(wider, around(other, radii[other])) < 0
                for pair in pairs if number in (pair.one, pair.other)
                for other in [pair.one + pair.other - number] if radii[other] <= radius + 0.002)
            assert kept, (layout.key, zones[number].hole.name, radii)


@settings(max_examples=8, deadline=None)
@given(tops())
def test_the_mirrored_top_has_the_mirrored_checks_and_zones(made: Json) -> None:
    width = mm(deck.from_json(made).top.width)
    across = {row_of(layout)[::-1]: layout for layout in deck.layouts(deck.from_json(mirrored(made)))}
    for layout in deck.layouts(deck.from_json(made)):
        if any(hole.off_pitch.mm for hole in layout.holes):
            continue  # of two places that are equally near, the left one is taken
        other = across[row_of(layout)]
        assert measured(layout) == measured(other)
        from_left = sorted(safe_zones(layout), key=lambda zone: zone.hole.x)
        from_right = sorted(safe_zones(other), key=lambda zone: -zone.hole.x)
        for zone, twin in zip(from_left, from_right, strict=True):
            assert abs(float((zone.circle - twin.circle).mm)) < 0.0015
            turned = MultiPoint([(width - x, y) for x, y in twin.outline]).convex_hull
            assert shape(zone).symmetric_difference(turned).area < 0.01


@settings(max_examples=8, deadline=None)
@given(old_tops())
def test_the_mirrored_old_top_has_the_mirrored_checks(made: Json) -> None:
    one, other = (sorted(measured(layout) for layout in deck.layouts(deck.from_json(each)))
                  for each in (made, mirrored(made)))
    assert one == other


def row_of(layout: DeckLayout) -> tuple[str, ...]:
    return (str(layout.faucet_holes), *(hole.name for hole in layout.row), str(layout.faucet_holes))


def measured(layout: DeckLayout) -> list[tuple[str, float, float]]:
    return sorted((check.what.key, round(check.measured, 4), round(check.required, 4)) for check in layout.checks)


@pytest.mark.parametrize("faucet_holes", [1, 3])
def test_there_is_something_to_compare(faucet_holes: int) -> None:
    """Random tops pass, with one hole and with three, and accessories beside them."""
    def tells(made: Json) -> bool:
        return any(layout.faucet_holes == faucet_holes and layout.own for layout in some(made))

    assert find(tops(), tells, settings=settings(phases=[Phase.generate], max_examples=300))
