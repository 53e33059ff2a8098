"""What is checked of heights over a vanity: what each one sees, what must stay clear, and what is published."""

from collections.abc import Iterator

from portal.layouts.check import AT_LEAST, AT_MOST, GEOMETRY, Check, Measure, check
from portal.layouts.length import Length
from portal.layouts.vanity import words
from portal.layouts.vanity.dimensions import Lights, Tub, Vanity
from portal.layouts.vanity.heights import beside
from portal.layouts.vanity.mending import wall_taken
from portal.layouts.vanity.placing import ABOVE_LEAST, ABOVE_MOST, Light
from portal.layouts.vanity.sight import REFLECTION

NONE = Length.of_mm(0)
ZONE_ACROSS, ZONE_ABOVE = Length.of_inches(36), Length.of_inches(96)
"""Where no part of a lamp that hangs may be: so far from the rim of a tub across, and so far above it (words.ZONE)."""
COUNTER_LEAST, COUNTER_MOST = Length.of_inches(32), Length.of_inches(43)
SEATED_COUNTER, SEATED_MIRROR = Length.of_inches(34), Length.of_inches(40)
KNEE_HEIGHT, KNEE_DEEP, TOE_DEEP = Length.of_inches(27), Length.of_inches(8), Length.of_inches(11)
APART_LEAST, APART_MOST = Length.of_inches(28), Length.of_inches(60)


def all_checks(vanity: Vanity, bottom: Length, top: Length, light: Light, lamp: Length | None) -> tuple[Check, ...]:
    """Check a glass from `bottom` to `top` with the middle of its lamps at `lamp`."""
    found = [*_sight(vanity, bottom, top), *_clear(vanity, bottom, top), *_sash(vanity), *_counter(vanity, bottom)]
    if vanity.lights and lamp:
        found += _lamps(vanity, vanity.lights, top, light, lamp)
        found += _light_heights(vanity, vanity.lights, light, lamp)
    if vanity.tub and vanity.lights and vanity.lights.hang and lamp:
        found.append(_zone(vanity.tub, lamp - vanity.lights.height / 2))
    taken = wall_taken(vanity, light)
    if vanity.wall and taken:
        found.append(check(words.ON_WALL, words.ACROSS, taken, AT_MOST, vanity.wall, GEOMETRY))
    return tuple(found)


def _sight(vanity: Vanity, bottom: Length, top: Length) -> Iterator[Check]:
    for person in vanity.people:
        yield check(words.CROWN, person.name, top, AT_LEAST, person.top_needed, REFLECTION)
        yield check(words.EYES, person.name, bottom, AT_MOST, person.eyes, REFLECTION)
        if person.down_to is not None:
            yield check(words.DOWN_TO, person.name, bottom, AT_MOST, person.bottom_needed, REFLECTION)


def _clear(vanity: Vanity, bottom: Length, top: Length) -> Iterator[Check]:
    low, high = bottom - vanity.mirror.frame, top + vanity.mirror.frame
    yield check(words.ABOVE_SPLASH, words.MIRROR, low - vanity.splash_top, AT_LEAST, vanity.above_splash, vanity.source)
    if vanity.above_tap is not None:
        yield check(words.ABOVE_TAP, words.MIRROR, low - vanity.tap_top, AT_LEAST, vanity.above_tap, vanity.source)
    if vanity.ceiling:
        yield check(words.UNDER_CEILING, words.MIRROR, vanity.ceiling - high, AT_LEAST, NONE, GEOMETRY)


def _sash(vanity: Vanity) -> Iterator[Check]:
    if vanity.sash:
        room = vanity.sash.edge - vanity.tap_top
        yield check(words.SASH, words.OVER_TAP, room, AT_LEAST, vanity.sash.to_tap, vanity.source)


def _lamps(vanity: Vanity, lights: Lights, top: Length, light: Light, lamp: Length) -> Iterator[Check]:
    half = lights.height / 2
    if light is Light.ABOVE:
        room = lamp - half - top - vanity.mirror.frame
        yield check(words.TO_LIGHT, words.LAMP, room, AT_LEAST, lights.off_mirror, vanity.source)
    else:
        yield check(words.LAMP_ABOVE_SPLASH, words.LAMP, lamp - half - vanity.splash_top, AT_LEAST, NONE, GEOMETRY)
    if vanity.ceiling:
        yield check(words.UNDER_CEILING, words.LAMP, vanity.ceiling - lamp - half, AT_LEAST, NONE, GEOMETRY)


def _light_heights(vanity: Vanity, lights: Lights, light: Light, lamp: Length) -> Iterator[Check]:
    """Beside the mirror at eye height of each person, above it where trade pages say."""
    if light is Light.ABOVE:
        yield from _from_to(words.LAMP_HEIGHT, words.LAMP, lamp, (ABOVE_LEAST, ABOVE_MOST), words.TRADE)
        return
    for person in vanity.people:
        off = abs(lamp - person.eyes)
        yield check(words.EYE_HEIGHT, person.name, off, AT_MOST, lights.height / 2, words.EYE_LEVEL)
    side = beside(vanity)
    if side:
        yield from _from_to(words.APART, words.LAMPS, side * 2, (APART_LEAST, APART_MOST), words.BOOK)


def _zone(tub: Tub, low: Length) -> Check:
    """A lamp is out of the zone where it is far enough across, or high enough above the rim."""
    if tub.off >= ZONE_ACROSS:
        return check(words.ZONE_ACROSS, words.HANGING, tub.off, AT_LEAST, ZONE_ACROSS, words.ZONE)
    return check(words.ZONE_ABOVE, words.HANGING, low - tub.rim, AT_LEAST, ZONE_ABOVE, words.ZONE)


def _counter(vanity: Vanity, bottom: Length) -> Iterator[Check]:
    if vanity.seated:
        yield check(words.SEATED_COUNTER, words.SEATED, vanity.counter, AT_MOST, SEATED_COUNTER, words.ADA_LAVATORY)
        yield check(words.SEATED_MIRROR, words.SEATED, bottom, AT_MOST, SEATED_MIRROR, words.ADA_MIRROR)
    else:
        yield from _from_to(words.COUNTER, words.STANDING, vanity.counter, (COUNTER_LEAST, COUNTER_MOST), words.BATH)
    knees = vanity.knees
    if knees:
        yield check(words.KNEES, words.KNEES_HIGH, knees.height, AT_LEAST, KNEE_HEIGHT, words.ADA_KNEES)
        yield check(words.KNEES, words.KNEES_DEEP, knees.depth_high, AT_LEAST, KNEE_DEEP, words.ADA_KNEES)
        yield check(words.KNEES, words.TOES_DEEP, knees.depth_low, AT_LEAST, TOE_DEEP, words.ADA_KNEES)


def _from_to(what: Measure, about: str, found: Length, limits: tuple[Length, Length], source: str) -> Iterator[Check]:
    least, most = limits
    yield check(what, about, found, AT_LEAST, least, source)
    yield check(what, about, found, AT_MOST, most, source)
