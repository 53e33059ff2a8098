"""A vanity with what hangs over it, and who uses it. Heights are above the finished floor unless they say otherwise."""

from dataclasses import dataclass

from portal.layouts.length import Length
from portal.layouts.vanity.sight import Person

KIND = "vanity"
MOST_PEOPLE = 8
ON_WALL, HANGS = "fixed to the wall", "hangs from a cord, chain, cable or track"
HELD = (ON_WALL, HANGS)
"""How a lamp is held. What hangs has a zone of its own about a tub (NEC 410.10(D))."""


@dataclass(frozen=True)
class Mirror:
    """Its glass: `height` None where it is still to be chosen, `width` None where it was not given. `frame`: what
    stands around the glass on each side."""

    height: Length | None
    width: Length | None
    frame: Length


@dataclass(frozen=True)
class Lights:
    """So many lamps alike. `off_mirror`: the least from the mirror, frame or open door included, to a lamp."""

    number: int
    height: Length
    width: Length | None
    off_mirror: Length
    held: str

    @property
    def hang(self) -> bool:
        """Say whether they hang, and keep out of the zone about a tub."""
        return self.held == HANGS


@dataclass(frozen=True)
class Sash:
    """The lower edge of a window's sash that swings in over the counter, and the least from it to the tap."""

    edge: Length
    to_tap: Length


@dataclass(frozen=True)
class Tub:
    """A tub near the vanity: the height of its rim, and how far the nearest lamp is from it, across."""

    rim: Length
    off: Length


@dataclass(frozen=True)
class Knees:
    """Room below: clear height under the front, and how deep it is at 27 in and at 9 in above the floor."""

    height: Length
    depth_high: Length
    depth_low: Length


@dataclass(frozen=True)
class Vanity:
    """`splash` and `tap`: how far each rises above the counter, the tap with its lever raised. `above_splash` and
    `above_tap`: the least from each to the mirror; the mirror may go on behind the tap where the latter is None.
    `ceiling` and `wall`: None where they were not given. `seated`: somebody uses it seated."""

    counter: Length
    splash: Length
    tap: Length
    ceiling: Length | None
    wall: Length | None
    seated: bool
    people: tuple[Person, ...]
    mirror: Mirror
    lights: Lights | None
    sash: Sash | None
    tub: Tub | None
    knees: Knees | None
    above_splash: Length
    above_tap: Length | None
    source: str

    @property
    def splash_top(self) -> Length:
        """Give the upper edge of the splash."""
        return self.counter + self.splash

    @property
    def tap_top(self) -> Length:
        """Give the highest point of the tap."""
        return self.counter + self.tap

    @property
    def lowest(self) -> Length:
        """Give how low the glass may begin: above splash and tap by what is asked, and above its own frame."""
        limits = [self.splash_top + self.above_splash]
        limits += [self.tap_top + self.above_tap] if self.above_tap is not None else []
        return max(limits) + self.mirror.frame

    @property
    def top_needed(self) -> Length:
        """Give how high the glass must reach so that all see their crowns."""
        return max(person.top_needed for person in self.people)

    @property
    def bottom_needed(self) -> Length:
        """Give how low it must reach so that all see what they ask for."""
        return min(person.bottom_needed for person in self.people)

    @property
    def eyes(self) -> tuple[Length, Length]:
        """Give the lowest and the highest eyes."""
        every = [person.eyes for person in self.people]
        return min(every), max(every)

    @property
    def band(self) -> tuple[Length, Length] | None:
        """Give from where to where the lower edge of the glass may be so that it serves all; None where it can't."""
        height = self.mirror.height
        least = max(self.lowest, self.top_needed - height) if height else self.lowest
        return (least, self.bottom_needed) if least <= self.bottom_needed else None
