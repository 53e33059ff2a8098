"""All that is said of a center line: its title and effects, its checks, its drawing and its sheet."""

from portal.layouts.centerline.line import Line, Rule
from portal.layouts.check import GEOMETRY, Advice, Check, Measure
from portal.layouts.layout import each_mend, verdict
from portal.layouts.length import Length

_TITLES = {
    Rule.WINDOW: "On the window", Rule.CABINET: "On the cabinet",
    Rule.BOTH: "On the window and the cabinet, which agree", Rule.BETWEEN: "Between window and cabinet",
    Rule.NEAR_WINDOW: "As near the window as the sink can come",
    Rule.NEAR_CABINET: "As near the cabinet as the sink can come",
}  # fmt: skip

ROOM_BESIDE = Measure("centerline.room-beside")
LEFT, RIGHT = "left side of the cabinet", "right side of the cabinet"
MARKS = "center line of the sink", "left side of the sink", "right side of the sink"
WINDOW, CABINET, SINK, SHEET = "window", "cabinet", "sink", "Setting-out sheet"


def title(line: Line) -> str:
    """Tell it apart by what it lines up with."""
    return _TITLES[line.rule]


def effects(line: Line) -> tuple[str, ...]:
    """Say how far off the other centers the sink is, and what is left beside it."""
    return (*_beside(WINDOW, line.off_window), *_beside(CABINET, line.off_cabinet),
            *(_left_over(each) for each in line.checks), *_landing(line))


def cannot_be_undone(line: Line) -> str:
    """Say that the cut stays."""
    return "Once the top is cut, the sink and the faucet can move only by a hair."


def reason(line: Line) -> str:
    """Say why it ranks where it does: the eye sees the window first."""
    off = line.off_window
    if off is None:
        return verdict(line, "Fits, and there is no window to line up with.")
    if not off.mm:
        return verdict(line, "Fits, and the eye goes to the window first.")
    return verdict(line, f"Fits, {abs(off).shown().text} off the window, which the eye sees first.")


def advice(line: Line) -> tuple[Advice, ...]:
    """Say between which centers the sink fits, and whether window and cabinet agree."""
    wall = line.wall
    least, most = wall.room
    where = f"from {least.shown().text} to {most.shown().text}" if least != most else f"only at {least.shown().text}"
    said = [Advice(f"The sink fits with its center {where}, measured from {wall.datum}.", wall.source)]
    if not wall.fits:
        said = [Advice(f"The sink fits nowhere in this cabinet: with its clips it is {(least - most).shown().text} too "
                       "wide. Choose a narrower sink or a wider cabinet.", GEOMETRY)]
    if wall.window and wall.window.center == wall.cabinet.center:
        said.append(Advice("Window and cabinet agree: there is one line for all.", GEOMETRY))
    elif wall.window:
        apart = abs(wall.window.center - wall.cabinet.center)
        said.append(Advice(f"Window and cabinet are {apart.shown().text} apart. The eye goes to the window first: "
                           "where the sink allows it, it goes there."))
    return tuple(said)


def not_checked(line: Line) -> tuple[str, ...]:
    """Name what could not be checked because it was not given."""
    return ()


def mends(line: Line) -> tuple[str, ...]:
    """Say what would make it pass."""
    return each_mend(line)


def _landing(line: Line) -> tuple[str, ...]:
    """The free counter beside the sink, for wet dishes."""
    counter = line.wall.counter
    if counter is None:
        return ()
    left, right = line.sides[0] - counter.left, counter.right - line.sides[1]
    return (f"Counter beside it: {left.shown().text} on the left, {right.shown().text} on the right.",)


def _left_over(room: Check) -> str:
    if room.found.mm < 0:
        return f"It runs {(-room.found).shown().text} into the {room.about}."
    lacking = "" if room.ok else f", {room.lacks} too little for its clips"
    return f"It leaves {room.found.shown().text} at the {room.about}{lacking}."


def _beside(name: str, off: Length | None) -> tuple[str, ...]:
    if off is None:
        return ()
    if not off.mm:
        return (f"The sink is on the center of the {name}.",)
    side = "right" if off.mm > 0 else "left"
    return (f"The sink is {abs(off).shown().text} {side} of the center of the {name}.",)


def drawing(line: Line) -> str:
    """Give the drawing its title."""
    return f"Center line of the sink: {title(line)}"


def datum(line: Line) -> str:
    """Name the datum where the drawing has room for a few letters."""
    return line.wall.datum.removeprefix("the ")


def off_the(off: Length, name: str) -> str:
    """Say at a dimension how far the line is off another center."""
    return f"{abs(off).shown().text} off the {name}"


def description(line: Line) -> str:
    """Say all that the drawing shows, then the effects."""
    seen = "window above, " if line.wall.window else ""
    where = f"The center line is {line.at.shown().text} from {line.wall.datum}."
    view = f"The wall from in front: {seen}cabinet and sink below. Only distances along the wall are to scale."
    return " ".join([view, where, *effects(line)])
