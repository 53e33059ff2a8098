"""What the drawing of a run, an overhang, a wall or a bank shows and what of it is not to scale; the sizes beside it by
their names. Pure."""

from collections.abc import Iterable

from portal.words.drawn.layout_words import carried_by
from portal.words.lists import listed
from portal.words.plurals import counted

SEAM = "The top seen from above, its front edge at the bottom."
OVERHANG = "The top seen from above, the edge that reaches out at the bottom."
LINE = "The wall seen from in front. Not to scale up and down: only distances along the wall are."
PULLS = "The fronts seen from in front. Not to scale: how thick a pull is drawn."
VANITY = "The wall seen from in front, from the finished floor up. Not to scale: how wide counter and tap are drawn."
DOTTED_WIDTHS = "Nor is the width of what is dotted: it was not given."
DOTTED_CUTOUTS = (
    "Not to scale: what is dotted. Its depth or the radius of its corners was not given, so this sheet does not cut "
    "it.")
DOTTED_BRACKETS = "Not to scale: how wide brackets and seats are drawn."

LENGTH, DEPTH, WIDTH, THICKNESS = "Length", "Depth, front to back", "Width, overhang included", "Thickness"
CORNER, OVERHANG_DEPTH, BRACKETS, PROFILE = "Radius of its corners", "Past the cabinets", "Brackets", "Edge profile"
PIECE, CUTOUT, SINK, ROOM, CABINET, WINDOW = (
    "Piece", "Cut-out", "Width of the sink", "Room for its clips", "Cabinet, inside", "Window")
LEFT_END, FRONT_EDGE, LEVEL, NO_WINDOW = "the left end", "the front edge", "level", "no window"
NO_BRACKETS, SQUARE = "none: nothing stands under it", "square"
NOT_GIVEN, NOT_GIVEN_CUTOUT = "not given: ask before the edge is cut", "not given: ask before it is cut"
MATERIAL, WEIGHT = "Material", "Weight"

FOUND_RUN = ("Room for it, along the back", "Room for it, along the front", "Depth of the cabinets")
FOUND_OVERHANG = ("Length of the cabinets", "Width of the cabinets", "Out of level, corner to corner")
SASH, FREE_COUNTER = "Lower edge of the sash, above the floor", "Counter, end to end"
COUNTER, SPLASH, TAP = "Counter, above the floor", "Splash, above the floor", "Tap, above the floor"
GLASS, GLASS_WIDTH, FRAME, LAMPS = "Height of the glass", "Width of the glass", "Frame around it", "Lamps"
NOT_SAID, NO_LAMPS = "not given", "none are decided"
FOUND_VANITY = ("Height of the counter", "The mirror in hand, its glass, up and down", "Height of the ceiling")
FOUND_LINE = ("Cabinet, inside, left to right", "The sink in hand, left to right", "Middle of the window")


def eyes_of(name: str) -> str:
    """Head how high the eyes of one are."""
    return f"Eyes of {name}, above the floor"


def asked_on(least: str, side: str) -> str:
    """Say what is asked to be left of a counter. `side`: `on the left`, `on the right`."""
    return f"{least} {side}"


def leaving(ends: str, asked: Iterable[str]) -> str:
    """Say from where to where a counter reaches, and what is asked to be left of it."""
    least = listed(asked)
    return f"{ends}; asked beside the sink: {least}" if least else ends


def lamps(count: int, height: str) -> str:
    """Say how many lamps there are, and how high each is."""
    return f"{counted(count, 'lamp')}, {height} high"


def of_piece(number: int) -> str:
    """Name a piece, counted from the left."""
    return f"{PIECE} {number}"


def piece(length: str, weight: str) -> str:
    """Say how long a piece is, what it weighs at most and who carries it."""
    return f"{length} long, {weight}"


def weight(most: str, people: int | None) -> str:
    """Say the most that something weighs, and who carries it."""
    return f"at most {most}; {carried_by(people)}"


def left_between(sides: str) -> str:
    """Name a strip of stone that is left. `sides`: between what, such as `sink and front edge`."""
    return f"Strip between {sides}"


def cutout(name: str) -> str:
    """Name a cut-out."""
    return f"{CUTOUT}: {name.removeprefix('the ')}"


def front_to_back(cutout: str) -> str:
    """Head where a cut-out is from front to back. `cutout`: as `cutout` names it."""
    return f"{cutout}, front to back"


def corners(cutout: str) -> str:
    """Head the radius of the corners of a cut-out. `cutout`: as `cutout` names it."""
    return f"{cutout}, corner radius"


def begins(at: str, where: str) -> str:
    """Say where something begins of which nobody gave how deep it is."""
    return f"begins {at} from {where}; how deep it is was {NOT_GIVEN_CUTOUT}"


def deep(depth: str) -> str:
    """Say how deep something is of which nobody gave where it begins."""
    return f"{depth} deep; where it begins was {NOT_GIVEN_CUTOUT}"


def between(left: str, right: str, where: str) -> str:
    """Say from where to where something reaches."""
    return f"{left} to {right} from {where}"


def brackets(count: int, reach: str, apart: str | None) -> str:
    """Say how many brackets there are, how far they reach, and how far apart they stand at most; None for a single
    one."""
    said = f"{counted(count, 'bracket')}, {reach} out under the top"
    return f"{said}, at most {apart} apart" if apart else said
