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

    @property
    def right(self) -> Length:
        """Give its right edge, from the left end of the bank."""
        return self.left + self.width

    def beside(self, other: "Front") -> bool:
        """Say whether one level line can run through both."""
        return self.bottom < other.top and other.bottom < self.top

    def over(self, other: "Front") -> bool:
        """Say whether they lie over each other; edges may meet."""
        return self.beside(other) and self.left < other.right and other.left < self.right


@dataclass(frozen=True)
class Pull:
    """From its maker's sheet. `centers`: from hole to hole, None for a knob with one. `inch_sheet`: the sheet itself
    gives inches, so that an inch size near a metric one is meant. `drill`: diameter of its holes, `base`: diameter of
    the foot that stands on each; None if not given."""

    name: str
    centers: Length | None
    length: Length
    projection: Length
    inch_sheet: bool
    drill: Length | None = None
    base: Length | None = None

    @property
    def can_be(self) -> bool:
        """Say whether its sizes go together: no foot and no hole is wider than the pull or than its holes are apart."""
        widths = [wide for wide in (self.drill, self.base) if wide]
        return self.length >= (self.centers or self.length) and all(
            wide <= self.length and (self.centers is None or wide < self.centers) for wide in widths)

    @property
    def covers(self) -> Length:
        """Give how wide a hole it can cover: its foot, or at most what its length leaves beside its holes."""
        return self.base or (self.length - self.centers if self.centers else self.length)

    @property
    def thickness(self) -> Length | None:
        """Give what it takes across its length: its foot, for a knob its whole width; None if not given."""
        return self.base or (None if self.centers else self.length)


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
