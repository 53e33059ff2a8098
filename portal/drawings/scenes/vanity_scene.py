"""Heights over a vanity as a drawing: the wall from in front, the eyes of those who stand there dashed."""

from collections.abc import Iterator

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.lengths import mm
from portal.drawings.scenes.scene import Dimension, Item, Label, Line, Rect, Scene, Side
from portal.layouts.vanity import words
from portal.layouts.vanity.layout import VanityLayout
from portal.layouts.vanity.placing import Light
from portal.layouts.vanity.sight import Person

# Widths in mm only for the eye, where none was given; what has such a width lies on REFERENCE, and the words say so.
_MIRROR, _LAMP, _TAP = 600.0, 120.0, 40.0
_NAMES_APART = 120.0  # so high is a name, at the size of a phone
_BESIDE = 150.0  # of the counter, past mirror and lamps


def vanity_scene(layout: VanityLayout) -> Scene:
    """Draw one way in mm: x from the middle of the mirror to the right, y from the finished floor."""
    half = _half(layout)
    items: list[Item] = [*_counter(layout, half), *_mirror(layout), *_lamps(layout), *_eyes(layout, half),
                         *_room(layout, half), *_heights(layout, half)]
    return Scene(words.drawing(layout), words.description(layout), tuple(items))


def _glass_half(layout: VanityLayout) -> float:
    width = layout.vanity.mirror.width
    return (mm(width) if width else _MIRROR) / 2


def _lamp_width(layout: VanityLayout) -> float:
    lights = layout.vanity.lights
    return mm(lights.width) if lights and lights.width else _LAMP


def _lamp_side(layout: VanityLayout) -> float:
    """From the middle of the mirror to the middle of a lamp beside it."""
    mirror, lights = layout.vanity.mirror, layout.vanity.lights
    off = mm(lights.off_mirror) if lights else 0.0
    return _glass_half(layout) + mm(mirror.frame) + off + _lamp_width(layout) / 2


def _half(layout: VanityLayout) -> float:
    """Half of the counter as drawn, or of the wall where its width is known."""
    wall = layout.vanity.wall
    drawn = _glass_half(layout) + mm(layout.vanity.mirror.frame)
    if layout.light is Light.BESIDE:
        drawn = _lamp_side(layout) + _lamp_width(layout) / 2
    return max(mm(wall) / 2 if wall else 0.0, drawn + _BESIDE)


def _counter(layout: VanityLayout, half: float) -> Iterator[Item]:
    vanity = layout.vanity
    counter, splash, tap = mm(vanity.counter), mm(vanity.splash_top), mm(vanity.tap_top)
    yield Line(Layer.WALL, -half, 0, half, 0)
    yield Rect(Layer.CABINET, -half, 0, 2 * half, counter)
    yield Label(-half * 0.5, counter, words.COUNTERTOP, Side.BELOW)
    if splash > counter:
        yield Line(Layer.CLEARANCE, -half, splash, half, splash)
    yield Rect(Layer.PULL, -_TAP / 2, counter, _TAP, tap - counter)
    yield Label(_TAP, (counter + tap) / 2, words.TAP, Side.RIGHT)


def _mirror(layout: VanityLayout) -> Iterator[Item]:
    mirror = layout.vanity.mirror
    half, frame = _glass_half(layout), mm(mirror.frame)
    low, high = mm(layout.bottom), mm(layout.top)
    layer = Layer.FRONT if mirror.width else Layer.REFERENCE
    yield Rect(layer, -half, low, 2 * half, high - low)
    yield Label(0, high - 0.1 * (high - low), words.MIRROR)
    if frame:
        yield Rect(layer, -half - frame, low - frame, 2 * (half + frame), high - low + 2 * frame)


def _lamps(layout: VanityLayout) -> Iterator[Item]:
    lights = layout.vanity.lights
    if lights is None or layout.lamp is None:
        return
    wide, high, middle = _lamp_width(layout), mm(lights.height), mm(layout.lamp)
    layer = Layer.FLANGE if lights.width and (layout.lamp_side or layout.light is Light.ABOVE) else Layer.REFERENCE
    sides = [-_lamp_side(layout), _lamp_side(layout)] if layout.light is Light.BESIDE else [0.0]
    for x in sides:
        yield Rect(layer, x - wide / 2, middle - high / 2, wide, high)
        yield Line(Layer.CENTER_LINE, x - wide, middle, x + wide, middle)


def _eyes(layout: VanityLayout, half: float) -> Iterator[Item]:
    """Dashed across the mirror, named at the end; a short mark for each crown."""
    for person in layout.vanity.people:
        eyes, crown = mm(person.eyes), mm(person.crown)
        yield Line(Layer.UNDERNEATH, -half, eyes, half, eyes)
        yield Line(Layer.UNDERNEATH, half - _BESIDE / 2, crown, half, crown)
    for group in _near(layout.vanity.people):
        yield Label(half, sum(mm(one.eyes) for one in group) / len(group), words.eye_line(group), Side.RIGHT)


def _near(people: tuple[Person, ...]) -> list[list[Person]]:
    """Those whose eyes are so near each other that their names would stand in one another: one label for them, the
    highest first."""
    groups: list[list[Person]] = []
    for person in sorted(people, key=lambda one: one.eyes, reverse=True):
        if groups and mm(groups[-1][-1].eyes) - mm(person.eyes) < _NAMES_APART:
            groups[-1].append(person)
        else:
            groups.append([person])
    return groups


def _room(layout: VanityLayout, half: float) -> Iterator[Item]:
    """The ceiling, and the sash that swings in."""
    vanity = layout.vanity
    if vanity.ceiling:
        yield Line(Layer.WALL, -half, mm(vanity.ceiling), half, mm(vanity.ceiling))
        yield Label(half, mm(vanity.ceiling), words.CEILING, Side.RIGHT)
    if vanity.sash:
        edge = mm(vanity.sash.edge)
        yield Line(Layer.SUPPORT, -half, edge, half, edge)
        yield Label(-half, edge, words.SASH_EDGE, Side.LEFT)


def _heights(layout: VanityLayout, half: float) -> Iterator[Item]:
    """From the floor: counter, both edges of the glass, the lamps; across: mirror and lamps where they are known."""
    vanity = layout.vanity
    for at in (vanity.counter, layout.bottom, layout.top, *([layout.lamp] if layout.lamp else [])):
        yield Dimension(-half, 0, -half, mm(at), at.marked, Side.LEFT)
    if vanity.mirror.width:
        glass, low = _glass_half(layout), mm(layout.bottom)
        yield Dimension(-glass, low, glass, low, vanity.mirror.width.marked, Side.BELOW)
    if layout.lamp_side and layout.lamp:
        side, middle = mm(layout.lamp_side), mm(layout.lamp)
        yield Dimension(-side, middle, side, middle, (layout.lamp_side * 2).marked, Side.ABOVE)
