"""A bank of drawer and door fronts, and the pull that goes on them."""

from dataclasses import dataclass

from portal.layouts.length import Length

KIND = "pulls"
MOST_FRONTS = 24
MOST_CORNERS = 8
TYPES = ("drawer", "door hinged left", "door hinged right")
ENDS = ("top", "bottom")


@dataclass(frozen=True)
class Front:
    """`left` and `bottom`: where it hangs in the bank, from its left end and the floor. `rail`: width of its frame,
    None on a flat front. `pull_end`: where a door is opened; at the top of a base cabinet, the bottom of a wall one."""

    name: str
    type: str
    width: Length
    height: Length
    left: Length
    bottom: Length
    rail: Length | None
    pull_end: str

    @property
    def is_drawer(self) -> bool:
        """Say whether it is a drawer; everything else is a door."""
        return self.type == "drawer"

    @property
    def top(self) -> Length:
        """Give its upper edge, from the floor."""
        return self.bottom + self.height


@dataclass(frozen=True)
class Pull:
    """From its maker's sheet. `centers`: from hole to hole, None for a knob with one. `inch_sheet`: the sheet itself
    gives inches, so that an inch size near a metric one is meant. `drill`: diameter of its holes, None if not given."""

    name: str
    centers: Length | None
    length: Length
    projection: Length
    inch_sheet: bool
    drill: Length | None = None


@dataclass(frozen=True)
class Corner:
    """Two fronts beside an inside corner; each gap is from the other run's faces to the near edge of the front."""

    one: str
    other: str
    one_gap: Length
    other_gap: Length


@dataclass(frozen=True)
class Bank:
    """`from_top`: how far below its top edge a drawer's pull sits, None where nobody wants that. `door_side` and
    `door_end`: where a door's nearest hole sits, from the side that opens and from `pull_end`. `two_over`: drawers
    wider than this get two pulls, None for never. `to_edge`: least from the middle of a hole to the edge of a front."""

    fronts: tuple[Front, ...]
    pull: Pull
    from_top: Length | None
    door_side: Length | None
    door_end: Length | None
    two_over: Length | None
    to_edge: Length
    source: str
    corners: tuple[Corner, ...]
