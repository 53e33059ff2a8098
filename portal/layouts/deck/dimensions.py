"""The dimensions of a deck: the part of a top behind and beside a sink, with what stands on it and hangs below it.

x runs from the left end of the top to the right, y from its front edge to its back, as a person at the sink sees it.
"""

from dataclasses import dataclass
from functools import cached_property

from portal.layouts.content_tables.materials import Material
from portal.layouts.keys import short_names
from portal.layouts.length import Length, Unit

KIND = "deck"
ENDS = ("left end", "right end")
EDGES = ("front edge", "back edge")
SIDES = ("left", "right", "either")
USES = ("soap", "spray", "filtered_water", "hot_water", "air_gap", "air_switch", "other")


@dataclass(frozen=True)
class Area:
    """An upright rectangle, its corners rounded by `corner`: a cut-out, a bowl, a clip, a rail."""

    name: str
    left: Length
    front: Length
    width: Length
    depth: Length
    corner: Length = Length.of_mm(0)

    @property
    def center(self) -> tuple[Length, Length]:
        """Give its middle, x and y."""
        return self.left + self.width / 2, self.front + self.depth / 2

    @cached_property
    def floats(self) -> tuple[float, float, float, float, float]:
        """Give center x and y, half width and half depth, corner radius, in mm."""
        x, y = self.center
        return float(x.mm), float(y.mm), float(self.width.mm) / 2, float(self.depth.mm) / 2, float(self.corner.mm)


@dataclass(frozen=True)
class Top:
    """`splash`: thickness of what stands on the back of the top, a splash or the finish of the wall; perhaps zero."""

    width: Length
    depth: Length
    thickness: Length
    splash: Length

    @property
    def back_face(self) -> Length:
        """Give the face behind the faucet, from the front edge."""
        return self.depth - self.splash


@dataclass(frozen=True)
class Cabinet:
    """The inner faces of the sides of the cabinet below, both from the left end of the top."""

    left: Length
    right: Length


@dataclass(frozen=True)
class Plate:
    """A plate under a faucet, centerd on it, that covers holes beside its own."""

    length: Length
    width: Length


@dataclass(frozen=True)
class Faucet:
    """From its maker's sheet. `holes`: the numbers of holes that it can take, of 1 and 3. `swing`: the room of its
    lever or spout; `lever_swing`: of each lever that stands apart, where it takes three holes."""

    name: str
    holes: tuple[int, ...]
    hole: Length
    base: Length
    thickest_top: Length
    outer_to_outer: Length | None
    outer_least: Length | None
    outer_most: Length | None
    plate: Plate | None
    swing: Length | None
    clearance_behind: Length | None
    reach: Length | None
    lever_swing: Length | None = None


@dataclass(frozen=True)
class Lifetime:
    """How long something lasts, in words such as `about a year`, and who says so."""

    lasts: str
    source: str


@dataclass(frozen=True, eq=False)
class Accessory:
    """Something that may get a hole of its own. `shares`: what serves instead; `may_omit`: it may be left out.
    `lifetime`: as given, else as usual for its use; None where nobody says."""

    name: str
    use: str
    hole: Length
    flange: Length
    reach: Length | None
    thickest_top: Length | None
    shares: str | None
    may_omit: bool
    side: str
    lifetime: Lifetime | None = None


@dataclass(frozen=True)
class Minimums:
    """Least distances, from the maker's sheet or the fabricator; `source` says which. Those of holes are measured from
    their edge. `into_bowl`: how far inside the edge of the bowl the water must land. `cutout_radius`: of its corners.
    `slop`: what bit and tape may be off, taken off what a hole may drift. None where nobody says. `given`: whether
    anybody gave any; where nothing is drilled, none is needed."""

    between_holes: Length
    to_cutout: Length
    to_back: Length
    to_edge: Length
    to_cabinet_side: Length | None
    to_underneath: Length | None
    source: str
    cutout_to_front: Length | None = None
    cutout_to_back: Length | None = None
    cutout_radius: Length | None = None
    into_bowl: Length | None = None
    slop: Length | None = None
    given: bool = True
    cutout_to_ends: Length | None = None


@dataclass(frozen=True, eq=False)
class ExistingHole:
    """A hole that is in the top already, by its center from the left end and the front edge. Equal only to itself."""

    name: str
    x: Length
    y: Length
    diameter: Length


@dataclass(frozen=True)
class Deck:
    """All that is known of a deck. `row` (from the front edge) and `pitch` are found when they are not given.
    `rank_by_lifetime`: whether a hole that outlives what stands in it ranks lower. `cap`: the width of a cap on a hole
    that is there and stays open; None where nobody says. `material`: of the top; None where nobody says. `window`: both
    its sides from the left end, only for the picture; nothing is computed from it."""

    top: Top
    cutout: Area
    bowls: tuple[Area, ...]
    cabinet: Cabinet | None
    underneath: tuple[Area, ...]
    faucet: Faucet
    accessories: tuple[Accessory, ...]
    minimums: Minimums
    existing: tuple[ExistingHole, ...]
    center_line: Length
    row: Length | None
    pitch: Length | None
    measured_end: str
    measured_edge: str
    rank_by_lifetime: bool = True
    cap: Length | None = None
    material: Material | None = None
    window: tuple[Length, Length] | None = None

    def bowl_at(self, x: Length) -> Area:
        """Give the bowl in front of a place along the top, else the one whose middle is nearest."""
        ahead = (bowl for bowl in self.bowls if bowl.left <= x <= bowl.left + bowl.width)
        return next(ahead, min(self.bowls, key=lambda bowl: abs(bowl.center[0] - x)))

    @property
    def unit(self) -> Unit:
        """Give the unit in which checks are told: that of the width of the top."""
        return self.top.width.unit

    @cached_property
    def short_names(self) -> dict[str, str]:
        """Give the names of accessories as they stand in a key; `faucet` is kept for the faucet, whatever it is
        called."""
        return short_names((item.name for item in self.accessories), taken=["faucet"])

    @cached_property
    def short_sites(self) -> dict[str, str]:
        """Give the holes that are there already by their names as they stand in a key."""
        return short_names(hole.name for hole in self.existing)

    def ranks_lower(self, item: Accessory) -> bool:
        """Say whether a new hole for it ranks lower for how soon it is worn out: a soap dispenser's, unless lifetimes
        are not to rank."""
        return self.rank_by_lifetime and item.use == "soap" and item.lifetime is not None

    @property
    def step(self) -> Length:
        """Give what found positions are rounded to: 1/16 in or 1 mm, as one marks them on a top (common practice)."""
        return Length.of_inches("1/16") if self.unit.is_inch else Length.of_mm(1)
