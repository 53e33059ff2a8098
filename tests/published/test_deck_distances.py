"""Every distance on random decks, new and drilled, against shapely's polygons (an independent oracle)."""

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, box
from shapely.geometry.base import BaseGeometry

from portal.layouts import deck
from portal.layouts.deck.dimensions import Area, Deck
from portal.layouts.deck.holes import Hole, Placed
from portal.layouts.deck.layout import DeckLayout
from tests.layouts.decks import deck_json, four_hole_json

NEAR = 1e-5


def sixteenths(least: int, most: int) -> st.SearchStrategy[str]:
    """Lengths in inches, whole sixteenths."""
    return st.integers(least * 16, most * 16).map(lambda n: f"{n // 16}-{n % 16}/16 in")


@st.composite
def new_decks(draw: st.DrawFn) -> Deck:
    return deck.from_json(deck_json(
        cutout={"from_left": draw(sixteenths(8, 20)), "from_front": draw(sixteenths(2, 4)),
                "width": draw(sixteenths(12, 32)), "depth": draw(sixteenths(10, 18)),
                "corner_radius": draw(sixteenths(0, 4))},
        underneath=[{"name": "rail", "from_left": draw(sixteenths(5, 50)), "from_front": draw(sixteenths(10, 23)),
                     "width": draw(sixteenths(1, 9)), "depth": draw(sixteenths(1, 2))},
                    {"name": "vent", "from_left": draw(sixteenths(5, 50)), "from_front": draw(sixteenths(10, 23)),
                     "diameter": draw(sixteenths(1, 3))}],
        place={"center_line": draw(sixteenths(20, 40)), "row_from_front": draw(sixteenths(17, 25)),
               "pitch": draw(sixteenths(1, 5))},
        minimums__into_bowl=draw(sixteenths(0, 2)), faucet__lever_swing=draw(sixteenths(1, 4)),
        minimums__cutout_to_ends=draw(sixteenths(1, 20)),
        minimums__cutout_to_front=draw(sixteenths(1, 4)), minimums__cutout_to_back=draw(sixteenths(1, 8)),
    ))


@st.composite
def drilled_decks(draw: st.DrawFn) -> Deck:
    # In slots of 2-1/2 in, up to 1/2 in to the right: no two of 2 in overlap.
    slots = draw(st.lists(st.integers(4, 19), min_size=3, max_size=5, unique=True))
    rights = [slot * 40 + draw(st.integers(0, 8)) for slot in slots]
    holes = [{"from_left": f"{right // 16}-{right % 16}/16 in", "from_front": draw(sixteenths(20, 24)),
              "diameter": draw(sixteenths(1, 2))} for right in rights]
    return deck.from_json(four_hole_json(existing_holes=holes, faucet__plate__length=draw(sixteenths(6, 11)),
                                         cap={"width": draw(sixteenths(1, 3))}))


class Oracle:
    """The deck as shapely sees it. Circles stay points: a distance from a circle is one from its center, less r."""

    def __init__(self, layout: DeckLayout) -> None:
        self.deck = layout.deck
        self.holes = {hole.name: hole for hole in layout.holes}
        self.sites = {hole.site: hole for hole in layout.holes}
        self.width, self.depth = float(self.deck.top.width.mm), float(self.deck.top.depth.mm)
        self.plate = layout.plate and rectangle(layout.plate)

    def distance(self, name: str, about: str) -> float | None:
        if name in ("hole to hole", "flange to flange"):
            one, other = (self.holes[part] for part in about.split(" and "))
            return point(one).distance(point(other)) - span(one, name) - span(other, name)
        if name == "room to swing":
            return min(point(self.turning(about)).distance(point(hole)) - span(hole, "flange")
                       for hole in self.standing(about))
        if name.startswith("cut-out "):
            return self.cutout(name)
        if name == "room for the lever":
            lever, still = about.split(" beside ")
            return min(point(self.holes[lever]).distance(point(hole)) - span(hole, "flange")
                       for each, hole in self.holes.items() if still in (each, each.split(",")[0]))
        if name.endswith(", there already"):
            return self.there(name.removesuffix(", there already"), about)
        if name.startswith("cap "):
            return self.cap(name, about)
        if name in ("flange to plate", "plate to hole"):
            hole = self.sites[about.removeprefix("plate and ")] if name == "plate to hole" else self.holes[about[:-10]]
            return signed(point(hole), self.plate) - span(hole, name.removeprefix("plate to "))
        if name == "plate to cut-out" and self.plate:
            cutout = self.deck.cutout
            apart = self.plate.distance(box(*(float(part.mm) for part in (
                cutout.left, cutout.front, cutout.left + cutout.width, cutout.front + cutout.depth))))
            return apart or None
        return self.single(name, self.holes[about]) if about in self.holes else None

    def cutout(self, name: str) -> float:
        cutout, cabinet = self.deck.cutout, self.deck.cabinet
        cut = box(*(float(part.mm) for part in (
            cutout.left, cutout.front, cutout.left + cutout.width, cutout.front + cutout.depth)))
        if name == "cut-out inside the cabinet":
            assert cabinet
            sides = box(float(cabinet.left.mm), -1e5, float(cabinet.right.mm), 1e5)
            return sides.exterior.distance(cut) if sides.contains(cut) else -cut.hausdorff_distance(sides & cut)
        if "ends" in name:
            return min(cut.distance(LineString([(x, -1e5), (x, 1e5)])) for x in (0.0, self.width))
        y = 0.0 if "front" in name else self.depth
        return cut.distance(LineString([(-1e5, y), (1e5, y)]))

    def there(self, name: str, about: str) -> float | None:
        if name == "hole to hole":
            one, other = (self.sites[part] for part in about.split(" and "))
            return point(one).distance(point(other)) - span(one, name) - span(other, name)
        return self.single(name, self.sites[about])

    def cap(self, name: str, about: str) -> float | None:
        width = float(self.deck.cap.mm) if self.deck.cap else 0.0
        if name == "cap to cap":
            one, other = (self.sites[part] for part in about.split(" and "))
            return point(one).distance(point(other)) - width
        over, *beside = about.removeprefix("cap over ").split(" and ")
        center = point(self.sites[over])
        if name == "cap covers hole":
            return width
        if name == "cap to flange":
            return center.distance(point(self.holes[beside[0]])) - width / 2 - span(self.holes[beside[0]], "flange")
        if name == "cap to plate":
            return signed(center, self.plate) - width / 2
        if name == "cap to cut-out":
            return rounded(center, self.deck.cutout) - width / 2
        if name == "cap to the other edges":
            return -signed(center, box(0, 0, self.width, 10 * self.depth)) - width / 2
        return self.to_face(center) - width / 2

    def to_face(self, center: Point) -> float:
        return signed(center, box(-1e5, float(self.deck.top.back_face.mm), 1e5, 1e5))

    def to_line(self, name: str, about: str) -> float:
        """From the spout to the line where the water lands at the nearest or the furthest, less the margin."""
        bowl, margin = self.deck.cutout, self.deck.minimums.into_bowl
        assert margin is not None
        y = bowl.front + bowl.depth - margin if "near" in name else bowl.front + margin
        ends = [(float(x.mm), float(y.mm)) for x in (bowl.left + margin, bowl.left + bowl.width - margin)]
        return point(self.middle(about)).distance(LineString(ends))

    def middle(self, about: str) -> Hole:
        return self.holes.get(about) or self.holes[f"{about}, middle"]

    def single(self, name: str, hole: Hole) -> float | None:
        center, sheet = point(hole), box(0, 0, self.width, self.depth)
        if name == "hole to back edge":
            return self.depth - center.y - span(hole, name)
        if name in ("hole to the other edges", "flange to the other edges"):
            return -signed(center, box(0, 0, self.width, 10 * self.depth)) - span(hole, name)
        if name == "hole to cabinet side":
            cabinet = self.deck.cabinet
            assert cabinet
            inside = box(float(cabinet.left.mm), -1e5, float(cabinet.right.mm), 1e5)
            return -signed(center, inside) - span(hole, name)
        if name == "flange to splash or wall":
            return self.to_face(center) - span(hole, name)
        if name == "clearance behind":
            return self.to_face(center)
        for area in (self.deck.cutout, *self.deck.underneath):
            if name.endswith(f" to {area.name.removeprefix('the ')}"):
                assert sheet.area > 0
                return rounded(center, area) - span(hole, name)
        return None

    def turning(self, about: str) -> Hole:
        names = [name for name in self.holes if about.startswith(name.split(",")[0] + " beside")]
        return self.holes[names[len(names) // 2]]

    def standing(self, about: str) -> list[Hole]:
        still = about.split(" beside ")[1]
        return [hole for name, hole in self.holes.items() if name.split(",")[0] == still]


def point(hole: Hole) -> Point:
    return Point(float(hole.x.mm), float(hole.y.mm))


def span(hole: Hole, name: str) -> float:
    return float((hole.flange if name.startswith("flange") and hole.flange else hole.diameter).mm) / 2


def rectangle(placed: Placed) -> BaseGeometry:
    x, y = float(placed.x.mm), float(placed.y.mm)
    width, depth = float(placed.plate.length.mm), float(placed.plate.width.mm)
    return box(x - width / 2, y - depth / 2, x + width / 2, y + depth / 2)


def signed(center: Point, shape: BaseGeometry) -> float:
    """To the outline, negative inside."""
    return -shape.exterior.distance(center) if shape.contains(center) else shape.distance(center)


def rounded(center: Point, area: Area) -> float:
    """To a rectangle with rounded corners: the rectangle without its corners' width, grown back by it."""
    corner = float(area.corner.mm)
    x, y = (float(part.mm) for part in area.center)
    half_width, half_depth = float(area.width.mm) / 2 - corner, float(area.depth.mm) / 2 - corner
    core = box(x - half_width, y - half_depth, x + half_width, y + half_depth)
    if core.area:
        return signed(center, core) - corner
    return core.centroid.distance(center) - corner


def compare(layouts: list[DeckLayout]) -> set[str]:
    """Compares every distance that is one, and tells which kinds were seen."""
    seen = set()
    for layout in layouts:
        oracle = Oracle(layout)
        for check in layout.checks:
            if check.name == "reach to the bowl":
                away = rounded(point(oracle.middle(check.about)), layout.deck.cutout)
                assert abs(check.required - max(away, 0)) < NEAR
                seen.add(check.name)
            if check.name.startswith("water to the "):
                assert abs(check.required - oracle.to_line(check.name, check.about)) < NEAR
                seen.add(check.name)
            expected = oracle.distance(check.name, check.about)
            if expected is not None:
                assert abs(check.measured - expected) < NEAR, (check.sentence, check.measured, expected)
                assert check.ok == (round(expected - check.required, 5) >= 0)
                seen.add(check.name)
    return seen


@settings(max_examples=25, deadline=None)
@given(new_decks())
def test_a_new_deck_measures_as_shapely_does(found: Deck) -> None:
    layouts = deck.layouts(found)
    some = layouts[:4] + layouts[-4:]
    levers = {"room for the lever"} if any(layout.faucet_holes == 3 for layout in some) else set()
    assert compare(some) == {
        "hole to hole", "flange to flange", "room to swing", "hole to back edge", "hole to the other edges",
        "hole to cabinet side", "flange to splash or wall", "hole to cut-out", "flange to cut-out", "hole to rail",
        "hole to vent", "reach to the bowl", "water to the near edge of the bowl", "water to the far edge of the bowl",
        "clearance behind", "cut-out inside the cabinet", "cut-out to front edge", "cut-out to back edge",
        "cut-out to the ends of the top", "flange to the other edges"} | levers


@settings(max_examples=25, deadline=None)
@given(drilled_decks())
def test_a_drilled_deck_measures_as_shapely_does(found: Deck) -> None:
    layouts = deck.layouts(found)
    assert {"hole to hole, there already", "hole to cut-out, there already", "hole to back edge, there already",
            "hole to the other edges, there already", "hole to cabinet side, there already",
            "hole to clip, there already"} <= compare(layouts[:6] + layouts[-6:])


def test_caps_measure_as_shapely_does() -> None:
    found = deck.from_json(four_hole_json(faucet__holes="1", accessories=None, cap={"width": "2-3/16 in"}))
    assert {"cap covers hole", "cap to cap", "cap to flange", "cap to plate", "cap to cut-out",
            "cap to splash or wall", "cap to the other edges"} <= compare(deck.layouts(found))


def test_a_plate_measures_as_shapely_does() -> None:
    found = deck.from_json(four_hole_json(faucet__holes="1"))
    plated = [layout for layout in deck.layouts(found) if layout.plate]
    assert {"flange to plate", "plate to cut-out"} <= compare(plated)


def test_the_strip_with_three_holes() -> None:
    """Computed once with shapely's `distance`: a 33 x 4 in strip, holes of 1-3/8 in at x 12.5, 16.5, 20.5 and y 2 in:
    2.625 in of stone between holes, 1.3125 in from each to the nearest edge."""
    strip = deck.from_json({
        "top": {"width": "33 in", "depth": "4 in", "thickness": "30 mm"},
        "cutout": {"from_left": "1 in", "from_front": "0 in", "width": "2 in", "depth": "1/2 in"},
        "faucet": {"holes": "3", "hole": "1-3/8 in", "base": "2 in", "outer_to_outer": "8 in",
                   "thickest_top": "2 in"},
        "minimums": {"between_holes": "2-5/8 in", "to_cutout": "1 in", "to_back": "1-5/16 in", "to_edge": "1-5/16 in",
                     "source": "an invented sheet"},
        "place": {"center_line": "16-1/2 in", "row_from_front": "2 in"},
    })
    (layout,) = deck.layouts(strip)
    webs = sorted(check.measured for check in layout.checks if check.name == "hole to hole")
    assert webs == [66.675, 66.675, 168.275], "2-5/8 in twice, and 6-5/8 in"
    names = ("hole to back edge", "hole to the other edges")
    edges = {check.measured for check in layout.checks if check.name in names}
    assert edges == {33.3375}, "1-5/16 in"
    assert layout.ok, "exact ties pass"
