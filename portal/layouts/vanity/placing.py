"""Where mirror and lamps may go: each rule that gives a height, and the height that it gives."""

from enum import StrEnum

from portal.layouts.length import Length
from portal.layouts.vanity.dimensions import Lights, Vanity

ABOVE_LEAST, ABOVE_MOST = Length.of_inches(75), Length.of_inches(80)
"""Where the middle of a lamp above a mirror is advised to be (words.TRADE)."""


class Hang(StrEnum):
    """By what the mirror is hung. `LOW`: right above splash and tap. `MIDDLE`: in the middle of what all need. `CROWN`:
    as low as the highest crown allows. `DOWN`: as high as the lowest look allows. `LEAST`, of a mirror still to be
    chosen: no more glass than all need. `TALL`: from splash and tap up."""

    MIDDLE = "middle"
    CROWN = "crown"
    DOWN = "down"
    LOW = "low"
    LEAST = "least"
    TALL = "tall"


class Light(StrEnum):
    """Where the lamps are; `NONE` where none were given."""

    BESIDE = "beside"
    ABOVE = "above"
    NONE = ""


Glass = tuple[Length, Length]
"""Lower and upper edge."""


def hung(vanity: Vanity) -> dict[Glass, Hang]:
    """Find the places for the mirror, each with the first rule that gives it. They lie on marks of a rule, on the side
    that shows more."""
    height = vanity.mirror.height
    found = _given(vanity, height) if height else _free(vanity)
    return {glass: rule for rule, glass in reversed(found)}


def _given(vanity: Vanity, height: Length) -> list[tuple[Hang, Glass]]:
    """Right above the splash, always; and where a rule puts it, between there and the ceiling."""
    low, crown, down = vanity.lowest.rounded(up=True), vanity.top_needed - height, vanity.bottom_needed
    most = vanity.ceiling - vanity.mirror.frame - height if vanity.ceiling else None
    bottoms = [(Hang.MIDDLE, ((crown + down) / 2).rounded(up=False)), (Hang.CROWN, crown.rounded(up=True)),
               (Hang.DOWN, down.rounded(up=False))]
    within = [(rule, at) for rule, at in bottoms if at >= low and (most is None or at <= most)]
    return [(rule, (at, at + height)) for rule, at in [(Hang.LOW, low), *within]]


def _free(vanity: Vanity) -> list[tuple[Hang, Glass]]:
    low, top = vanity.lowest.rounded(up=True), vanity.top_needed.rounded(up=True)
    least = vanity.bottom_needed.rounded(up=False)
    return [(Hang.TALL, (low, top)), *([(Hang.LEAST, (least, top))] if low < least < top else [])]


def ways_to_light(lights: Lights | None) -> list[Light]:
    """Find where so many lamps can be: beside a mirror it takes two."""
    if lights is None:
        return [Light.NONE]
    return [Light.BESIDE, Light.ABOVE] if lights.number > 1 else [Light.ABOVE]


def lamp_middle(vanity: Vanity, top: Length, way: Light) -> Length | None:
    """Give the height of the middle of the lamps over a glass that ends at `top`: beside it at eye height, above it
    where it is advised, clear of the mirror, under the ceiling where that is possible. None without lamps."""
    lights = vanity.lights
    if lights is None or way is Light.NONE:
        return None
    half = lights.height / 2
    if way is Light.BESIDE:
        low, high = vanity.eyes
        least, middle = vanity.splash_top + half, ((low + high) / 2).rounded(up=False)
    else:
        least = top + vanity.mirror.frame + lights.off_mirror + half
        middle = max(least, ABOVE_LEAST)
    if vanity.ceiling:
        middle = min(middle, vanity.ceiling - half)
    return max(middle, least)
