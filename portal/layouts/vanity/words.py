"""All that is said of heights over a vanity: title and effects, checks, the drawing and its sheet."""

from collections.abc import Iterator, Sequence

from portal.layouts.check import Advice, Measure
from portal.layouts.layout import each_mend, verdict
from portal.layouts.length import Length
from portal.layouts.vanity.dimensions import Vanity
from portal.layouts.vanity.heights import Heights
from portal.layouts.vanity.mending import Change
from portal.layouts.vanity.placing import Hang, Light
from portal.layouts.vanity.sight import REFLECTION, Person
from portal.words.capitals import first_upper
from portal.words.lists import listed
from portal.words.plurals import counted

BATH = "NKBA Bathroom Planning Guidelines"
EYE_LEVEL = f"{BATH}: at eye level, here between the ends of the lamp"
ADA_LAVATORY, ADA_MIRROR = "2010 ADA Standards, 606.3", "2010 ADA Standards, 603.3"
ADA_KNEES = "2010 ADA Standards, 306.3"
ZONE, RECEPTACLE = "NEC 410.10(D)", "NEC 210.52(D) and 210.8(A)(1)"
BOOK = "S. B. Hillstrom, Design Ideas for Bathrooms, as a trade magazine quotes it"
TRADE = "three trade pages, which agree"

CROWN, EYES, DOWN_TO = Measure("vanity.crown"), Measure("vanity.eyes"), Measure("vanity.down-to")
SIGHTS = (CROWN, EYES, DOWN_TO)
ABOVE_SPLASH, ABOVE_TAP, SASH = Measure("vanity.above-splash"), Measure("vanity.above-tap"), Measure("vanity.sash")
UNDER_CEILING, ON_WALL, TO_LIGHT = Measure("vanity.ceiling"), Measure("vanity.wall"), Measure("vanity.to-light")
LAMP_ABOVE_SPLASH = Measure("vanity.lamp-above-splash")
LAMP_HEIGHT, EYE_HEIGHT, APART = Measure("vanity.lamp-height"), Measure("vanity.eye-height"), Measure("vanity.apart")
ZONE_ACROSS, ZONE_ABOVE = Measure("vanity.zone-across"), Measure("vanity.zone-above")
COUNTER, SEATED_COUNTER = Measure("vanity.counter"), Measure("vanity.seated-counter")
SEATED_MIRROR, KNEES = Measure("vanity.seated-mirror"), Measure("vanity.knees")

MIRROR, LAMP, LAMPS, HANGING, ACROSS, OVER_TAP = "mirror", "lamp", "lamps", "lamp that hangs", "mirror and lamps", "tap"
SEATED, STANDING = "for somebody seated", "for who stands at it"
KNEES_HIGH, KNEES_DEEP, TOES_DEEP = "height under the front", "depth at 27 in", "depth at 9 in"
FLOOR, MIRROR_MIDDLE = "finished floor", "middle of the mirror"
GLASS_BOTTOM, GLASS_TOP, LAMP_MIDDLE = "lower edge of the glass", "upper edge of the glass", "middle of the lamp"
SHEET, CEILING, COUNTERTOP, TAP, SASH_EDGE = "Setting-out sheet", "ceiling", "counter", "tap", "sash"

_HANGS = {
    Hang.MIDDLE: "Mirror in the middle of what all need", Hang.CROWN: "Mirror as low as the tallest allows",
    Hang.DOWN: "Mirror as high as the lowest look allows", Hang.LOW: "Mirror right above the splash",
    Hang.LEAST: "No more glass than all need", Hang.TALL: "Glass from the splash up",
}  # fmt: skip
_LIGHTS = {Light.BESIDE: ", lamps beside it", Light.ABOVE: ", light above it", Light.NONE: ""}


def title(layout: Heights) -> str:
    """Tell it apart by how the mirror hangs and where the lamps are."""
    return f"{_HANGS[layout.hang]}{_LIGHTS[layout.light]}"


def effects(layout: Heights) -> tuple[str, ...]:
    """Say from where to where the glass goes, what each one sees, and where the lamps are."""
    glass = f"The glass goes from {_said(layout.bottom)} to {_said(layout.top)} above the floor."
    return (glass, *(_sees(layout, person) for person in layout.vanity.people), *_lamps(layout))


def _sees(layout: Heights, person: Person) -> str:
    name = first_upper(person.name)
    if layout.bottom > person.eyes:
        over = layout.bottom - person.eyes
        return f"{name} does not see into it: the glass begins {_said(over)} above the eyes."
    down, up = person.sees(layout.bottom), person.sees(layout.top)
    low = f"down to {_said(down)} above the floor" if down.mm > 0 else "down to the floor"
    if up >= person.crown:
        return f"{name} sees the whole head and {low}."
    return f"{name} sees {low}, and all but the top {_said(person.crown - up)} of the head."


def _lamps(layout: Heights) -> Iterator[str]:
    if layout.lamp is None:
        return
    if layout.light is Light.ABOVE:
        yield f"The light is above the mirror, its middle {_said(layout.lamp)} above the floor."
        return
    apart = f", {_said(layout.lamp_side * 2)} apart" if layout.lamp_side else ""
    yield f"The lamps are beside the mirror{apart}, their middles {_said(layout.lamp)} above the floor."
    if layout.not_at_eyes:
        yield f"They are not at eye height for all: their middles are {_off_eyes(layout, layout.lamp)}."


def _off_eyes(layout: Heights, lamp: Length) -> str:
    return listed([f"{_said(abs(lamp - one.eyes))} {'above' if lamp > one.eyes else 'below'} the eyes of {one.name}"
                   for one in layout.not_at_eyes])


def cannot_be_undone(layout: Heights) -> str:
    """Say that holes in tile and boxes in a wall stay."""
    holes = "Holes in tile stay."
    return f"{holes} The boxes for the lamps are set before the wall is closed." if layout.lamp else holes


def reason(layout: Heights) -> str:
    """Say what speaks for it."""
    lamps = {
        Light.BESIDE: "the lamps beside the mirror light the face from both sides",
        Light.ABOVE: "the light above the mirror leaves the wall beside it free", Light.NONE: "no lamps are decided",
    }[layout.light]  # fmt: skip
    all_see = not any(check.what in SIGHTS for check in layout.noted)
    serves = "all see what they ask for; " if all_see else ""
    return verdict(layout, f"Fits; {serves}{lamps}.")


def advice(layout: Heights) -> tuple[Advice, ...]:
    """Say from where to where the mirror serves all, and what is published of lamps and receptacles."""
    said = [_band(layout.vanity),
            Advice("It does not matter how far from the mirror one stands: one sees no more and no less.", REFLECTION),
            Advice("There is a receptacle within 3 ft of the edge of each basin, with ground-fault protection. It must "
                   "not end up behind the mirror.", RECEPTACLE)]
    if layout.vanity.tub:
        said.append(Advice("Near a tub or shower no lamp hangs within 3 ft across and 8 ft above the rim. A lamp on "
                           "the wall may be there; right over the tub it is marked for damp locations, for wet ones "
                           "where the shower sprays it.", ZONE))
    return tuple(said)


def _band(vanity: Vanity) -> Advice:
    band, height = vanity.band, vanity.mirror.height
    need = f"from {_said(vanity.bottom_needed)} to {_said(vanity.top_needed)} above the floor"
    if band:
        least, most = band
        where = f"anywhere from {_said(least)} to {_said(most)}" if least != most else f"only at {_said(least)}"
        top = "" if height else f" and its upper edge at {_said(vanity.top_needed)} or higher"
        return Advice(f"All see what they ask for with the lower edge of the glass {where} above the floor{top}.",
                      REFLECTION)
    if vanity.lowest > vanity.bottom_needed:
        return Advice(f"No mirror here serves all: that would take glass {need}, and it can’t begin below "
                      f"{_said(vanity.lowest)}. A second mirror elsewhere, or one that tilts, would.", REFLECTION)
    return Advice(f"This mirror is too short to serve all: that takes glass {need}.", REFLECTION)


def not_checked(layout: Heights) -> tuple[str, ...]:
    """Name what could not be checked because it was not given."""
    vanity = layout.vanity
    lights, across = vanity.lights, layout.lamp_side or layout.light is not Light.BESIDE
    missing = {
        "the ceiling over mirror and lamps": vanity.ceiling is None,
        "whether mirror and lamps have room on the wall, across":
            vanity.wall is None or vanity.mirror.width is None or not across,
        "the lamps at the mirror": lights is None,
        "how far apart the lamps are": not across,
        "the zone about a tub": bool(lights and lights.hang and vanity.tub is None),
        "a window over the tap": vanity.sash is None,
        "whether the window and its open sash leave room for mirror and lamps, which reach above its lower edge":
            layout.behind_sash,
        "room for knees": vanity.seated and vanity.knees is None,
    }  # fmt: skip
    return tuple(name for name, is_missing in missing.items() if is_missing)


_MENDS = {
    "tap": "Take a tap that rises {} above the counter.", "lights.held": "Take lamps that are {}.",
    "mirror.height": "Take a mirror with glass {} high.", "lights.height": "Take lamps {} high.",
    "mirror.width": "Take a mirror with glass {} wide.",
    "mirror.bottom": "Hang the mirror lower: its glass begins {} above the floor.",
}  # fmt: skip


def mends(layout: Heights) -> tuple[str, ...]:
    """Say what would make it pass: what to change, all of it; else by how much each check fails."""
    return tuple(_changed(each) for each in layout.changes) or each_mend(layout)


def _changed(change: Change) -> str:
    to = change.to if isinstance(change.to, str) else f"{change.rule} {_said(change.to)}"
    return _MENDS[change.field].format(to)


# What its drawing says, and its sheet.

def drawing(layout: Heights) -> str:
    """Give the drawing its title."""
    return f"Over the vanity: {title(layout)}"


def eye_line(people: Sequence[Person]) -> str:
    """Name the line of the eyes of one, or the lines of several that are near each other, the highest first."""
    return f"{listed([person.name for person in people])}, eyes"


def description(layout: Heights) -> str:
    """Say all that the drawing shows, then the effects."""
    vanity = layout.vanity
    seen = [f"counter {_said(vanity.counter)} high", f"tap up to {_said(vanity.tap_top)}"]
    if vanity.splash.mm:
        seen.append(f"splash up to {_said(vanity.splash_top)}")
    if vanity.sash:
        seen.append(f"sash at {_said(vanity.sash.edge)}")
    if vanity.ceiling:
        seen.append(f"ceiling at {_said(vanity.ceiling)}")
    eyes = ", ".join(f"{person.name} at {_said(person.eyes)}" for person in vanity.people)
    scale = "Heights are to scale" + ("." if vanity.mirror.width else "; widths are not.")
    lamps = f" {counted(vanity.lights.number, 'lamp')}." if vanity.lights else ""
    view = f"The wall from in front: {', '.join(seen)}. Eyes, dashed: {eyes}. {scale}{lamps}"
    return " ".join([view, *effects(layout)])


def _said(length: Length) -> str:
    return length.shown().text
