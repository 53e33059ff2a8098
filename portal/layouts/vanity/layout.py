"""The ways to hang mirror and lamps over a vanity, checked and ranked."""

from typing import Any, ClassVar

from portal.layouts.layout import Mark, Words
from portal.layouts.length import Length
from portal.layouts.vanity import words
from portal.layouts.vanity.checks import all_checks
from portal.layouts.vanity.dimensions import Vanity
from portal.layouts.vanity.heights import Heights
from portal.layouts.vanity.mending import MOST, Change, mended
from portal.layouts.vanity.placing import Hang, Light, hung, lamp_middle, ways_to_light

_LIGHTS = list(Light)
_HANGS = list(Hang)


class VanityLayout(Heights):
    """A way to hang mirror and lamps, in the words of `vanity.words`."""

    words: ClassVar[Words] = words

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Give the edges of the glass and the middle of the lamps, from the floor; lamps beside it also from the middle
        of the mirror."""
        heights = [(words.GLASS_BOTTOM, self.bottom), (words.GLASS_TOP, self.top)]
        heights += [(words.LAMP_MIDDLE, self.lamp)] if self.lamp else []
        found = [Mark(name, words.FLOOR, at) for name, at in heights]
        if self.lamp_side:
            found.append(Mark(words.LAMP_MIDDLE, words.MIRROR_MIDDLE, self.lamp_side))
        return tuple(found)

    @property
    def changes(self) -> tuple[Change, ...]:
        """Give what would mend it, tried: laid out again with all of it, it passes."""
        lower = _lowered(self)
        if lower:
            return (Change("mirror.bottom", MOST, lower.bottom),)
        vanity, found = mended(self.vanity, self.light)
        return found if found and any(one.key == self.key and one.ok for one in layouts(vanity)) else ()

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it. `sees`: what each one sees of themselves; `band`: from where to where the
        lower edge of the glass serves all, null where none does."""
        band = self.vanity.band
        return super().to_json() | {
            "mirror": {"bottom": self.bottom.to_json(), "top": self.top.to_json()},
            "lights": {"where": self.light.value, "middle": self.lamp.to_json()} if self.lamp else None,
            "sees": [{"name": one.name, "from": _from_floor(one.sees(self.bottom)), "to": one.sees(self.top).to_json()}
                     for one in self.vanity.people],
            "band": [limit.to_json() for limit in band] if band else None,
        }


def layouts(vanity: Vanity) -> list[VanityLayout]:
    """Find the ways, best first: what keeps its rules, then what follows the most advices, then lamps beside the
    mirror, then what leaves the most to spare for those who see least. Whose eyes a lamp beside the mirror is off does
    not count: one above it is off the eyes of all."""
    found = [_layout(vanity, hang, glass, light) for glass, hang in hung(vanity).items()
             for light in ways_to_light(vanity.lights)]
    return sorted(found, key=_rank)


def _rank(layout: VanityLayout) -> tuple[int, int, int, float, int]:
    spare = min(check.margin for check in layout.checks if check.what in words.SIGHTS)
    noted = sum(check.what is not words.EYE_HEIGHT for check in layout.noted)
    return (len(layout.failed), noted, _LIGHTS.index(layout.light), -spare, _HANGS.index(layout.hang))


def _layout(vanity: Vanity, hang: Hang, glass: tuple[Length, Length], light: Light) -> VanityLayout:
    bottom, top = glass
    lamp = lamp_middle(vanity, top, light)
    checks = all_checks(vanity, bottom, top, light, lamp)
    return VanityLayout(vanity, hang, light, bottom, top, lamp, checks)


def _lowered(layout: VanityLayout) -> VanityLayout | None:
    """Find the place below it where mirror and lamp fit under the ceiling; None where they do, or where none is."""
    vanity, height = layout.vanity, layout.vanity.mirror.height
    over = [-check.spare for check in layout.failed if check.what is words.UNDER_CEILING]
    if not over or not height:
        return None
    bottom = (layout.bottom - max(over)).rounded(up=False)
    lower = _layout(vanity, layout.hang, (bottom, bottom + height), layout.light)
    return lower if lower.ok else None


def _from_floor(at: Length) -> dict[str, Any]:
    """Nobody sees below the floor on which they stand."""
    return max(at, Length.of_mm(0, at.unit)).to_json()
