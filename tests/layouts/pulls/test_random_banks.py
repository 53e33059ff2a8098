"""Random banks against Shapely: what the product passes holds as outlines in the bank, mirrored too, and what it stops
does not. Holes are placed here by other code, from the issue and the docstrings."""

from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LinearRing, Point, Polygon, box

from portal.layouts import pulls
from portal.layouts.length import DimensionError
from portal.layouts.pulls.layout import PullsLayout
from tests.layouts.pulls.test_bank import changed_by

Bank = dict[str, Any]
NEAR = 1e-6
WIDTH = 3000


@st.composite
def banks(draw: st.DrawFn) -> Bank:
    """Columns of one to three fronts, all in whole mm: numbers, until `as_json` writes them."""
    fronts, left = [], 0
    for column in range(draw(st.integers(1, 3))):
        width, bottom = draw(st.integers(120, 900)), draw(st.integers(0, 300))
        for row in range(draw(st.integers(1, 3))):
            height = draw(st.integers(60, 700))
            fronts.append({
                "name": f"front {column}.{row}", "type": draw(st.sampled_from(list(pulls.read.TYPES))), "width": width,
                "height": height, "from_left": left, "from_floor": bottom,
                "pull_end": draw(st.sampled_from(["top", "bottom"])), "rail": draw(st.none() | st.integers(20, 90)),
            })  # fmt: skip
            bottom += height + draw(st.integers(0, 20))
        left += width + draw(st.integers(0, 20))
    centers = draw(st.none() | st.sampled_from([64, 96, 128, 160, 320]))
    length = (centers or 20) + draw(st.integers(2, 60))
    return {
        "fronts": fronts, "centers": centers, "length": length, "projection": draw(st.integers(10, 50)),
        "drill": draw(st.none() | st.integers(3, 30)), "base": draw(st.none() | st.integers(5, 60)),
        "to_edge": draw(st.integers(1, 60)), "from_top": draw(st.none() | st.integers(5, 200)),
        "from_side": draw(st.integers(5, 150)), "from_end": draw(st.integers(5, 200)),
        "two_over": draw(st.none() | st.integers(200, 800)),
        "gaps": draw(st.none() | st.tuples(*[st.integers(0, 60)] * 2)),
    }  # fmt: skip


def as_json(bank: Bank) -> dict[str, Any]:
    def mm(value: int | None) -> str | None:
        return None if value is None else f"{value} mm"

    sizes = ("width", "height", "from_left", "from_floor", "rail")
    fronts = [{**front, **{name: mm(front[name]) for name in sizes}} for front in bank["fronts"]]
    corners = []
    if bank["gaps"] and len(fronts) > 1:
        one, other = bank["gaps"]
        corners = [{"one": fronts[0]["name"], "other": fronts[-1]["name"], "one_gap": mm(one), "other_gap": mm(other)}]
    pull = {name: mm(bank[name]) for name in ("centers", "length", "projection", "drill", "base")}
    return {
        "fronts": fronts, "pull": pull,
        "drawers": bank["from_top"] and {"from_top": mm(bank["from_top"])}, "two_over": mm(bank["two_over"]),
        "doors": {"from_side": mm(bank["from_side"]), "from_end": mm(bank["from_end"])},
        "minimums": {"to_edge": mm(bank["to_edge"]), "source": "x"}, "inside_corners": corners,
    }  # fmt: skip


def mirrored(bank: Bank) -> Bank:
    swap = {"door hinged left": "door hinged right", "door hinged right": "door hinged left", "drawer": "drawer"}
    return bank | {"fronts": [
        front | {"from_left": WIDTH - front["from_left"] - front["width"], "type": swap[front["type"]]}
        for front in bank["fronts"]]}


def spots(bank: Bank, front: Bank, height: str, share: str | None) -> list[tuple[float, float, bool]]:
    """Middles of the pulls of one front from its lower left corner, and whether they stand upright."""
    wide, high = front["width"], front["height"]
    if front["type"] == "drawer":
        down = {"middle": high / 2, "rail": (front["rail"] or 0) / 2, "top": bank["from_top"]}[height]
        parts = {"quarter": 4, "sixth": 6}
        two = share and wide > bank["two_over"]
        across = [wide / parts[share], wide - wide / parts[share]] if two and share else [wide / 2]
        return [(x, high - down, False) for x in across]
    x = bank["from_side"] if front["type"].endswith("right") else wide - bank["from_side"]
    off = bank["from_end"] + (bank["centers"] or 0) / 2
    return [(x, high - off if front["pull_end"] == "top" else off, True)]


def slack(bank: Bank, layout: PullsLayout) -> float:
    """The least of all that must not be negative, in mm, as Shapely measures it in the bank."""
    found = [float(bank["gaps"][n] - bank["projection"]) for n in (0, 1) if bank["gaps"] and len(bank["fronts"]) > 1]
    cover = bank["base"] or bank["length"] - (bank["centers"] or 0)
    found += [cover - bank["drill"]] if bank["drill"] else []
    for front in bank["fronts"]:
        left, low = front["from_left"], front["from_floor"]
        outline = box(left, low, left + front["width"], low + front["height"])
        shapes = []
        for x, y, upright in spots(bank, front, layout.height, layout.share):
            found += _of_one(bank, front, outline, left + x, low + y, upright)
            shapes.append(left + x)
        found += [b - a - bank["length"] for a, b in zip(shapes, shapes[1:], strict=False)]
    return min(found)


def _of_one(bank: Bank, front: Bank, outline: Polygon, x: float, y: float, upright: bool) -> list[float]:
    half = (bank["centers"] or 0) / 2
    holes = [Point(x, y + side * half) if upright else Point(x + side * half, y) for side in (-1, 1)]
    found = [_inside(outline, hole) - max(bank["to_edge"], (bank["drill"] or 0) / 2) for hole in holes]
    thick = bank["base"] or (0 if bank["centers"] else bank["length"])
    across, up = (thick / 2, bank["length"] / 2) if upright else (bank["length"] / 2, thick / 2)
    pull = box(x - across, y - up, x + across, y + up)
    found.append(min(_inside(outline, Point(corner)) for corner in pull.exterior.coords))
    if front["rail"] and bank["base"]:
        inner = LinearRing(outline.buffer(-front["rail"], join_style="mitre").exterior.coords)
        found += [inner.distance(hole) - bank["base"] / 2 for hole in holes]
    return found


def _inside(outline: Polygon, point: Point) -> float:
    """How deep within the outline; negative outside it."""
    deep = float(outline.exterior.distance(point))
    return deep if outline.covers(point) else -deep


def laid_out(bank: Bank) -> list[PullsLayout]:
    """The layouts; a bank that can't be is left to another test."""
    try:
        return pulls.layouts(pulls.from_json(as_json(bank)))
    except DimensionError:
        assume(False)
        raise


@settings(max_examples=40)
@given(banks())
def test_what_passes_holds_as_outlines_and_what_is_stopped_does_not_mirrored_too(bank: Bank) -> None:
    found = laid_out(bank)
    other = {layout.key: layout for layout in pulls.layouts(pulls.from_json(as_json(mirrored(bank))))}
    assert {layout.key for layout in found} == set(other)
    for layout in found:
        left = slack(bank, layout)
        assert left > -NEAR if layout.ok else left < NEAR, (layout.key, left, [each.sentence for each in layout.failed])
        seen = other[layout.key]
        assert layout.ok == seen.ok and sorted(c.margin for c in layout.checks) == sorted(c.margin for c in seen.checks)


@settings(max_examples=40)
@given(banks())
def test_what_is_said_to_mend_a_random_bank_mends_it(bank: Bank) -> None:
    for layout in laid_out(bank):
        assert bool(layout.mends) is not layout.ok
        if layout.changes:
            again = pulls.layouts(pulls.from_json(changed_by(layout, as_json(bank))))
            assert next(one for one in again if one.key == layout.key).ok


@settings(max_examples=60)
@given(st.tuples(*[st.integers(0, 40)] * 8))
def test_fronts_are_refused_exactly_where_they_share_an_area(sides: tuple[int, ...]) -> None:
    """Against Shapely, both ways round."""
    boxes = [(a, b, a + w + 1, b + h + 1) for a, b, w, h in (sides[:4], sides[4:])]
    fronts = [{"name": f"front {n}", "type": "drawer", "width": f"{x2 - x1} in", "height": f"{y2 - y1} in",
               "from_left": f"{x1} in", "from_floor": f"{y1} in"} for n, (x1, y1, x2, y2) in enumerate(boxes)]
    shared = box(*boxes[0]).intersection(box(*boxes[1])).area > 0
    for order in (fronts, fronts[::-1]):
        data = {"fronts": order, "pull": {"length": "1 in", "projection": "1 in"},
                "minimums": {"to_edge": "1/4 in", "source": "x"}}
        try:
            pulls.from_json(data)
            refused = False
        except DimensionError as error:
            refused = "front 0" in error.message and "front 1" in error.message
        assert refused == shared
