"""What would make heights over a vanity pass, in numbers: which dimension must change, and to what.

Whoever uses it lays the vanity out again: only what passes then is said to mend it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from portal.layouts.length import Length
from portal.layouts.vanity.dimensions import ON_WALL, Lights, Vanity
from portal.layouts.vanity.placing import Light

MOST = "at most"


@dataclass(frozen=True)
class Change:
    """A field of the dimensions by its dotted path, and what it must be: at most `to`, or the words `to`."""

    field: str
    rule: str
    to: Length | str


def mended(vanity: Vanity, light: Light) -> tuple[Vanity, tuple[Change, ...]]:
    """Change what doesn't hold: the vanity as it would be, and its changes."""
    found: list[Change] = []
    for step in (_lower_tap, _lamp_on_wall, _under_ceiling, _on_wall):
        for change, changed in step(vanity, light):
            found.append(change)
            vanity = changed
    return vanity, tuple(found)


Step = Iterator[tuple[Change, Vanity]]


def _lower_tap(vanity: Vanity, _: Light) -> Step:
    sash = vanity.sash
    if sash and sash.edge - vanity.tap_top < sash.to_tap:
        most = (sash.edge - sash.to_tap - vanity.counter).rounded(up=False)
        if most.mm > 0:
            yield Change("tap", MOST, most), replace(vanity, tap=most)


def _lamp_on_wall(vanity: Vanity, _: Light) -> Step:
    if vanity.lights and vanity.lights.hang and vanity.tub:
        yield Change("lights.held", "", ON_WALL), replace(vanity, lights=replace(vanity.lights, held=ON_WALL))


def _under_ceiling(vanity: Vanity, light: Light) -> Step:
    """A shorter mirror, or a lower lamp: whichever is given and is too much."""
    if vanity.ceiling is None:
        return
    lights, mirror = vanity.lights, vanity.mirror
    over = _lamp_above(lights) if lights and light is Light.ABOVE else Length.of_mm(0)
    glass = (vanity.ceiling - over - mirror.frame - vanity.lowest).rounded(up=False)
    if mirror.height and mirror.height > glass and glass.mm > 0:
        yield Change("mirror.height", MOST, glass), replace(vanity, mirror=replace(mirror, height=glass))
    elif lights and not mirror.height and light is Light.ABOVE:
        yield from _lower_lamp(vanity, lights, vanity.ceiling - vanity.top_needed - mirror.frame - lights.off_mirror)
    elif lights and light is Light.BESIDE:
        yield from _lower_lamp(vanity, lights, vanity.ceiling - vanity.splash_top)


def _lower_lamp(vanity: Vanity, lights: Lights, room: Length) -> Step:
    most = room.rounded(up=False)
    if most.mm > 0 and lights.height > most:
        yield Change("lights.height", MOST, most), replace(vanity, lights=replace(lights, height=most))


def _on_wall(vanity: Vanity, light: Light) -> Step:
    mirror, wall = vanity.mirror, vanity.wall
    taken = wall_taken(vanity, light)
    if wall and mirror.width and taken and taken > wall:
        most = (mirror.width - (taken - wall)).rounded(up=False)
        if most.mm > 0:
            yield Change("mirror.width", MOST, most), replace(vanity, mirror=replace(mirror, width=most))


def wall_taken(vanity: Vanity, light: Light) -> Length | None:
    """Give how much of the wall mirror and lamps take across; None where a width is missing."""
    mirror, lights = vanity.mirror, vanity.lights
    if mirror.width is None:
        return None
    taken = mirror.width + mirror.frame * 2
    if lights is None or light is not Light.BESIDE:
        return taken
    return taken + (lights.off_mirror + lights.width) * 2 if lights.width else None


def _lamp_above(lights: Lights) -> Length:
    return lights.off_mirror + lights.height
