"""One way to hang mirror and lamps, in numbers: where, and what each one sees."""

from abc import abstractmethod
from dataclasses import dataclass

from portal.layouts.check import Check
from portal.layouts.keys import joined
from portal.layouts.layout import Layout
from portal.layouts.length import Length
from portal.layouts.vanity.dimensions import KIND, Vanity
from portal.layouts.vanity.mending import Change
from portal.layouts.vanity.placing import Hang, Light
from portal.layouts.vanity.sight import Person


@dataclass(frozen=True)
class Heights(Layout):
    """`bottom` and `top`: of the glass. `lamp`: the middle of the lamps, None without any."""

    vanity: Vanity
    hang: Hang
    light: Light
    bottom: Length
    top: Length
    lamp: Length | None
    checks: tuple[Check, ...]

    @property
    def key(self) -> str:
        """Name it by its rules, such as `vanity:middle:beside`."""
        return joined(KIND, self.hang, self.light)

    @property
    def frame_bottom(self) -> Length:
        """Give the lower edge of the mirror, frame included."""
        return self.bottom - self.vanity.mirror.frame

    @property
    def frame_top(self) -> Length:
        """Give its upper edge, frame included."""
        return self.top + self.vanity.mirror.frame

    @property
    def lamp_side(self) -> Length | None:
        """Give how far the middle of a lamp beside the mirror is from the mirror's middle; None where it is not known,
        and for lamps above."""
        lights = self.vanity.lights
        return beside(self.vanity) if lights and self.light is Light.BESIDE else None

    @property
    def not_at_eyes(self) -> tuple[Person, ...]:
        """Give those whose eyes are below or above the lamps beside the mirror; nobody for lamps above it."""
        lights = self.vanity.lights
        if lights is None or self.lamp is None or self.light is not Light.BESIDE:
            return ()
        low, high = self.lamp - lights.height / 2, self.lamp + lights.height / 2
        return tuple(person for person in self.vanity.people if not low <= person.eyes <= high)

    @property
    def behind_sash(self) -> bool:
        """Say whether mirror or lamps reach as high as the sash, so that it may strike them or hang behind them."""
        sash, lights = self.vanity.sash, self.vanity.lights
        tops = [self.frame_top, *([self.lamp + lights.height / 2] if self.lamp and lights else [])]
        return sash is not None and max(tops) > sash.edge

    @property
    @abstractmethod
    def changes(self) -> tuple[Change, ...]:
        """Give what would mend it, all at once; empty where nothing is known to."""


def beside(vanity: Vanity) -> Length | None:
    """Give how far the middle of a lamp beside the mirror is from the mirror's; None where a width is missing."""
    mirror, lights = vanity.mirror, vanity.lights
    if lights is None or mirror.width is None or lights.width is None:
        return None
    return mirror.width / 2 + mirror.frame + lights.off_mirror + lights.width / 2
